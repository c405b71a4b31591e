"""Writes docs/commands.md from the commands themselves, with the words of its own kept here."""

import inspect
from pathlib import Path

import click

from mancary.cli.front import COMMANDS, front

HEAD = """\
# Commands

Every command takes the book before its name: `mancary --book PATH COMMAND …`. Without `--book` the
environment's `MANCARY_BOOK` is used, else a file in the platform's data folder. With `--json` a
command answers as JSON for other programs: keys carry their unit, ranges are 90 % unless they say
otherwise, dates are ISO 8601. This page is written by `tools/commands_page.py`; a test compares it
with the commands.

Exit codes: 0 done and on disk; 1 refused, or a sheet that cannot be read, with a sentence that says what was expected; 2 the command
was typed wrongly; 65 a file is not what it should be, or a seal does not fit; 66 there is no book, or no backup;
73 something stands there already; 74 the disk answered with an error or is full; 75 another program
is writing; 77 the file or its folder may not be written. After anything but 0 nothing was written. With `--json` a refusal
answers `refused` and `exit_code` on the output, and the sentence on the error output. What to mind,
where somebody or a colony can come to harm, is printed on the error output and begins with *Mind*.

A fact is named by its id, or by the last six characters or more of it. Numbers may have a decimal
comma; a moment may be a day, a month or a year.
"""

