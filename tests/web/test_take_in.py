"""Taking in a sheet through the page: shown first, mended there, written in one go."""

import re
import time
from pathlib import Path

import pytest

from mancary.book import Book, open_book
from mancary.book.trouble import MovedOn
from mancary.web.taking_in.incoming import MOST_BYTES, Incoming
from tests.browser.bug_room import EVENING
from tests.web.conftest import Client, token, upload, words

SHEETS = Path(__file__).parents[1] / "sheets" / "data"
BOXES = (SHEETS / "boxes.csv").read_bytes()
JOURNAL = (SHEETS / "journal.csv").read_bytes()
MENDS = {
    "t:7:Since": "28.02.2025",
    "t:43:Litres": "3",
    "a:twice:B01:2": "B02",
    "a:name:porcelio scaber": "species:porcellio-scaber",
    "a:name:p dilatatus": "species:porcellio-dilatatus",
    "a:name:cubaris sp harbour fog": "page:asian-cave-armadillidae",
}


def sent(client: Client, page: object, **fields: str):  # type: ignore[no-untyped-def]  # noqa: ANN201
    address = str(page.url).partition("?")[0]  # type: ignore[attr-defined]
    data = {"_csrf_token": token(page.text), **fields}  # type: ignore[attr-defined]
    return client.post(address, data=data)


def facts(path: Path) -> int:
    with open_book(path) as book:
        return book.head().count


def test_the_preview_counts_every_row_and_writes_nothing(empty: Client, path: Path) -> None:
    before = facts(path)
    page = upload(empty, "boxes.csv", BOXES)
    said = words(page.text)
    assert "64 rows read: 58 understood, 4 asked about, 2 refused. Nothing is written yet." in said
    assert "There is no 31.02.2025 in the calendar" in said
    assert "Dates are read day first" in said
    assert facts(path) == before


def test_the_likeliest_answer_is_set_only_where_it_is_sure(empty: Client) -> None:
    html = upload(empty, "boxes.csv", BOXES).text
    assert '<option value="species:porcellio-scaber" selected>' in html
    assert '<option value="B02" selected>' not in html


def test_mending_reads_the_rows_again(empty: Client, path: Path) -> None:
    page = upload(empty, "boxes.csv", BOXES)
    again = sent(empty, page, do="again", **MENDS)
    assert "64 rows read: 64 understood, 0 asked about, 0 refused." in words(again.text)
    taken = sent(empty, again, do="take", **carried(again.text))
    assert "64 of 64 rows are in the book" in words(taken.text)
    with open_book(path) as book:
        assert len(book.subjects("box")) == 64
        assert book.is_known("box:B02")


def carried(html: str) -> dict[str, str]:
    """The answers a page hands on in hidden fields."""
    found = re.findall(r'<input type="hidden" name="(a:[^"]*)" value="([^"]*)">', html)
    return {name.replace("&#34;", '"'): value for name, value in found}


def test_good_rows_can_be_taken_and_the_rest_mended_later(empty: Client) -> None:
    page = upload(empty, "boxes.csv", BOXES)
    taken = sent(empty, page, do="take")
    assert "58 of 64 rows" in words(taken.text)
    assert "6 rows were left out" in words(taken.text)
    again = empty.get(str(page.url))
    assert "58 in the book already" in words(again.text)
    mended = sent(empty, again, do="take", **MENDS)
    assert "6 of 64 rows are in the book" in words(mended.text)


def test_the_same_file_again_adds_nothing(empty: Client, path: Path) -> None:
    sent(empty, upload(empty, "boxes.csv", BOXES), do="take", **MENDS)
    before = facts(path)
    page = upload(empty, "boxes.csv", BOXES)
    assert "0 understood" in words(page.text)
    assert "There is nothing new in it to write." in words(page.text)
    sent(empty, page, do="take", **MENDS)
    assert facts(path) == before


def test_the_same_fault_in_many_rows_is_mended_once(empty: Client) -> None:
    page = upload(empty, "boxes.csv", b"Box;Litres\nA01;3\n")
    sent(empty, page, do="take")
    rows = "".join(f"2026-01-0{day};X9;mist\n" for day in range(1, 8))
    page = upload(empty, "journal.csv", f"Date;Box;What\n{rows}".encode())
    assert page.text.count('class="mend"') == 1
    again = sent(empty, page, do="again", **{"t:2 3 4 5 6 7 8:Box": "A01"})
    assert "7 understood" in words(again.text)


