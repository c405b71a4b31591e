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
    Pictured,
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
from mancary.husbandry.sentences import in_a_row, tell
from mancary.husbandry.words import band_said, figure_said, said


def range_said(low: float | None, high: float | None, unit: str = "") -> str:
    """A range in words, such as "8-12 animals", "at least 50" or "not counted"."""
    tail = tell(" %(unit)s", unit=unit) if unit else ""
    if low is None and high is None:
        return tell("not counted")
    if low is None:
        return tell("at most %(high)g%(tail)s", high=high, tail=tail)
    if high is None:
        return tell("at least %(low)g%(tail)s", low=low, tail=tail)
    return (f"{low:g}" if low == high else f"{low:g}-{high:g}") + tail


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
    return in_a_row(": ", (line, "; ".join(note for note in notes if note))) if any(notes) else line


def _of_animals(fact: Fact) -> str:
    match fact:
        case Founded():
            start = fact.as_written or range_said(fact.founders_low, fact.founders_high)
            known = tell(" with %(start)s", start=start) if start != "not counted" else ""
            return _with(tell("colony %(colony)s founded%(known)s", fact, known=known), fact.note)
        case Moved():
            return _with(
                tell("colony %(colony)s moved from %(from_box)s to %(to_box)s", fact), fact.why
            )
        case Split():
            taken = range_said(fact.taken_low, fact.taken_high)
            return _with(
                tell("%(new_colony)s split off into %(new_box)s (%(taken)s)", fact, taken=taken),
                fact.why,
            )
        case Joined():
            return _with(tell("%(colony)s joined to %(into_colony)s", fact), fact.why)
        case Ended():
            return _with(
                tell("colony %(colony)s ended, cause %(cause)s", fact, cause=said(fact.cause)),
                fact.note,
            )
        case Taken():
            number = "animals" if fact.animals is None else tell("%(animals)s animals", fact)
            return _with(
                tell("%(number)s taken", number=number)
                + (tell(" for %(to)s", fact) if fact.to else ""),
                fact.note,
            )
        case Counted():
            return _with(tell("counted %(fact)s", fact=_number(fact)), fact.note)
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
            words += [tell("from batch %(batch)s", fact)] if fact.batch else []
            return _with(in_a_row(", ", words), fact.note)
        case CareSkipped():
            return _with(tell("%(care)s skipped", care=said(fact.care)), fact.why)
        case SeenInBox():
            number = tell(" %(animals)s", fact) if fact.animals is not None else ""
            share = (
                tell(", about %(share)s of it", share=f"{fact.share:.0%}")
                if fact.share is not None
                else ""
            )
            return _with(said(fact.word) + number + share, fact.note)
        case Weighed():
            mark = tell(", %(mark)s", mark=said(fact.mark)) if fact.mark else ""
            return _with(tell("weighed %(gross_g)g g%(mark)s", fact, mark=mark), fact.note)
        case Noted():
            return tell("note: %(text)s", fact)
        case Pictured():
            return _with(tell("a picture"), fact.note)
    return ""


def _of_places(fact: Fact) -> str:
    match fact:
        case BoxDescribed():
            return _with(tell("box described"), in_a_row(", ", figures_told(fact)), fact.note)
        case Shelved():
            place = tell(", position %(position)s", fact) if fact.position else ""
            return tell("stands on shelf %(shelf)s%(place)s", fact, place=place)
        case BoxRetired():
            return _with(tell("box taken out of use"), fact.why)
        case Quarantined():
            until = tell(" until %(until)s", fact) if fact.until else ""
            return _with(
                tell("quarantine%(until)s, %(why)s", until=until, why=said(fact.why)), fact.note
            )
        case QuarantineEnded():
            return _with(tell("quarantine ended"), fact.note)
        case ShelfPlaced():
            return _with(tell("shelf %(shelf)s placed", fact), fact.note)
        case ShelfRead():
            return _with(_shelf_read(fact), fact.note)
        case HygrometerChecked():
            salts = in_a_row(
                ", ",
                (
                    tell("%(salt)s %(reading_rh).1f %%", one, reading_rh=one.reading_rh * 100)
                    for one in fact.readings
                ),
            )
            return _with(
                tell("hygrometer %(instrument)s checked: %(salts)s", fact, salts=salts), fact.note
            )
        case RoomNamed():
            return _with(tell("room %(room)s", fact), fact.note)
    return ""


def _shelf_read(fact: ShelfRead) -> str:
    words = tell("shelf %(shelf)s: lowest %(lowest_c)g, highest %(highest_c)g °C", fact)
    if fact.rh_lowest is not None and fact.rh_highest is not None:
        ends = dict.fromkeys(f"{rh * 100:.0f}" for rh in (fact.rh_lowest, fact.rh_highest))
        words += tell(", %(all)s %% humidity", all=in_a_row("-", ends))
    return words + (tell(", by %(instrument)s", fact) if fact.instrument else "")


def _of_names(fact: Fact) -> str:
    match fact:
        case LineNamed():
            morph = tell(" '%(morph)s'", fact) if fact.morph else ""
            return _with(
                tell("line %(line)s%(morph)s, bought as %(as_bought)s", fact, morph=morph),
                fact.note,
            )
        case LineRenamed():
            return _with(tell("line now held to be %(species)s, says %(by)s", fact), fact.why)
        case PageOpened():
            return _with(tell("own page for %(name)s in the group %(care_group)s", fact), fact.note)
        case FigureChosen():
            if fact.low is None and fact.high is None:
                return _with(
                    tell("own figure given back: %(figure)s", figure=figure_said(fact.figure)),
                    fact.why,
                )
            figure = range_said(fact.low, fact.high)
            unit = tell(" feeds a week") if fact.figure.endswith("_per_week") else ""
            return _with(
                tell(
                    "own figure: %(figure)s %(figure2)s%(unit)s",
                    figure=figure_said(fact.figure),
                    figure2=figure,
                    unit=unit,
                ),
                fact.why,
            )
        case BatchMade():
            return _with(
                tell(
                    "batch %(batch)s of %(what)s, %(treatment)s",
                    fact,
                    treatment=said(fact.treatment),
                ),
                fact.note,
            )
        case BatchEnded():
            return _with(tell("batch %(batch)s used up", fact), fact.why)
    return ""


def _of_book(fact: Fact) -> str:
    match fact:
        case BookOpened():
            return _with(tell("book opened: %(name)s", fact), fact.note)
        case RoundAccepted():
            first = fact.evenings[0]
            return tell("round of %(day)s accepted, %(stops)s boxes", first, stops=len(first.stops))
        case RoundTimed():
            return tell("the round of %(day)s took %(minutes)g minutes", fact)
        case SheetTakenIn():
            return tell("sheet %(file)s taken in, %(rows_understood)s rows understood", fact)
        case Withdrawn():
            instead = tell(", written anew") if fact.instead else ""
            return _with(tell("withdrawn") + instead, fact.why)
    return ""