JSON = {
    "take-in": """\
With `--json` a sheet answers `rows_read`, `rows_understood`, `rows_refused`, `rows_asked`,
`rows_repeated` (the last four add up to the first), `facts`, `refused` (each `row`, `column`,
`value`, `why`) and `asked` (each `row`, `column`, `value`, `why`, `choices`); `row` is the line in
the file, the heading being line 1. A hand-out folder answers `facts_read`, `facts_new`,
`facts_repeated`, `facts_left_out` and `identical`.""",
    "wants": """\
With `--json`: `on`, `invented`, and `boxes` in walking order, each with `box`, `shelf`, `position`,
`species`, `line`, `morph`, `quarantined` and `wants`: `care`, `state` (`late`, `due`, `no_record`,
`later`), `last`, `low_days`, `high_days`, `due`, `latest`, `late_days`, `whose`, `kind`, `source`.""",
    "sheet": """\
With `--json`: `file`, `date`, `boxes`, `cares`, `accepted`, `kept_now`, `accessible`.""",
    "round": """\
With `--json`: `date`, `minutes_offered`, `minutes_needed`, `minutes_planned`, `bound_gap`,
`planned_until`, `tray` (each `item`, `boxes`, `amount`, `unit`, `basis`), `shelves` whose thermometers
are to be read, `stops` in walking order (each `box`, `shelf`, `position`, `species`, `quarantined`,
`apart`, `minutes`, `words` and `tasks`: `care`, `due`, `latest`, `amount`, `unit`, `said`, `why`),
`put_off` (each `box`, `care`, `until`, `late_days`, `risk`), `basis`, `invented`.""",
    "done": """\
With `--json`: `date`, `given`, `skipped`, `left_out`, `seen`, `repeated`, `facts`, `known`,
`plan_was_kept`, and `already`, pairs of box and care that were in the book.""",
    "warmth": """\
With `--json`: `on`, `weeks`, `spells` (each `box`, `shelf`, `species`, `kept_at`, `spell`: `too` `hot`
or `cold`, `after`, `found`, `last`, `looks`, `worst_c`, `past_c`, `going_on`; `at_most_days`,
`what_to_do`), `no_range`, `never_read`, `basis`. `after` is the last look that found nothing.""",
    "vents": """\
With `--json`: `box` (`code`, `litres`, `length_cm`, `width_cm`, `height_cm`, `air_litres`, `damp_share`,
`wall_mm`), `temp_c`, `humidity` 0..1, `air`, `target` (`measure`: `air_changes` a day or `ml_a_week`,
`low`, `high`, `said`, `basis`), `as_it_is` or why not in `as_it_is_not`, `choices` (each `layout`:
`lid`, `both_ends`, `two_heights`; `mm`, `mesh`, `meets`, `gives`, `row_holes`, `one_row_more`,
`vents`), `left_out`, `assumed`, `limits`, `to_know`, `cautions`. What is given has `holes` and
`g_a_day`, `ml_a_week`, `damp_end_rh`, `dry_end_rh`, `air_changes`, each with `_low` and `_high`: not
90 % ranges but what the model may be wrong by before any weighing.""",
    "water": """\
With `--json`: `box`, `on`, `weighings`, `newest_g`, `newest_on`, `newest_mark`, `just_right_g`,
`just_right_on`, `low_mark_g`, `low_mark_is_assumed`, `loss_g_per_day`, `loss_middle_g_per_day`,
`loss_over_days`, `loss_from`, `loss_to`, `loss_can_be_told`, `out_of_date`, `has_run_dry`, `weight_now_g`,
`right_now_g`, `full_g`, `full_middle_g`, `reserve_g`, `days`, `days_open_ended`, `pour_ml`, `pour_middle_ml`, `pour_is_held`,
`too_wet_g`, `model_g_per_day`, `factor`, `factor_range`, `used`, `used_latest`, `full_days`,
`lasts_days`, `said`, `basis`, `questions`. Ranges are `[low, high]`, null where it cannot be told; days
stop at 56.""",
    "away": """\
With `--json`: `leaving`, `back`, `days`, `heat_c`, `boxes` by falling chance (each `box`, `shelf`,
`position`, `species`, `chance_dry` 0..1, `reserve`: `low_days`, `high_days`, `basis`; `water_said`,
`before`), `visits` (each `day` and `boxes`), `rules`, `stand_in`, `basis`, `invented`.""",
    "hygrometer": """\
With `--json`: with a name `instrument`, `last_check`, `check_again`, `is_due`, `offset` and `slope`
(true = offset + slope × shown, humidities 0..1), `lowest_checked`, `highest_checked`, `points` (each `salt`,
`temp_c`, `shown_rh`, `true_rh`, `true_error`, `corrected_rh`, `standard_error`), `shows`, `error_said`,
`readings` of the shelves since the test, `outside` of what it checked, `said`; null where it is not
known. Without a name `hygrometers`, a list of these. With `--salt` `facts` (each `id`, `kind`) and
`hygrometer`. With `--steps` `steps` (each `do`, `how`), `at_c`, `truths` (each `salt`, `name`, `true_rh` by
`at_c`, `true_error`), `went_wrong`, `basis`, `cautions`.""",
    "logger": """\
With `--json`: `shelf`, `instrument`, `dry_run`, `days` (each `state`: `new`, `changed`, `same`, `kept`,
`differs`; `joined`, true where put together with the book's day; `day`: `day`, `readings`, `hours`, `spans`, `lowest_c`, `highest_c`, `mean_c`, `rh_lowest`, `rh_highest`, `rh_mean`,
humidity 0..1, null where not told), `lines`, `readings`, `repeated`, `temperature` and `humidity` (the
columns read), `how`, `faults` (each `row`, `column`, `value`, `why`), `notes`, `ids` of the facts written.""",
    "count": """\
With `--json`: `box`, `ids`, `how`, `counted`, `estimate` (null where the way of counting gives none),
`low` and `high` (null where there is no upper bound), `standard_error`, `range_is` (`95 %` by a
published formula, or `ours`), `basis`, `said`. With `--dry-run` neither `box` nor `ids`.""",
    "watch": """\
With `--json` a list, by falling chance, those that lie apart as starters last: each `box`,
`p_below_5_in_12_weeks` (0..1, five juveniles and adults), `p_fell_last_12_weeks` (0..1, apart from
what was taken; null for a colony younger than that), `size` (`low`, `mid`, `high`, 90 %), `reasons`,
`look_for` (both empty for quiet ones further down), `last_seen` (null where none were), `shelf`,
`species`, `band` (`quiet` under 2 %, `low` to 10 %, `raised` to 30 %, `high`), `apart` (`starter`,
`waiting` or empty), `wait`, `mostly_prior`, `looks`. Nothing that happened after `--as-of` is used.""",
    "grow": """\
With `--json`: `box`, `species`, `on`, `temp_c`, `temp_said`, `grown_as`, `size`, `coming` (each `months`,
`on`, `animals`: `low`, `mid`, `high`, 90 %), `first_young` (`soonest`, `middle`, `latest`, `none_share`,
`said`; null where young were seen or founders are not known), `too_slow` 0..1 or null, `too_slow_said`,
`warmer` (`degrees`, `temp_c`, `animals`, `said`), `room` (`floor_m2`, `floor_said`, `full`: `weeks`,
`chance`, `soonest`, `middle`, `latest` in weeks, `g_m2`; `advice`, `spares`), `surplus` as of
`mancary surplus`, `curve` (`points`: `on`, `low`, `mid`, `high`, `ahead`; `counts`, `events`), `weights`,
`limits`, `invented`. Of a springtail culture: `box`, `species`, `on`, `temp_c`, `temp_said`, `begun`,
`doubling_days` and `doubling_days_seldom_fed` and `first_taking_days` (each from and to, 90 % of what is
believed; null where it never is), `weekly_share` 0..1, `kind`, `basis`, `said`, `invented`.""",
    "surplus": """\
With `--json`: `animals`, `bound` (the name of the bound that binds), `bounds` (each `name`, `animals`,
`said`, least first), `sizes`, `monthly_share` and `growing` 0..1, `basis`. With `--taking`: `animals`,
`within_surplus`, `p_below` and `p_below_untaken` 0..1, `without` and `taken` (each `months`, `on`,
`animals`).""",
    "note": "With `--json`: `facts`, each with its `id`, `kind` and `happened`.",
    "check": "With `--json`: `facts`, `head`, `faults`, `findings`. Exit code 65 where there are faults.",
}


def option_line(option: click.Option) -> str:
    names = ", ".join(f"`{name}`" for name in (*option.opts, *option.secondary_opts))
    kind = "" if option.is_flag else f" {option.make_metavar(click.Context(click.Command('x')))}"
    shown = option.default is not None and option.show_default
    default = f" (else {option.default})" if shown else ""
    return f"- {names}{kind}: {option.help}{default}"


def section(name: str, command: click.Command) -> str:
    context = click.Context(command)
    arguments = [p.make_metavar(context) for p in command.params if isinstance(p, click.Argument)]
    usage = " ".join(["mancary", name, *arguments])
    options = [option_line(p) for p in command.params if isinstance(p, click.Option)]
    words = inspect.cleandoc(command.help or "")
    parts = [f"## `{usage}`", words, "\n".join(options), JSON.get(name, "")]
    return "\n\n".join(part for part in parts if part)


def page() -> str:
    """The whole page."""
    context = click.Context(front)
    sections = []
    for name in sorted(COMMANDS):
        command = front.get_command(context, name)
        assert command is not None
        sections.append(section(name, command))
    return "\n\n".join([HEAD.rstrip(), *sections]) + "\n"


if __name__ == "__main__":
    Path(__file__).parents[1].joinpath("docs", "commands.md").write_text(page(), encoding="utf-8")