def test_the_keeper_says_what_a_column_means(empty: Client) -> None:
    page = upload(empty, "odd.csv", b"Aa;Bb;Cc\nA01;3;x\nA02;4;y\n")
    assert page.status_code == 422
    assert "Say below what its columns mean" in words(page.text)
    again = sent(empty, page, do="again", **{"m:Aa": "box", "m:Bb": "litres"})
    assert "2 understood" in words(again.text)


def test_a_meaning_can_be_changed_where_the_sheet_was_read(empty: Client) -> None:
    page = upload(empty, "boxes.csv", b"Box;Litres;Number\nA01;3;7\n")
    again = sent(empty, page, do="again", **{"m:Number": "ignore"})
    assert "Number : left out (keeper)" in words(again.text)


@pytest.mark.parametrize(
    ("name", "data"), [("a.csv", b""), ("a.xlsx", b"PK\x03\x04broken"), ("a.csv", b"Box;Litres\n")]
)
def test_a_file_that_is_no_sheet_is_said_and_not_kept(
    empty: Client, path: Path, name: str, data: bytes
) -> None:
    answer = upload(empty, name, data)
    assert answer.status_code == 422
    assert 'class="fault" id="fault-sheet"' in answer.text
    assert Incoming(path).waiting(now=EVENING) == []


def test_a_form_without_a_file_is_said(empty: Client) -> None:
    data = {"_csrf_token": token(empty.get("/take-in").text)}
    answer = empty.post("/take-in", data=data, files={"other": ("a.csv", b"x")})
    assert answer.status_code == 422
    assert empty.post("/take-in", data=data).status_code in (415, 422)


def test_a_file_too_large_is_turned_away(empty: Client) -> None:
    answer = upload(empty, "big.csv", b"x" * (MOST_BYTES + 200_000))
    assert answer.status_code == 413
    assert "too large" in words(answer.text)


def test_a_waiting_file_is_for_its_keeper_alone_and_goes_when_all_is_taken(
    empty: Client, path: Path
) -> None:
    page = upload(empty, "boxes.csv", b"Box;Litres\nA01;3\n")
    folder = Incoming(path).folder
    assert folder.name == "room.mancary.incoming"
    assert folder.stat().st_mode & 0o777 == 0o700
    assert all(file.stat().st_mode & 0o777 == 0o600 for file in folder.iterdir())
    assert "Go on with boxes.csv" in empty.get("/take-in").text
    sent(empty, page, do="take")
    assert list(folder.iterdir()) == []


def test_a_file_can_be_thrown_away(empty: Client, path: Path) -> None:
    page = upload(empty, "boxes.csv", BOXES)
    assert sent(empty, page, do="drop").status_code == 200
    assert list(Incoming(path).folder.iterdir()) == []
    assert empty.get(str(page.url)).status_code == 404


def test_a_file_of_last_week_is_thrown_away(path: Path) -> None:
    incoming = Incoming(path)
    incoming.keep(b"Box;Litres\nA01;3\n", "old.csv")
    week = 7 * 24 * 3600
    now = EVENING.fromtimestamp(time.time() + week + 60, EVENING.tzinfo)
    assert incoming.waiting(now=now) == []
    assert list(incoming.folder.iterdir()) == []


@pytest.mark.parametrize("mark", ["x", "0" * 64, "..%2F..%2Fetc%2Fpasswd", "0" * 64 + ".name"])
def test_no_other_file_can_be_asked_for(empty: Client, mark: str) -> None:
    assert empty.get(f"/take-in/{mark}").status_code == 404


def test_a_journal_of_900_rows_comes_in_small_parts(empty: Client) -> None:
    sent(empty, upload(empty, "boxes.csv", BOXES), do="take", **MENDS)
    page = upload(empty, "journal.csv", JOURNAL)
    assert len(page.content) < 60_000
    assert "901 rows read" in words(page.text)
    later = sent(empty, page, show="60")
    assert "The 60 before" in words(later.text)


