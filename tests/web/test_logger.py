"""A logger's file sent up on the shelves' page: written, said, undone; faults beside the field."""

from pathlib import Path

from httpx import Response

from mancary.husbandry.facts import ShelfRead
from tests.web.conftest import Client, entries, posted, token, words

HOURS = "".join(f"2026-11-01 {hour:02}:00,2{hour % 5}.5,5{hour % 5}\n" for hour in range(24))
LOG = f"Time,Temp °C,RH %\n{HOURS}2026-11-02 00:00,Err,50\n".encode()


def send(client: Client, data: bytes = LOG, **fields: str) -> Response:
    told = {"_csrf_token": token(client.get("/shelves").text), "shelf": "A1", **fields}
    return client.post("/shelves/logger", data=told, files={"log": ("log.csv", data)})


def test_the_shelves_page_has_the_form(client: Client) -> None:
    html = client.get("/shelves").text
    assert 'action="/shelves/logger" enctype="multipart/form-data"' in html
    assert 'for="log"' in html
    assert client.get("/shelves/logger").status_code == 200


def test_a_file_is_written_day_by_day_and_its_faults_are_named(client: Client, room: Path) -> None:
    answer = send(client, instrument="H1")
    assert answer.status_code == 201
    said = words(answer.text)
    assert "1 day written" in said
    assert "Line 26, Temp °C “Err”: expected degrees, like 21.5" in said
    fact = entries(room)[-1].fact
    assert isinstance(fact, ShelfRead)
    assert (fact.shelf, fact.instrument, fact.lowest_c, fact.highest_c) == ("A1", "H1", 20.5, 24.5)


def test_sent_twice_it_is_written_once_and_undone_in_one_press(client: Client, room: Path) -> None:
    before = len(entries(room))
    first = send(client, once="abc")
    second = send(client, once="abc")
    assert len(entries(room)) == before + 1
    assert "1 in the book already" in words(second.text)
    assert "Undo all of it" in second.text
    ids = first.text.partition('name="ids" value="')[2].partition('"')[0]
    undone = posted(client, "/shelves/logger/undo", form="/shelves/logger", ids=ids)
    assert "Undone: 1 fact withdrawn" in words(undone.text)
    assert "1 day written" in words(send(client).text)


def test_a_question_is_said_beside_the_file_and_what_was_typed_is_kept(
    client: Client, room: Path
) -> None:
    before = len(entries(room))
    data = b"Time,Temp C\n03/04/2026 10:00,20\n03/04/2026 11:00,20\n"
    answer = send(client, data, shelf="A2", instrument="H7")
    assert answer.status_code == 422
    assert "--" not in words(answer.text)
    assert "may have the day or the month first" in words(answer.text)
    assert "the day first the month first Say which." in words(answer.text)
    assert "<option selected>A2</option>" in answer.text
    assert 'value="H7"' in answer.text
    assert len(entries(room)) == before
    assert send(client, data, order="month").status_code == 201


def test_an_unknown_shelf_and_a_file_too_large_are_refused(client: Client) -> None:
    assert send(client, shelf="Z99").status_code == 422
    assert send(client, b"x" * 10_200_000).status_code == 413
    assert "larger than 10 MB" in send(client, b"x" * 10_000_050).text


def test_after_a_question_the_file_need_not_be_chosen_again(client: Client, room: Path) -> None:
    warm = b"Time,Temp\n2026-11-01 10:00,68\n2026-11-01 11:00,70\n"
    asked = send(client, warm)
    assert "--" not in words(asked.text)
    assert "°C °F Say which." in words(asked.text)
    kept = asked.text.partition('name="kept" value="')[2].partition('"')[0]
    told = {"_csrf_token": token(asked.text), "shelf": "A1", "unit": "f", "kept": kept}
    answer = client.post("/shelves/logger", data=told, files={"log": ("", b"")})
    assert answer.status_code == 201
    fact = entries(room)[-1].fact
    assert isinstance(fact, ShelfRead)
    assert fact.lowest_c == 20


def test_another_loggers_file_is_asked_about(client: Client, room: Path) -> None:
    send(client)
    before = len(entries(room))
    other = send(client, LOG.replace(b",2", b",1"))
    assert other.status_code == 422
    assert 'name="replace"' in other.text
    assert len(entries(room)) == before
