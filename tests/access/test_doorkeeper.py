"""Who is let in, for how long, and what is kept of it."""

import stat
import threading
from datetime import timedelta
from pathlib import Path

import pytest

from mancary.access import NOBODY, Doorkeeper
from mancary.access.doorkeeper import TooManyTries
from mancary.access.kept import access_path, read_access
from mancary.access.pairing import GOOD_FOR
from mancary.access.tries import MOST_WRONG, WITHIN
from mancary.book import BookTrouble
from mancary.husbandry.refusal import Refusal
from tests.access.conftest import Clock

PHONE = "192.168.1.20"


def paired(keeper: Doorkeeper, name: str = "Kim's phone") -> str:
    return keeper.pair(keeper.code.shown(), name, address=PHONE)


def test_a_code_lets_one_phone_in_and_is_used_up(keeper: Doorkeeper) -> None:
    code = keeper.code.shown()
    token = keeper.pair(code, "Kim's phone", address=PHONE)
    assert keeper.who(token, at_desk=False).role == "keeper"
    assert keeper.code.shown() != code
    with pytest.raises(Refusal, match="not the code"):
        keeper.pair(code, "Another", address=PHONE)


def test_a_code_grows_old(keeper: Doorkeeper, clock: Clock) -> None:
    code = keeper.code.shown()
    clock.now += GOOD_FOR
    with pytest.raises(Refusal, match="not the code"):
        keeper.pair(code, "Late", address=PHONE)
    almost = keeper.code.shown()
    clock.now += GOOD_FOR - timedelta(seconds=1)
    assert keeper.pair(almost, "In time", address=PHONE)


def test_guessing_ends_after_five_wrong_codes(keeper: Doorkeeper, clock: Clock) -> None:
    for _ in range(MOST_WRONG):
        with pytest.raises(Refusal, match="not the code"):
            keeper.pair("0", "Guesser", address=PHONE)
    with pytest.raises(TooManyTries, match="10 minutes") as refused:
        keeper.pair(keeper.code.shown(), "Guesser", address=PHONE)
    assert refused.value.wait == WITHIN
    assert keeper.pair(keeper.code.shown(), "Another", address="192.168.1.21")
    clock.now += WITHIN
    assert paired(keeper)


def test_guesses_from_many_addresses_change_the_code(keeper: Doorkeeper) -> None:
    code = keeper.code.shown()
    for last in range(MOST_WRONG):
        with pytest.raises(Refusal):
            keeper.pair("0", "Guesser", address=f"192.168.1.{last}")
    assert keeper.code.shown() != code


def test_a_stranger_is_nobody_and_a_phone_signed_out_too(keeper: Doorkeeper) -> None:
    token = paired(keeper)
    (phone,) = keeper.access().phones
    assert keeper.who("rubbish", at_desk=False) == NOBODY
    assert keeper.who("", at_desk=False) == NOBODY
    keeper.remove_phone(phone.id)
    assert keeper.who(token, at_desk=False) == NOBODY


def test_tokens_and_passwords_are_not_kept_and_the_file_is_the_owners(
    keeper: Doorkeeper, book_path: Path
) -> None:
    token = paired(keeper)
    keeper.set_password("damp end left of the lid")
    path = access_path(book_path)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    text = path.read_text(encoding="utf-8")
    assert token not in text
    assert "damp end" not in text
    assert "$argon2id$" in text


def test_a_phone_stays_in_over_a_start_and_says_when_it_was_last_here(
    keeper: Doorkeeper, book_path: Path, clock: Clock
) -> None:
    token = paired(keeper)
    clock.later(days=40)
    again = Doorkeeper(book_path, clock=clock, today=clock.today)
    assert again.who(token, at_desk=False).name == "Kim's phone"
    assert read_access(book_path).phones[0].seen == clock.today()


def test_the_desk_needs_nothing_until_a_password_is_set(keeper: Doorkeeper) -> None:
    assert keeper.who("", at_desk=True).role == "desk"
    keeper.set_password("damp end left of the lid")
    assert keeper.who("", at_desk=True) == NOBODY
    with pytest.raises(Refusal, match="not the password"):
        keeper.sign_in("damp end", "", address="127.0.0.1", at_desk=True)
    desk = keeper.sign_in("damp end left of the lid", "", address="127.0.0.1", at_desk=True)
    assert keeper.who(desk, at_desk=True).role == "desk"
    assert keeper.who(desk, at_desk=False) == NOBODY
    phone = keeper.sign_in("damp end left of the lid", "Tab", address=PHONE, at_desk=False)
    assert keeper.who(phone, at_desk=False).role == "keeper"
    keeper.set_password("")
    assert keeper.who("", at_desk=True).role == "desk"
    with pytest.raises(Refusal, match="10 to 200"):
        keeper.set_password("short")


def test_a_pass_ends_with_the_day_of_coming_back(keeper: Doorkeeper, clock: Clock) -> None:
    today = clock.today()
    token = keeper.give_pass("Ada", leaving=today, back=today + timedelta(days=7))
    assert keeper.who(token, at_desk=False).role == "stand_in"
    clock.later(days=7)
    assert keeper.who(token, at_desk=False).role == "stand_in"
    clock.later(days=1)
    assert keeper.who(token, at_desk=False) == NOBODY


def test_a_pass_can_be_taken_back_and_cannot_be_without_end(
    keeper: Doorkeeper, clock: Clock
) -> None:
    today = clock.today()
    token = keeper.give_pass("Ada", leaving=today, back=today)
    keeper.remove_pass(keeper.access().passes[0].id)
    assert keeper.who(token, at_desk=False) == NOBODY
    for leaving, back, says in (
        (today, today - timedelta(days=1), "before leaving"),
        (today - timedelta(days=9), today - timedelta(days=2), "over already"),
        (today, today + timedelta(days=400), "at most 120 days"),
    ):
        with pytest.raises(Refusal, match=says):
            keeper.give_pass("Ada", leaving=leaving, back=back)
    with pytest.raises(Refusal, match="name"):
        keeper.give_pass(" \u202e ", leaving=today, back=today)


def test_phones_paired_at_once_are_all_kept(keeper: Doorkeeper) -> None:
    """Two writers of one file: none of ten phones may be lost."""
    threads = [threading.Thread(target=keeper._new_phone, args=(f"Phone {n}",)) for n in range(10)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert len(keeper.access().phones) == 10


def test_a_spoilt_file_lets_nobody_in_and_says_so(keeper: Doorkeeper, book_path: Path) -> None:
    paired(keeper)
    access_path(book_path).write_text("{", encoding="utf-8")
    with pytest.raises(BookTrouble, match="paired phones"):
        keeper.who("x", at_desk=False)
