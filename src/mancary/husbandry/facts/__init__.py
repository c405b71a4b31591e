"""Facts: frozen, past participles, never changed once written."""

from mancary.husbandry.facts.base import Fact, Subject
from mancary.husbandry.facts.book import BookOpened, SheetTakenIn, Withdrawn
from mancary.husbandry.facts.boxes import (
    BoxDescribed,
    BoxRetired,
    Quarantined,
    QuarantineEnded,
    Vent,
)
from mancary.husbandry.facts.care import Amount, BatchEnded, BatchMade, CareGiven, CareSkipped
from mancary.husbandry.facts.colonies import Ended, Founded, Joined, Moved, Split, Taken
from mancary.husbandry.facts.instruments import HygrometerChecked, SaltReading
from mancary.husbandry.facts.lines import FigureChosen, LineNamed, LineRenamed, PageOpened
from mancary.husbandry.facts.places import RoomNamed, ShelfPlaced, ShelfRead, Shelved
from mancary.husbandry.facts.rounds import (
    AcceptedEvening,
    AcceptedStop,
    RoundAccepted,
    RoundTimed,
)
from mancary.husbandry.facts.seen import Counted, Noted, Pictured, SeenInBox, Weighed

KINDS: dict[str, type[Fact]] = {
    fact.kind: fact
    for fact in (
        BookOpened,
        SheetTakenIn,
        Withdrawn,
        RoomNamed,
        ShelfPlaced,
        ShelfRead,
        HygrometerChecked,
        Shelved,
        BoxDescribed,
        BoxRetired,
        Quarantined,
        QuarantineEnded,
        LineNamed,
        LineRenamed,
        PageOpened,
        FigureChosen,
        Founded,
        Moved,
        Split,
        Joined,
        Ended,
        Taken,
        CareGiven,
        CareSkipped,
        BatchMade,
        BatchEnded,
        SeenInBox,
        Counted,
        Weighed,
        Noted,
        Pictured,
        RoundAccepted,
        RoundTimed,
    )
}

__all__ = [
    "KINDS",
    "AcceptedEvening",
    "AcceptedStop",
    "Amount",
    "BatchEnded",
    "BatchMade",
    "BookOpened",
    "BoxDescribed",
    "BoxRetired",
    "CareGiven",
    "CareSkipped",
    "Counted",
    "Ended",
    "Fact",
    "FigureChosen",
    "Founded",
    "HygrometerChecked",
    "Joined",
    "LineNamed",
    "LineRenamed",
    "Moved",
    "Noted",
    "PageOpened",
    "Pictured",
    "QuarantineEnded",
    "Quarantined",
    "RoomNamed",
    "RoundAccepted",
    "RoundTimed",
    "SaltReading",
    "SeenInBox",
    "SheetTakenIn",
    "ShelfPlaced",
    "ShelfRead",
    "Shelved",
    "Split",
    "Subject",
    "Taken",
    "Vent",
    "Weighed",
    "Withdrawn",
]
