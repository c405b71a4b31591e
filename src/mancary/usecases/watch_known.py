"""What the book knows of a box on watch: water, warmth, what was new, and who shares its signs."""

from datetime import date, tzinfo
from typing import Final

from mancary.book import Book
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import (
    BoxDescribed,
    CareGiven,
    Fact,
    Founded,
    Moved,
    Shelved,
    Split,
    Taken,
)
from mancary.husbandry.moments import last_day
from mancary.husbandry.order import in_order
from mancary.husbandry.out_of_range import TOO
from mancary.husbandry.register import Register
from mancary.husbandry.sentences import in_a_row, tell
from mancary.husbandry.standing import Standing
from mancary.husbandry.telling import told
from mancary.husbandry.triage import LATELY, Known
from mancary.husbandry.words import said
from mancary.usecases.warmth import Warmth

_SIGNS: Final = (
    "dead", "none_seen", "springtails_gone", "on_the_walls", "stuck_moult", "violet_sheen",
    "smells", "mites",
)  # fmt: skip
"""What one box can share with its neighbours."""
_NEW: Final = frozenset({"substrate_half", "substrate_whole", "leaf_litter", "wood"})
_FRESH: Final = (f"{said('vegetable')}:", f"{said('protein')}:")
_ALIKE_SHOWN: Final = 4


def known_of(
    book: Book,
    register: Register,
    standings: dict[str, Standing],
    box: str,
    warmth: Warmth,
    *,
    on: date,
    zone: tzinfo,
) -> Known:
    """What may tell why the colony of a box fails, as of a day."""
    entries = [
        entry
        for entry in in_order(book.entries_about(f"box:{box}"), zone)
        if last_day(entry.happened, zone) <= on
    ]
    standing = standings.get(box, Standing(box))
    protein = standing.given.get("protein")
    return Known(
        seen={word: last_day(one.happened, zone) for word, one in standing.seen.items()},
        water=_water(book, box, standing, on),
        warmth=_warmth(warmth, box, on),
        changes=_changes(entries, on, zone),
        alike=_alike(book, register, standings, box, entries, on, zone),
        protein=last_day(protein, zone) if protein else None,
    )


def _water(book: Book, box: str, standing: Standing, on: date) -> str:
    if not standing.just_right:
        return ""
    from mancary.usecases.water import water_of

    water = water_of(book, box, on=on)
    if water.too_wet_g:
        return tell(
            "By the scale it is too wet by %(too_wet_g).0f g or more.", too_wet_g=water.too_wet_g[0]
        )
    if water.used is not None and water.used <= on:
        return tell(
            "By the scale its damp end may be used up since %(used)s: weigh and wet it.", water
        )
    return ""


def _warmth(warmth: Warmth, box: str, on: date) -> tuple[str, ...] | None:
    if box in warmth.never_read:
        return None
    return tuple(
        (
            tell(
                "Shelf %(shelf)s was %(too)s: %(worst_c)g °C on %(worst_on)s, still so at"
                " the last look on %(last)s; kept at %(kept_at)s.",
                one,
                too=TOO[one.spell.too],
                last=one.spell.last,
            )
            if one.spell.going_on
            else tell(
                "Shelf %(shelf)s was %(too)s: %(worst_c)g °C on %(worst_on)s, last seen so"
                " on %(last)s; kept at %(kept_at)s.",
                one,
                too=TOO[one.spell.too],
                last=one.spell.last,
            )
        )
        for one in warmth.spells
        if one.box == box and on - one.spell.last <= LATELY
    )


def _changes(entries: list[Entry], on: date, zone: tzinfo) -> list[tuple[date, str]]:
    found = []
    for entry in entries:
        day = last_day(entry.happened, zone)
        if on - LATELY <= day and (words := _change(entry.fact)):
            found.append((day, words))
    fresh = [one for one in found if one[1].startswith(_FRESH)]
    return [one for one in found if one not in fresh[:-1]]  # of fresh food the last is enough


def _change(fact: Fact) -> str:
    match fact:
        case CareGiven(care=care, batch=batch) if care in _NEW:
            return (
                tell("%(care)s from batch %(batch)s", care=said(care), batch=batch)
                if batch
                else said(care)
            )
        case CareGiven(care="vegetable" | "protein" as care, what=what) if what:
            return tell("%(care)s: %(what)s", care=said(care), what=what)
        case Moved() | Split() | Taken() | Founded():
            return told(fact)
        case Shelved(shelf=shelf):
            return tell("put on shelf %(shelf)s", shelf=shelf)
        case BoxDescribed(vents=vents) if vents:
            return tell("vents changed")
    return ""


def _alike(
    book: Book,
    register: Register,
    standings: dict[str, Standing],
    box: str,
    entries: list[Entry],
    on: date,
    zone: tzinfo,
) -> tuple[str, ...]:
    shelf = register.boxes[box].shelf if box in register.boxes else ""
    on_shelf = [one.code for one in register.boxes.values() if shelf and one.shelf == shelf]
    found = []
    if words := _signs_of(standings, on_shelf, box, on - LATELY, zone):
        found.append(tell("On the same shelf %(shelf)s: %(words)s.", shelf=shelf, words=words))
    batches = {
        entry.fact.batch: last_day(entry.happened, zone)
        for entry in entries
        if isinstance(entry.fact, CareGiven)
        and entry.fact.batch
        and on - last_day(entry.happened, zone) <= LATELY
    }
    for batch, day in batches.items():
        others = {
            entry.fact.box
            for entry in book.entries_about(f"batch:{batch}")
            if isinstance(entry.fact, CareGiven)
        }
        if words := _signs_of(standings, sorted(others), box, day, zone):
            found.append(
                tell("Given the same batch %(batch)s: %(words)s.", batch=batch, words=words)
            )
    return tuple(found)


def _signs_of(
    standings: dict[str, Standing], boxes: list[str], box: str, since: date, zone: tzinfo
) -> str:
    told_of = []
    for code in boxes:
        standing = standings.get(code)
        if code == box or standing is None:
            continue
        lately = [
            said(word)
            for word in _SIGNS
            if word in standing.seen and last_day(standing.seen[word].happened, zone) >= since
        ]
        if lately:
            told_of.append(tell("%(code)s %(all)s", code=code, all=in_a_row(", ", lately)))
    more = len(told_of) - _ALIKE_SHOWN
    return in_a_row("; ", told_of[:_ALIKE_SHOWN]) + (
        tell("; and %(more)s more", more=more) if more > 0 else ""
    )
