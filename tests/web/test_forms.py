"""Writing down, withdrawing and correcting through the forms, and what is said when they do not fit."""

import re
from pathlib import Path

import pytest

from mancary.book import Book, open_book
from mancary.book.trouble import MovedOn
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import CareGiven, Counted, Noted, SeenInBox, Weighed
from tests.browser.bug_room import EVENING
from tests.web.conftest import Client, posted, token, words


def newest(room: Path) -> Entry:
    with open_book(room) as book:
        return list(book.entries())[-1]


def count(room: Path) -> int:
    with open_book(room) as book:
        return book.head().count


def test_a_word_and_an_amount_are_on_disk_when_the_page_answers(client: Client, room: Path) -> None:
    answer = posted(client, "/boxes/a02", word="mist", amount="20 mL", note="poured at one end")
    entry = newest(room)
    assert isinstance(entry.fact, CareGiven)
    assert (entry.fact.box, entry.fact.care, entry.fact.note) == (
        "A02",
        "mist",
        "poured at one end",
    )
    assert entry.happened == EVENING.isoformat(timespec="milliseconds").replace("+00:00", "Z")
    assert "Written: misting, 20 mL: poured at one end" in words(answer.text)


def test_the_form_leads_back_to_the_card_by_a_redirect(client: Client) -> None:
    data = {"_csrf_token": token(client.get("/boxes/A02").text), "word": "look"}
    answer = client.post("/boxes/A02", data=data, follow_redirects=False)
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/boxes/A02?written=")
    assert answer.headers["location"].endswith("#written")


def test_the_same_form_sent_twice_is_written_once(client: Client, room: Path) -> None:
    html = client.get("/boxes/A02").text
    once = re.search(r'name="once" value="(\w+)"', html)
    assert once
    data = {"_csrf_token": token(html), "once": once.group(1), "word": "look"}
    first = client.post("/boxes/A02", data=data, follow_redirects=False)
    after = count(room)
    second = client.post("/boxes/A02", data=data, follow_redirects=False)
    assert first.headers["location"] == second.headers["location"]
    assert count(room) == after
    client.post("/boxes/A02", data={**data, "once": "another"})
    assert count(room) == after + 1


def test_what_happened_long_ago_is_confirmed_too(client: Client) -> None:
    answer = posted(client, "/boxes/A02", word="dead", amount="2", day="2025-06-01")
    assert "Written: dead 2 , 1 June 2025" in words(answer.text)


@pytest.mark.parametrize(
    ("word", "amount", "kind"),
    [
        ("young_seen", "", SeenInBox),
        ("dead", "3", SeenInBox),
        ("tens", "", Counted),
        ("count", "ca. 40", Counted),
        ("weigh", "1462", Weighed),
        ("note", "lid cracked", Noted),
    ],
)
def test_every_sort_of_word_is_taken(
    client: Client, room: Path, word: str, amount: str, kind: type
) -> None:
    posted(client, "/boxes/A02", word=word, amount=amount, day="2026-11-20")
    entry = newest(room)
    assert isinstance(entry.fact, kind)
    assert entry.happened == "2026-11-20"


def test_a_note_may_be_typed_into_either_field(client: Client, room: Path) -> None:
    posted(client, "/boxes/A02", word="note", note="smells of earth")
    fact = newest(room).fact
    assert isinstance(fact, Noted)
    assert fact.text == "smells of earth"


@pytest.mark.parametrize(
    ("fields", "field", "said"),
    [
        ({}, "word", "Choose what was given"),
        ({"word": "nonsense"}, "amount", "no word the book knows"),
        ({"word": "weigh", "amount": "heavy"}, "amount", "heavy"),
        ({"word": "look", "day": "31.12."}, "day", "is not a date"),
        ({"word": "look", "day": "2027-01-01"}, "day", "future"),
    ],
)
def test_a_field_that_does_not_fit_is_named_and_nothing_is_lost(
    client: Client, room: Path, fields: dict[str, str], field: str, said: str
) -> None:
    before = count(room)
    data = {"_csrf_token": token(client.get("/boxes/A02").text), "note": "kept words", **fields}
    answer = client.post("/boxes/A02", data=data)
    assert answer.status_code == 422
    assert f'id="fault-{field}"' in answer.text
    assert said in words(answer.text)
    assert "kept words" in answer.text
    assert count(room) == before


def test_withdrawing_takes_one_step_and_stays_readable(client: Client, room: Path) -> None:
    posted(client, "/boxes/A02", word="dead", amount="12")
    fact = newest(room).id
    answer = posted(client, f"/facts/{fact}/withdraw", form=f"/facts/{fact}", why="they were sheds")
    assert "<s>dead 12</s>" in answer.text
    assert "withdrawn: they were sheds" in words(answer.text)
    assert "What was written in its place" not in client.get(f"/facts/{fact}").text


def test_withdrawing_twice_is_refused(client: Client, room: Path) -> None:
    posted(client, "/boxes/A02", word="look")
    fact = newest(room).id
    page = client.get(f"/facts/{fact}")
    data = {"_csrf_token": token(page.text), "why": ""}
    client.post(f"/facts/{fact}/withdraw", data=data)
    answer = client.post(f"/facts/{fact}/withdraw", data=data)
    assert answer.status_code == 409
    assert "withdrawn already" in words(answer.text)


def founded(room: Path, box: str = "A02") -> str:
    with open_book(room) as book:
        return next(e.id for e in book.entries_about(f"box:{box}") if e.fact.kind == "founded")


