"""The command ``mancary hygrometer``."""

import click

from mancary.book import Book
from mancary.cli.answer import NUMBER, answer, beware, json_option, on_option, the_book, today
from mancary.husbandry.cautions import SALTS
from mancary.husbandry.facts.instruments import Salt, SaltReading
from mancary.husbandry.moments import Moment
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.salt_test import (
    HOW_BASIS,
    NAMES,
    STEPS,
    TRUTHS_AT_C,
    TRUTHS_BASIS,
    WENT_WRONG,
    salt_named,
    salt_truths,
)
from mancary.husbandry.telling import told
from mancary.usecases.hygrometers import Hygrometer, check_hygrometer, hygrometer, hygrometers
from mancary.usecases.pen import Pen


class _Salt(click.ParamType[Salt]):
    """A salt by its formula or its name: NaCl, "table salt"."""

    name = "SALT"

    def convert(self, value: str, param: click.Parameter | None, ctx: click.Context | None) -> Salt:
        if (salt := salt_named(value)) is None:
            known = ", ".join(f"{one} ({name})" for one, name in NAMES.items())
            self.fail(f"{value!r} is no salt of this test; expected {known}.", param, ctx)
        return salt


@click.command("hygrometer")
@click.argument("name", required=False, default="")
@click.option(
    "--salt",
    "salts",
    type=(_Salt(), NUMBER, NUMBER),
    multiple=True,
    metavar="SALT SHOWN °C",
    help="A salt, the humidity shown over it in percent, and °C there. May be said more than once.",
)
@click.option("--note", default="", help="Words of your own.")
@on_option
@click.option("--steps", is_flag=True, help="How the test is done, and what is true over a salt.")
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    name: str,
    salts: tuple[tuple[Salt, float, float], ...],
    note: str,
    on: Moment | None,
    *,
    steps: bool,
    as_json: bool,
) -> None:
    """How far off the hygrometer NAME is; without a NAME, all of them.

    With --salt a test is written down: mancary hygrometer H1 --salt NaCl 78.5 21 --salt MgCl2 36
    21. From then on humidities of the shelves that NAME showed are corrected by it. Begin with
    --steps.
    """
    if steps:
        answer(_guide(), as_json=as_json, words=_steps)
        return
    if (salts or note or on) and not name:
        raise Refusal("Say which hygrometer: mancary hygrometer H1 --salt NaCl 78.5 21.")
    if (note or on) and not salts:
        raise Refusal("Say at least one --salt, with the percent shown and the °C.")
    book = the_book(ctx)
    if salts:
        _check(book, name, salts, note=note, on=on, as_json=as_json)
    elif name:
        one = hygrometer(book, name, on=today(book))
        answer(one, as_json=as_json, words=lambda: "\n".join(_state(one)))
    else:
        every = hygrometers(book, on=today(book))
        answer({"hygrometers": every}, as_json=as_json, words=lambda: _all(every))


def _check(
    book: Book,
    name: str,
    salts: tuple[tuple[Salt, float, float], ...],
    *,
    note: str,
    on: Moment | None,
    as_json: bool,
) -> None:
    readings = [_reading(*one) for one in salts]
    recorded = check_hygrometer(book, name, readings, pen=Pen(), note=note, happened=on or None)
    beware(entry.fact for entry in recorded.entries)
    one = hygrometer(book, name, on=today(book))
    facts = [{"id": entry.id, "kind": entry.fact.kind} for entry in recorded.entries]
    lines = [f"{told(entry.fact)}  [{entry.id[-8:]}]" for entry in recorded.entries]
    answer(
        {"facts": facts, "hygrometer": one},
        as_json=as_json,
        words=lambda: "\n".join([*lines, *_state(one)]),
    )


def _reading(salt: Salt, shown: float, temp_c: float) -> SaltReading:
    if not 1 < shown <= 100:
        raise Refusal(f"{salt} {shown:g}: expected the humidity in percent, like 78.5.")
    return SaltReading(salt=salt, reading_rh=shown / 100, temp_c=temp_c)


def _all(every: tuple[Hygrometer, ...]) -> str:
    if not every:
        return "No hygrometer in this book yet. How one is tested: mancary hygrometer --steps"
    return "\n\n".join("\n".join(_state(one)) for one in every)


def _state(one: Hygrometer) -> list[str]:
    lines = [f"Hygrometer {one.instrument}", *(f"  {line}" for line in one.said)]
    if one.offset is not None and one.slope is not None:
        lines.append(f"  true % = {one.offset * 100:.1f} + {one.slope:.3f} x shown %")
        lines.append(f"  {one.error_said}")
        lines += [f"  {line}" for line in one.shows]
    for point in one.points:
        error = "" if point.standard_error is None else f" ± {point.standard_error * 100:.1f}"
        lines.append(
            f"  {point.salt} at {point.temp_c:g} °C: shown {point.shown_rh * 100:.1f} %, true"
            f" {point.true_rh * 100:.1f} ± {point.true_error * 100:g} %, corrected"
            f" {point.corrected_rh * 100:.1f}{error} %"
        )
    number = f"{one.readings} reading{'s' if one.readings != 1 else ''} of the shelves"
    lines.append(f"  {number} since" if one.points else f"  {number}")
    return lines


def _guide() -> dict[str, object]:
    return {
        "steps": STEPS,
        "at_c": TRUTHS_AT_C,
        "truths": salt_truths(),
        "went_wrong": WENT_WRONG,
        "basis": [HOW_BASIS, TRUTHS_BASIS],
        "cautions": [SALTS],
    }


def _steps() -> str:
    lines = ["The salt test of a hygrometer", ""]
    for number, step in enumerate(STEPS, 1):
        lines += [f"{number}. {step.do}", f"   {step.how}"]
    at = " ".join(f"{temp:>6g}" for temp in TRUTHS_AT_C)
    lines += ["", f"[{HOW_BASIS}]", "", f"{'True humidity in %, at °C':<30}{at}   known to"]
    for one in salt_truths():
        truths = " ".join(f"{rh * 100:>6.1f}" for rh in one.true_rh)
        lines.append(f"{one.salt + ', ' + one.name:<30}{truths}   ± {one.true_error * 100:g}")
    lines += [f"[{TRUTHS_BASIS}]", "", "It went wrong if"]
    lines += [f"  {line}" for line in WENT_WRONG]
    return "\n".join([*lines, "", f"Mind: {SALTS}"])
