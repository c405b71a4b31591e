"""Pictures of boxes: what is kept of them, and that they go along in backups and hand-outs."""

from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from mancary.book import Book, create_book, open_book
from mancary.book.pictures import folder_of, name_of, read
from mancary.husbandry.facts import BoxDescribed, Pictured
from mancary.husbandry.refusal import Refusal
from mancary.usecases.backup import back_up, restore
from mancary.usecases.box_card import box_card
from mancary.usecases.check import check
from mancary.usecases.hand_out import hand_out
from mancary.usecases.pen import Pen
from mancary.usecases.pictures import LONGEST_PX, attach, pictures_in, scaled
from mancary.usecases.record import withdraw, write
from mancary.usecases.take_hand_out import take_hand_out

PLACE = 0x8825
"""The tag of the position within EXIF (CIPA DC-008, table 4); 0x0112 below is the orientation."""


def photograph(width: int = 3000, height: int = 2000, *, turned: int = 1) -> bytes:
    """A picture as a phone makes it: left half dark, with its position, camera and a comment."""
    made = Image.new("RGB", (width, height), (230, 220, 200))
    made.paste((40, 40, 40), (0, 0, width // 2, height))
    exif = Image.Exif()
    exif[0x0112] = turned
    exif[0x010F] = "Invented maker"
    exif.get_ifd(PLACE)[2] = (51.0, 28.0, 38.0)
    out = BytesIO()
    made.save(out, "JPEG", exif=exif, comment=b"by the east window", quality=90)
    return out.getvalue()


@pytest.fixture
def boxed(book: Book, pen: Pen) -> Book:
    write(book, [BoxDescribed(box="A01", litres=5)], pen=pen)
    return book


def test_only_the_points_are_kept() -> None:
    sent = photograph()
    assert Image.open(BytesIO(sent)).getexif().get_ifd(PLACE)
    kept = scaled(sent)
    opened = Image.open(BytesIO(kept.data))
    assert opened.size == (kept.width_px, kept.height_px) == (LONGEST_PX, 1067)
    assert not dict(opened.getexif())
    assert "comment" not in opened.info
    for word in (b"Invented maker", b"Exif", b"east window", b"http://ns.adobe.com"):
        assert word not in kept.data


def test_it_is_turned_upright_before_its_mark_is_taken_out() -> None:
    """Orientation 6: the camera was turned, so what it calls left is on top (CIPA DC-008, 4.6.4)."""
    upright = Image.open(BytesIO(scaled(photograph(400, 200, turned=6)).data))
    assert upright.size == (200, 400)
    above, below = upright.getpixel((100, 50)), upright.getpixel((100, 350))
    assert isinstance(above, tuple)
    assert isinstance(below, tuple)
    assert above[0] < 80 < 200 < below[0]


def test_clear_points_stand_on_white() -> None:
    out = BytesIO()
    Image.new("RGBA", (10, 10), (0, 0, 0, 0)).save(out, "PNG")
    assert Image.open(BytesIO(scaled(out.getvalue()).data)).getpixel((5, 5)) == (255, 255, 255)


@pytest.mark.parametrize(
    ("sent", "words"),
    [
        (b"", "not a picture"),
        (b"GIF89a, or what calls itself so", "not a picture"),
        (photograph()[:2000], "cannot be read"),
        (b"x" * 25_000_001, "more than 25 MB"),
    ],
)
def test_what_is_no_picture_is_refused_and_nothing_is_kept(
    boxed: Book, pen: Pen, sent: bytes, words: str
) -> None:
    before = boxed.head()
    with pytest.raises(Refusal, match=words):
        attach(boxed, "A01", sent, pen=pen)
    assert boxed.head() == before
    assert not folder_of(boxed.path).exists()


def test_a_small_file_that_claims_to_be_huge_is_refused() -> None:
    out = BytesIO()
    Image.new("1", (9100, 9100)).save(out, "PNG")
    assert len(out.getvalue()) < 100_000
    with pytest.raises(Refusal, match="80 million"):
        scaled(out.getvalue())


def test_a_picture_stands_on_the_card_until_it_is_withdrawn(boxed: Book, pen: Pen) -> None:
    entry = attach(boxed, "a01", photograph(), pen=pen, note=" roots in the corner ")[0]
    card = box_card(boxed, "A01", on=pen.now().date())
    assert [one.fact for one in card.pictures] == [entry.fact]
    assert isinstance(entry.fact, Pictured)
    assert entry.fact.note == "roots in the corner"
    assert read(folder_of(boxed.path), entry.fact.picture)
    attach(boxed, "A01", photograph(), pen=pen)
    assert len(list(folder_of(boxed.path).iterdir())) == 1
    withdraw(boxed, entry.id, why="my thumb", pen=pen)
    assert len(box_card(boxed, "A01", on=pen.now().date()).pictures) == 1


def test_a_changed_file_is_not_shown_and_the_check_names_it(boxed: Book, pen: Pen) -> None:
    attach(boxed, "A01", photograph(), pen=pen)
    name = pictures_in(boxed)[0]
    assert check(boxed).pictures_missing == ()
    file = folder_of(boxed.path) / name
    file.write_bytes(file.read_bytes() + b"!")
    assert read(folder_of(boxed.path), name) is None
    assert check(boxed).pictures_missing == (name,)
    assert read(folder_of(boxed.path), "../room.mancary") is None


def test_a_backup_takes_pictures_along_and_brings_them_back(
    boxed: Book, pen: Pen, tmp_path: Path
) -> None:
    attach(boxed, "A01", photograph(), pen=pen)
    made = back_up(boxed, tmp_path / "safe", keep=1, now=pen.now())
    assert (made.pictures, made.pictures_missing) == (1, ())
    again = tmp_path / "again" / "room.mancary"
    back = restore(Path(made.file), again)
    assert (back.pictures, back.pictures_missing) == (1, ())
    with open_book(again) as book:
        assert check(book).pictures_missing == ()
    (folder_of(boxed.path) / pictures_in(boxed)[0]).unlink()
    other = back_up(boxed, tmp_path / "elsewhere", keep=1, now=pen.now())
    assert (other.pictures, other.pictures_missing) == (0, pictures_in(boxed))


def test_a_hand_out_holds_them_and_an_empty_book_takes_them(
    boxed: Book, pen: Pen, tmp_path: Path
) -> None:
    attach(boxed, "A01", photograph(), pen=pen)
    handed = hand_out(boxed, tmp_path / "out")
    name = pictures_in(boxed)[0]
    assert name_of((tmp_path / "out" / "pictures" / name).read_bytes()) == name
    assert f"pictures/{name}" in (tmp_path / "out" / "pictures.csv").read_text()
    assert handed.pictures == 1
    with create_book(tmp_path / "fresh.mancary") as fresh:
        taken = take_hand_out(fresh, tmp_path / "out", now=pen.now())
        assert taken.identical
        assert taken.pictures_missing == ()
        assert check(fresh).pictures == 1
        assert check(fresh).pictures_missing == ()