def test_one_box_is_named_by_the_same_road(empty: Client) -> None:
    data = {"box": "a1", "species": "Porcellio scaber", "animals": "ca. 12", "since": "March 2026"}
    form = {"_csrf_token": token(empty.get("/new-box").text), **data}
    page = empty.post("/new-box", data=form)
    assert "1 rows read: 1 understood" in words(page.text)
    sent(empty, page, do="take")
    said = words(empty.get("/boxes/A1").text)
    assert "Porcellio scaber" in said
    assert "March 2026" in said


def test_the_sides_the_vents_and_the_damp_share_of_a_new_box_are_read_too(empty: Client) -> None:
    data = {"box": "a1", "length": "20", "width": "12.5", "height": "12", "damp": "1/3",
            "vents": "20x3 mm lid"}  # fmt: skip
    form = {"_csrf_token": token(empty.get("/new-box").text), **data}
    sent(empty, empty.post("/new-box", data=form), do="take")
    said = words(empty.get("/boxes/A1/work").text)
    for one in ("now 20", "now 12.5", "now 12", "now 33 %", "now 20 holes of 3 mm in the lid"):
        assert one in said


def test_a_box_of_which_nothing_is_said_is_asked_about(empty: Client) -> None:
    form = {"_csrf_token": token(empty.get("/new-box").text), "box": "A1"}
    answer = empty.post("/new-box", data=form)
    assert answer.status_code == 422
    assert "Say what lives in it" in words(answer.text)


def test_a_sheet_fact_that_is_none_is_not_found(client: Client, room: Path) -> None:
    with open_book(room) as book:
        other = next(iter(book.entries())).id
    assert client.get(f"/taken-in/{other}").status_code == 404


ODD = b"Box;Litres\nA01;3\nA02;huge\nA03;tiny\n"


def test_an_answer_that_fits_nothing_is_said_first_and_nothing_is_written(
    empty: Client, path: Path
) -> None:
    page, before = upload(empty, "boxes.csv", ODD), facts(path)
    wrong = {"a:99": "leave out", "t:2:Litters": "4"}
    taken = sent(empty, page, do="take", **wrong)
    assert taken.status_code == 422
    assert facts(path) == before
    said = words(taken.text)
    assert "no row of this sheet stands in line 99" in said
    assert "this sheet has no column &#39;Litters&#39;" in said
    assert said.index("Answers that fit nothing") < said.index("This is a list of boxes")
    assert said.count("stands in line 99") == 1
    again = sent(empty, taken, do="take", **carried(taken.text))
    assert "1 of 3 rows" in words(again.text)


def test_a_row_left_out_is_told_apart_from_a_refused_one(empty: Client) -> None:
    page = upload(empty, "boxes.csv", ODD)
    assert "0 asked about, 2 refused. Nothing" in words(page.text)
    again = sent(empty, page, do="again", **{"l:3": "3:Litres"})
    said = words(again.text)
    assert "0 asked about, 1 refused, 1 left out, as you said. Nothing" in said
    assert 'name="l:3" value="leave out" checked' in again.text
    assert 'name="t:3:Litres"' not in again.text
    back = sent(empty, again, do="again", **carried(again.text))
    assert "0 asked about, 2 refused. Nothing" in words(back.text)


def test_a_question_of_a_row_left_out_no_longer_stands(empty: Client) -> None:
    page = upload(empty, "boxes.csv", b"Box;Species\nA01;Porcelio scaber\nA02;Oniscus asellus\n")
    key = "name:porcelio scaber"
    assert f'name="a:{key}"' in page.text
    again = sent(empty, page, do="again", **{f"a:{key}": "species:porcellio-scaber", "l:2": key})
    said = words(again.text)
    assert "1 left out, as you said" in said
    assert "Answers that fit nothing" not in said


def test_a_sheet_written_meanwhile_keeps_its_answers(
    empty: Client, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = upload(empty, "boxes.csv", ODD)

    def moved_on(book: Book, *_: object) -> None:
        raise MovedOn(book.path)

    with monkeypatch.context() as meanwhile:
        meanwhile.setattr(Book, "_still_there", moved_on)
        answer = sent(empty, page, do="take", **{"t:3:Litres": "4"})
    assert answer.status_code == 409
    kept = dict(re.findall(r'<input type="hidden" name="([^"]*)" value="([^"]*)">', answer.text))
    taken = empty.post(str(page.url), data=kept)
    assert "2 of 3 rows" in words(taken.text)
