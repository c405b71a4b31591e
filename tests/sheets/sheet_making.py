"""Makes sheets of the same content in many hands: other headings, order, signs, encodings, dates.

All content is invented.
"""

import csv
import io
import random
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from babel.dates import format_date
from hypothesis import strategies as st

SPECIES = (
    "Porcellio scaber",
    "Armadillidium vulgare",
    "Trichoniscus pusillus",
    "Folsomia candida",
    "Cubaris murina",
    "Oniscus asellus",
)
LAST_DAY = date(2026, 10, 31)

BOX_HEADINGS = {
    "box": ("Box", "box no.", "TUB", "Container", "Låda", "Behälter", "Box-Nr", "Code"),
    "species": ("Species", "Latin name", "Art", "Isopod", "Tierart", "What species"),
    "morph": ("Morph", "Colour", "Färg", "Farbform", "color"),
    "since": ("Since", "Founded", "Start date", "Startad", "Gegründet", "Acquired", "since when"),
    "count": ("How many", "Count", "Antal", "Anzahl", "qty", "Population"),
    "litres": ("Litres", "Volume (L)", "Size", "Volym", "Volumen", "liters", "Volume in litres"),
    "shelf": ("Shelf", "Rack", "Hylla", "Regal", "Location"),
    "damp": ("Damp part", "Moist share", "damp %", "Fuktig del", "Feuchter Teil", "wet part"),
    "vents": ("Holes", "Vents", "Ventilation", "Hål", "Löcher"),
    "protein": ("Protein/wk", "Protein per week", "protein / vecka", "Eiweiß pro Woche"),
    "remarks": ("Remarks", "Notes", "Anmärkning", "Bemerkungen", "comments"),
}
JOURNAL_HEADINGS = {
    "date": ("Date", "Day", "When", "Datum", "Tag", "Dag"),
    "box": BOX_HEADINGS["box"][:-1],
    "what": ("What", "Task", "Action", "Vad", "Was", "What was done", "Åtgärd"),
    "amount": ("Amount", "How much", "Mängd", "Menge", "Dose"),
    "remarks": BOX_HEADINGS["remarks"],
}
WORKS = {
    "mist": ("mist", "Misted", "sprayed", "duschade", "besprüht"),
    "vegetable": ("veg", "vegetables", "Grönsaker", "Gemüse"),
    "protein": ("protein", "Protein feed", "Eiweiß"),
    "leaf_litter": ("leaves", "leaf litter", "Löv", "Laub", "leaves added"),
    "calcium": ("calcium", "cuttlebone", "kalk", "Sepiaschale"),
}
AMOUNTS = {"mist": "mL", "vegetable": "g", "protein": "g", "leaf_litter": "L", "calcium": "g"}
NAMED = ("d MMM yyyy", "d MMMM yyyy", "MMMM d, yyyy")


@dataclass(frozen=True)
class Hand:
    """How one keeper writes."""

    seed: int
    delimiter: str
    encoding: str
    decimal: str
    dates: str
    language: str

    def pick(self, what: str, among: Sequence[str]) -> str:
        return random.Random(f"{self.seed}{what}").choice(among)

    def number(self, value: float) -> str:
        return f"{value:g}".replace(".", self.decimal)

    def day(self, day: date) -> str:
        if self.dates in NAMED:
            return format_date(day, self.dates, self.language)
        return day.strftime(self.dates)

    def bytes_of(self, rows: Sequence[Sequence[str]]) -> bytes:
        out = io.StringIO(newline="")
        csv.writer(out, delimiter=self.delimiter, lineterminator="\r\n").writerows(rows)
        return out.getvalue().encode(self.encoding)


PLAIN = Hand(0, ",", "utf-8", ".", "%Y-%m-%d", "en")


def hands() -> st.SearchStrategy[Hand]:
    return st.builds(
        Hand,
        seed=st.integers(0, 10_000),
        delimiter=st.sampled_from(";,\t|"),
        encoding=st.sampled_from(
            ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "cp1252", "latin-1", "mac_roman"]
        ),
        decimal=st.sampled_from(".,"),
        dates=st.sampled_from(
            ["%Y-%m-%d", "%d.%m.%Y", "%d/%m/%Y", "%m/%d/%Y", "%d-%m-%y", "%d.%m.%y", *NAMED]
        ),
        language=st.sampled_from(["en", "sv", "de"]),
    )


