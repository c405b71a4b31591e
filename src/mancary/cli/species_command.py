"""The command ``mancary species``."""

import click

from mancary.cli.answer import answer, json_option, path_of
from mancary.husbandry.how_well import how_well
from mancary.husbandry.telling import range_said, told
from mancary.husbandry.words import figure_said, said
from mancary.usecases.species_page import Found, SpeciesPage, find_species


@click.command("species")
@click.argument("name", nargs=-1, required=True)
@json_option
@click.pass_context
def command(ctx: click.Context, name: tuple[str, ...], *, as_json: bool) -> None:
    """What is known of the species NAME, how well, and what your own boxes say.

    NAME may be a scientific or a trade name, shortened ("P. dilatatus") or misspelt; where it is
    not certain the likely ones are listed and you choose.
    """
    typed = " ".join(name)
    path = path_of(ctx)
    if path.exists():
        from mancary.cli.answer import the_book

        found = find_species(the_book(ctx), typed)
    else:
        found = find_species(None, typed)
    answer(found, as_json=as_json, words=lambda: _words(found))
    if found.page is None and not found.proposals:
        ctx.exit(1)


def _words(found: Found) -> str:
    lines = []
    if found.page is None:
        lines.append(f"{found.typed!r} is not certain to be any page of the handbook.")
    if found.page is None and not found.proposals:
        lines.append(f"For a page of your own: mancary page {found.typed!r} CARE-GROUP")
    for proposal in found.proposals:
        if found.page and proposal.confidence == 1.0:
            continue
        morph = f", {proposal.morph}" if proposal.morph else ""
        lines.append(
            f"{proposal.confidence:.0%} {proposal.name}{morph} (by {proposal.how}; {proposal.slug})"
        )
    for slug, confidence, why in found.groups:
        lines.append(f"{confidence:.0%} care group {slug}: {why}")
    if found.page:
        lines += ["", *_page(found.page)] if lines else _page(found.page)
    return "\n".join(lines)


def _page(page: SpeciesPage) -> list[str]:
    head = f"{page.species.name} {page.authority}".strip()
    group = page.care_group or "not said"
    lines = [head, f"{page.family or 'family not said'}; {page.rank}; care group {group}"]
    names = ", ".join(f"'{one.name}'" for one in page.trade_names)
    lines += [f"In the trade: {names}"] if names else []
    lines += [
        f"Formerly {one.name}, changed by {one.changed_by} ({one.kind})" for one in page.formerly
    ]
    lines += ["", "What is known, and how well"]
    lines += [
        f"  {figure_said(one.name)}: {one.said}  [{how_well(one)}; source {one.source}]"
        for one in page.figures
    ]
    lines += [f"  {figure_said(one)}: not known" for one in page.blank]
    sources = dict.fromkeys((one.source, one.seen) for one in page.figures)
    lines += ["", "Sources", *(f"  {key}: {words}" for key, words in sources)]
    lines += ["", "Rhythms"]
    for one in page.rhythms:
        differs = f" {one.differs}" if one.differs else ""
        lines.append(f"  {said(one.care)}: {one.said}  [{one.kind}]{differs}")
    lines += ["", "Starting, and when new animals come"]
    lines += [
        f"  {_practised(name)}: {one.said}  [{one.kind}]" for name, one in page.practice.items()
    ]
    lines += [f"  {told(one)}" for one in page.own_figures]
    lines += ["", f"Notes: {page.notes}  [{page.rests_on}]"] if page.notes else []
    return [*lines, "", *_own(page)]


_PRACTICE = {
    "quarantine_days": "quarantine",
    "starter_animals": "a starter",
    "starter_box_l": "its box",
    "waiting_days": "keep an empty-looking box damp for",
}


def _practised(name: str) -> str:
    return _PRACTICE.get(name, name.replace("_", " "))


def _own(page: SpeciesPage) -> list[str]:
    if not page.colonies:
        return ["Your own boxes: none of this species in the book."]
    lines = [f"Your own boxes ({len(page.colonies)})"]
    for one in page.colonies:
        young = (
            "first young written down after"
            f" {range_said(one.months_to_young_low, one.months_to_young_high)} months"
            if one.months_to_young_high is not None
            else "no young written down"
        )
        ended = f"; ended {one.ended}, {said(one.cause)}" if one.ended else ""
        lines.append(f"  {one.box}: founded {one.founded}; {young}{ended}")
    return lines
