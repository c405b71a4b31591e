"""A fact in a keeper's words, one line each."""

from mancary.husbandry.box_figures import figures_told
from mancary.husbandry.count_told import counted_said
from mancary.husbandry.facts import (
    Amount,
    BatchEnded,
    BatchMade,
    BookOpened,
    BoxDescribed,
    BoxRetired,
    CareGiven,
    CareSkipped,
    Counted,
    Ended,
    Fact,
    FigureChosen,
    Founded,
    HygrometerChecked,
    Joined,
    LineNamed,
    LineRenamed,
    Moved,
    Noted,
    PageOpened,
    Quarantined,
    QuarantineEnded,
    RoomNamed,
    RoundAccepted,
    RoundTimed,
    SeenInBox,
    SheetTakenIn,
    ShelfPlaced,
    ShelfRead,
    Shelved,
    Split,
    Taken,
    Weighed,
    Withdrawn,
)
from mancary.husbandry.words import band_said, figure_said, said


def range_said(low: float | None, high: float | None, unit: str = "") -> str:
    """A range in words, such as "8-12 animals", "at least 50" or "not counted"."""
    tail = f" {unit}" if unit else ""
    if low is None and high is None:
        return "not counted"
    if low is None:
        return f"at most {high:g}{tail}"
    if high is None:
        return f"at least {low:g}{tail}"
    return f"{low:g}{tail}" if low == high else f"{low:g}-{high:g}{tail}"


def amount_said(amount: Amount) -> str:
    """The keeper's own words where there are any, else number and unit."""
    if amount.as_written:
        return amount.as_written
    high = amount.low if amount.high is None else amount.high
    unit = "" if amount.unit == "not_said" else amount.unit
    return range_said(amount.low, high, unit)


def told(fact: Fact) -> str:
    """One line about a fact, without its date."""
    for teller in (_of_animals, _of_work, _of_places, _of_names, _of_book):
        if line := teller(fact):
            return line
    return said(fact.kind)


def _with(line: str, *notes: str) -> str:
    return ": ".join((line, "; ".join(note for note in notes if note))) if any(notes) else line


def _of_animals(fact: Fact) -> str:
    match fact:
        case Founded():
            start = fact.as_written or range_said(fact.founders_low, fact.founders_high)
            known = f" with {start}" if start != "not counted" else ""
            return _with(f"colony {fact.colony} founded{known}", fact.note)
        case Moved():
            return _with(
                f"colony {fact.colony} moved from {fact.from_box} to {fact.to_box}", fact.why
            )
        case Split():
            taken = range_said(fact.taken_low, fact.taken_high)
            return _with(f"{fact.new_colony} split off into {fact.new_box} ({taken})", fact.why)
        case Joined():
            return _with(f"{fact.colony} joined to {fact.into_colony}", fact.why)
        case Ended():
            return _with(f"colony {fact.colony} ended, cause {said(fact.cause)}", fact.note)
        case Taken():
            number = "animals" if fact.animals is None else f"{fact.animals} animals"
            return _with(f"{number} taken" + (f" for {fact.to}" if fact.to else ""), fact.note)
        case Counted():
            return _with(f"counted {_number(fact)}", fact.note)
    return ""


def _number(fact: Counted) -> str:
    if fact.as_written or fact.how in ("not_said", "band"):
        return fact.as_written or (
            band_said(fact.band) if fact.band else range_said(fact.low, fact.high)
        )
    return counted_said(fact)


def _of_work(fact: Fact) -> str:
    match fact:
        case CareGiven():
            words = [said(fact.care)]
            words += [fact.what] if fact.what else []
            words += [amount_said(fact.amount)] if fact.amount else []
            words += [f"from batch {fact.batch}"] if fact.batch else []
            return _with(", ".join(words), fact.note)
        case CareSkipped():
            return _with(f"{said(fact.care)} skipped", fact.why)
        case SeenInBox():
            number = f" {fact.animals}" if fact.animals is not None else ""
            share = f", about {fact.share:.0%} of it" if fact.share is not None else ""
            return _with(f"{said(fact.word)}{number}{share}", fact.note)
        case Weighed():
            mark = f", {said(fact.mark)}" if fact.mark else ""
            return _with(f"weighed {fact.gross_g:g} g{mark}", fact.note)
        case Noted():
            return f"note: {fact.text}"
    return ""


def _of_places(fact: Fact) -> str:
    match fact:
        case BoxDescribed():
            return _with("box described", ", ".join(figures_told(fact)), fact.note)
        case Shelved():
            place = f", position {fact.position}" if fact.position else ""
            return f"stands on shelf {fact.shelf}{place}"
        case BoxRetired():
            return _with("box taken out of use", fact.why)
        case Quarantined():
            until = f" until {fact.until}" if fact.until else ""
            return _with(f"quarantine{until}, {said(fact.why)}", fact.note)
        case QuarantineEnded():
            return _with("quarantine ended", fact.note)
        case ShelfPlaced():
            return _with(f"shelf {fact.shelf} placed", fact.note)
        case ShelfRead():
            return _with(_shelf_read(fact), fact.note)
        case HygrometerChecked():
            salts = ", ".join(f"{one.salt} {one.reading_rh * 100:.1f} %" for one in fact.readings)
            return _with(f"hygrometer {fact.instrument} checked: {salts}", fact.note)
        case RoomNamed():
            return _with(f"room {fact.room}", fact.note)
    return ""


def _shelf_read(fact: ShelfRead) -> str:
    words = f"shelf {fact.shelf}: lowest {fact.lowest_c:g}, highest {fact.highest_c:g} °C"
    if fact.rh_lowest is not None and fact.rh_highest is not None:
        ends = dict.fromkeys(f"{rh * 100:.0f}" for rh in (fact.rh_lowest, fact.rh_highest))
        words += f", {'-'.join(ends)} % humidity"
    return words + (f", by {fact.instrument}" if fact.instrument else "")


def _of_names(fact: Fact) -> str:
    match fact:
        case LineNamed():
            morph = f" '{fact.morph}'" if fact.morph else ""
            return _with(f"line {fact.line}{morph}, bought as {fact.as_bought}", fact.note)
        case LineRenamed():
            return _with(f"line now held to be {fact.species}, says {fact.by}", fact.why)
        case PageOpened():
            return _with(f"own page for {fact.name} in the group {fact.care_group}", fact.note)
        case FigureChosen():
            if fact.low is None and fact.high is None:
                return _with(f"own figure given back: {figure_said(fact.figure)}", fact.why)
            figure = range_said(fact.low, fact.high)
            unit = " feeds a week" if fact.figure.endswith("_per_week") else ""
            return _with(f"own figure: {figure_said(fact.figure)} {figure}{unit}", fact.why)
        case BatchMade():
            return _with(f"batch {fact.batch} of {fact.what}, {said(fact.treatment)}", fact.note)
        case BatchEnded():
            return _with(f"batch {fact.batch} used up", fact.why)
    return ""


def _of_book(fact: Fact) -> str:
    match fact:
        case BookOpened():
            return _with(f"book opened: {fact.name}", fact.note)
        case RoundAccepted():
            first = fact.evenings[0]
            return f"round of {first.day} accepted, {len(first.stops)} boxes"
        case RoundTimed():
            return f"the round of {fact.day} took {fact.minutes:g} minutes"
        case SheetTakenIn():
            return f"sheet {fact.file} taken in, {fact.rows_understood} rows understood"
        case Withdrawn():
            instead = ", written anew" if fact.instead else ""
            return _with(f"withdrawn{instead}", fact.why)
    return ""
