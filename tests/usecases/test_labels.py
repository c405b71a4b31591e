"""Which labels are made, in which order, and what is told of a box on its own."""

from datetime import date

import pytest

from mancary.book import Book
from mancary.husbandry.facts import BatchMade, CareGiven
from mancary.husbandry.refusal import Refusal
from mancary.usecases import colony_work, set_up
from mancary.usecases.labels import damp_class, labels
from mancary.usecases.pen import Pen
from mancary.usecases.record import write

ON = date(2026, 11, 1)


@pytest.fixture
def room(book: Book, pen: Pen) -> Book:
    for box, shelf, litres in (("A1", "S1", 5.5), ("A2", "S1", 3.0), ("B1", "S2", 8.0)):
        set_up.describe_box(book, box, litres=litres, shelf=shelf, pen=pen, happened="2026-01-05")
    colony_work.found(book, "A1", "porcellio-scaber", as_bought="Porcellio scaber", pen=pen,
                      morph="orange", happened="2026-01-06")  # fmt: skip
    colony_work.found(book, "B1", "cubaris-sp-soil", as_bought="soil", pen=pen,
                      happened="2026-02")  # fmt: skip
    set_up.quarantine(
        book, "B1", pen=pen, why="new", until=date(2026, 12, 1), happened="2026-10-20"
    )
    write(book, [BatchMade(batch="L1", what="leaves"), BatchMade(batch="L2", what="leaves")],
          pen=pen, happened="2026-01-05")  # fmt: skip
    for batch, day in (("L2", "2026-09-01"), ("L1", "2026-03-01")):
        write(book, [CareGiven(box="A1", care="leaf_litter", batch=batch)], pen=pen, happened=day)
    return book


def test_all_boxes_with_a_colony_in_walking_order_and_spares_as_spares(room: Book) -> None:
    assert [one.box for one in labels(room, on=ON).labels] == ["A1", "B1"]
    assert [one.box for one in labels(room, on=ON, kinds=("spare",)).labels] == ["A2"]
    both = labels(room, on=ON, kinds=("box", "lid")).labels
    assert [(one.kind, one.box) for one in both] == [
        ("box", "A1"), ("box", "B1"), ("lid", "A1"), ("lid", "B1"),
    ]  # fmt: skip
    assert [one.box for one in labels(room, on=ON, shelf="S2").labels] == ["B1"]
    assert [one.box for one in labels(room, on=ON, boxes=["a2"]).labels] == ["A2"]


def test_a_label_tells_who_since_when_how_damp_and_of_which_batch(room: Book) -> None:
    first, second = labels(room, on=ON).labels
    assert first.species is not None
    assert first.species.latin == "Porcellio scaber"
    assert (first.morph, first.founded, first.batches) == ("orange", "2026-01-06", ("L2",))
    assert first.damp == damp_class(first.damp_share or 0.0)
    assert "species' middle" in first.damp_is
    assert not first.apart
    assert (second.apart, second.apart_until, second.founded) == (True, "2026-12-01", "2026-02")
    (spare,) = labels(room, on=ON, kinds=("spare",)).labels
    assert (spare.size, spare.species, spare.damp) == ("3 L", None, "")


def test_the_boxs_own_damp_share_goes_before_the_species(room: Book, pen: Pen) -> None:
    set_up.describe_box(room, "A1", damp_share=0.8, pen=pen, happened="2026-05-01")
    (label,) = labels(room, on=ON, boxes=["A1"]).labels
    assert (label.damp, label.damp_share, label.damp_is) == ("mostly damp", 0.8, "as it stands")


def test_nothing_to_label_is_said(room: Book) -> None:
    with pytest.raises(Refusal, match="no shelf S9"):
        labels(room, on=ON, shelf="S9")
    with pytest.raises(Refusal, match="No box"):
        labels(room, on=ON, shelf="S2", kinds=("spare",))
    with pytest.raises(Refusal, match="no box Z9"):
        labels(room, on=ON, boxes=["Z9"])