@dataclass(frozen=True)
class ToldBox:
    species: str
    morph: str
    days_ago: int
    count: str
    litres: float
    damp: int | None
    holes: int
    mm: float
    protein: float
    remark: str


@dataclass(frozen=True)
class ToldWork:
    box: int
    days_ago: int
    work: str
    amount: float | None
    remark: str


def told_boxes() -> st.SearchStrategy[list[ToldBox]]:
    box = st.builds(
        ToldBox,
        species=st.sampled_from(SPECIES),
        morph=st.sampled_from(["wild", "orange", "grå", "weiß"]),
        days_ago=st.integers(0, 2000),
        count=st.sampled_from(["", "?", "12", "ca. 40", "~300", "50+", "150-200", "lots"]),
        litres=st.sampled_from([1.5, 2.0, 3.0, 5.5, 12.0, 0.75]),
        damp=st.sampled_from([None, 25, 30, 50, 66]),
        holes=st.integers(2, 60),
        mm=st.sampled_from([1.5, 2.0, 3.0, 4.5]),
        protein=st.sampled_from([0.5, 1.0, 1.5, 2.0]),
        remark=st.sampled_from(["", "slow", "Größe prüfen", "står varmt, kolla", 'the "old" one']),
    )
    return st.lists(box, min_size=2, max_size=12)


def told_works() -> st.SearchStrategy[list[ToldWork]]:
    work = st.builds(
        ToldWork,
        box=st.integers(0, 7),
        days_ago=st.integers(0, 700),
        work=st.sampled_from(sorted(WORKS)),
        amount=st.sampled_from([None, 0.5, 1.5, 8.0, 20.0]),
        remark=st.sampled_from(["", "all gone", "smells", "left half", "grön lampa på"]),
    )
    return st.lists(work, min_size=3, max_size=25, unique=True)


def _ordered(
    hand: Hand, cells: dict[str, list[str]], headings: dict[str, tuple[str, ...]]
) -> bytes:
    roles = list(cells)
    if hand != PLAIN:
        random.Random(hand.seed).shuffle(roles)
    first = (
        [headings[role][0] for role in roles]
        if hand == PLAIN
        else [hand.pick(role, headings[role]) for role in roles]
    )
    return hand.bytes_of([first, *zip(*(cells[role] for role in roles), strict=True)])


def box_list(hand: Hand, boxes: Sequence[ToldBox]) -> bytes:
    """A list of boxes; the last is always begun on the 28th, so that a column tells its order."""
    days = [LAST_DAY - timedelta(days=box.days_ago) for box in boxes]
    days[-1] = date(2024, 2, 28)
    cells: dict[str, list[str]] = {
        "box": [f"{'ABC'[n // 5]}{n % 5 + 1:02d}" for n in range(len(boxes))],
        "species": [box.species for box in boxes],
        "morph": [box.morph for box in boxes],
        "since": [hand.day(day) for day in days],
        "count": [box.count for box in boxes],
        "litres": [hand.number(box.litres) for box in boxes],
        "shelf": [f"{'ABC'[n // 5]}{n % 2 + 1}" for n in range(len(boxes))],
        "damp": ["" if box.damp is None else f"{box.damp}%" for box in boxes],
        "vents": [f"{box.holes} x {hand.number(box.mm)} mm" for box in boxes],
        "protein": [hand.number(box.protein) for box in boxes],
        "remarks": [box.remark for box in boxes],
    }
    return _ordered(hand, cells, BOX_HEADINGS)


def journal(hand: Hand, works: Sequence[ToldWork]) -> bytes:
    """A journal about the boxes A01 to A08; the last line is of the 28th."""
    days = [LAST_DAY - timedelta(days=work.days_ago) for work in works]
    days[-1] = date(2026, 2, 28)
    cells: dict[str, list[str]] = {
        "date": [hand.day(day) for day in days],
        "box": [f"A{work.box + 1:02d}" for work in works],
        "what": [
            WORKS[work.work][0] if hand == PLAIN else hand.pick(f"{n}", WORKS[work.work])
            for n, work in enumerate(works)
        ],
        "amount": [
            "" if work.amount is None else f"{hand.number(work.amount)} {AMOUNTS[work.work]}"
            for work in works
        ],
        "remarks": [work.remark for work in works],
    }
    return _ordered(hand, cells, JOURNAL_HEADINGS)