def test_a_fact_that_others_rest_on_is_withdrawn_only_with_a_tick(
    client: Client, room: Path
) -> None:
    fact, before = founded(room), count(room)
    assert "even so" not in client.get(f"/facts/{fact}").text
    answer = posted(client, f"/facts/{fact}/withdraw", form=f"/facts/{fact}", why="never came")
    assert answer.status_code == 409
    said = words(answer.text)
    assert "later facts about box A02 rest on this one" in said
    assert 'name="even_so"' in answer.text
    assert 'name="why" value="never came"' in answer.text
    assert count(room) == before
    posted(
        client, f"/facts/{fact}/withdraw", form=f"/facts/{fact}", why="never came", even_so="yes"
    )
    assert count(room) == before + 1
    assert "A spare box" in words(client.get("/boxes/A02").text)


def test_whose_book_it_is_is_not_withdrawn(client: Client, room: Path) -> None:
    with open_book(room) as book:
        opened = next(iter(book.entries())).id
    before = count(room)
    html = client.get(f"/facts/{opened}").text
    assert "cannot be withdrawn" in words(html)
    assert "Withdraw the fact" not in html
    data = {"_csrf_token": token(client.get("/shelves").text), "even_so": "yes"}
    assert client.post(f"/facts/{opened}/withdraw", data=data).status_code == 409
    assert count(room) == before


@pytest.mark.parametrize("act", ["withdraw", "correct"])
def test_what_was_written_meanwhile_is_said_and_nothing_typed_is_lost(
    client: Client, room: Path, monkeypatch: pytest.MonkeyPatch, act: str
) -> None:
    posted(client, "/boxes/A02", word="protein")
    fact, before = newest(room).id, count(room)
    fields = {"word": "vegetable", "why": "wrong word"} if act == "correct" else {"why": "wrong"}

    def moved_on(book: Book, *_: object) -> None:
        raise MovedOn(book.path)

    with monkeypatch.context() as meanwhile:
        meanwhile.setattr(Book, "_still_there", moved_on)
        answer = posted(client, f"/facts/{fact}/{act}", form=f"/facts/{fact}", **fields)
    assert answer.status_code == 409
    assert "Something else was written meanwhile" in words(answer.text)
    assert f'action="/facts/{fact}/{act}"' in answer.text
    assert count(room) == before
    kept = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)">', answer.text))
    assert kept.items() >= fields.items()
    client.post(f"/facts/{fact}/{act}", data=kept)
    assert count(room) == before + (2 if act == "correct" else 1)


def test_correcting_withdraws_and_writes_anew_in_one_step(client: Client, room: Path) -> None:
    posted(client, "/boxes/A02", word="protein", amount="1 pinch", day="2026-11-19")
    fact, before = newest(room).id, count(room)
    posted(
        client, f"/facts/{fact}/correct", form=f"/facts/{fact}", word="vegetable", why="wrong box of food"
    )  # fmt: skip
    assert count(room) == before + 2
    with open_book(room) as book:
        instead = list(book.entries())[-2]
    assert isinstance(instead.fact, CareGiven)
    assert (instead.fact.care, instead.happened) == ("vegetable", "2026-11-19")
    old = client.get(f"/facts/{fact}").text
    assert f"/facts/{instead.id}" in old
    assert "wrong box of food" in old


@pytest.mark.parametrize(
    ("word", "amount", "note"),
    [
        ("mist", "20 mL", "at one end"), ("look", "", ""), ("dead", "3", ""), ("left_over", "50%", ""),
        ("tens", "", "under bark"), ("count", "40-50", ""), ("weigh", "1462 g", ""), ("note", "", "a line"),
    ],
)  # fmt: skip
def test_the_form_to_correct_holds_what_was_told(
    client: Client, room: Path, word: str, amount: str, note: str
) -> None:
    posted(client, "/boxes/A02", word=word, amount=amount, note=note)
    first = newest(room)
    html = client.get(f"/facts/{first.id}").text
    assert re.search(rf'value="{word}" checked', html)
    assert f'name="amount" value="{amount}"' in html
    assert f">{note}</textarea>" in html
    posted(
        client, f"/facts/{first.id}/correct", form=f"/facts/{first.id}", word=word, amount=amount, note=note
    )  # fmt: skip
    with open_book(room) as book:
        assert list(book.entries())[-2].fact == first.fact


def test_a_fact_of_more_than_one_word_is_not_corrected_by_one(client: Client, room: Path) -> None:
    with open_book(room) as book:
        founded = next(one for one in book.entries_about("box:A02") if one.fact.kind == "founded")
    before = count(room)
    assert "Write it anew" not in client.get(f"/facts/{founded.id}").text
    answer = posted(
        client, f"/facts/{founded.id}/correct", form=f"/facts/{founded.id}", word="look"
    )
    assert answer.status_code == 409
    assert count(room) == before


def test_a_correction_that_is_not_understood_changes_nothing(client: Client, room: Path) -> None:
    posted(client, "/boxes/A02", word="protein")
    fact, before = newest(room).id, count(room)
    for word in ("", "weigh"):
        answer = posted(
            client, f"/facts/{fact}/correct", form=f"/facts/{fact}", word=word, amount="a lot"
        )
        assert answer.status_code == 422
    assert count(room) == before


def test_a_form_without_its_token_writes_nothing(client: Client, room: Path) -> None:
    before = count(room)
    client.get("/boxes/A02")
    for data in ({"word": "look"}, {"word": "look", "_csrf_token": "0" * 128}):
        answer = client.post("/boxes/A02", data=data)
        assert answer.status_code == 403
        assert "Nothing was written" in words(answer.text)
    assert count(room) == before
