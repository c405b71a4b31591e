"""Lets in the desk, paired phones and a stand-in with a pass, and nobody else."""

import secrets
from collections.abc import Callable
from datetime import date, datetime, timedelta
from hmac import compare_digest
from pathlib import Path
from typing import Final

from msgspec.structs import replace

from mancary.access.kept import Access, Pass, Phone, change_access, hashed, read_access
from mancary.access.pairing import PairingCode
from mancary.access.passwords import is_password, password_hash
from mancary.access.roles import NOBODY, Who
from mancary.access.tries import Tries
from mancary.husbandry.refusal import Refusal

LONGEST_NAME: Final = 40
LONGEST_PASS: Final = timedelta(days=120)
_TOKEN_BYTES: Final = 32


class TooManyTries(Refusal):
    """Too many wrong codes or passwords; ``wait`` says for how long none is taken."""

    def __init__(self, wait: timedelta) -> None:
        self.wait = wait
        minutes = max(1, -(-int(wait.total_seconds()) // 60))
        super().__init__(
            f"Too many wrong tries. Wait {minutes} minute{'s' if minutes > 1 else ''}, then try"
            " once more."
        )


class Doorkeeper:
    """For one book, while the program runs. ``today`` is the day in the keeper's zone."""

    def __init__(
        self, book: Path, *, clock: Callable[[], datetime], today: Callable[[], date]
    ) -> None:
        self._book = book
        self._clock = clock
        self._today = today
        self._desks: set[str] = set()
        self.code = PairingCode(clock)
        self.tries = Tries(clock)

    def access(self) -> Access:
        """What is kept; raises BookTrouble where it cannot be read."""
        return read_access(self._book)

    def who(self, token: str, *, at_desk: bool) -> Who:
        """Who holds a token; at the desk none is needed, unless a password is set."""
        if not token and not at_desk:
            return NOBODY
        access = self.access()
        if at_desk and (not access.password or hashed(token) in self._desks):
            return Who(role="desk")
        return self._holder(access, hashed(token)) if token else NOBODY

    def _holder(self, access: Access, told: str) -> Who:
        for phone in access.phones:
            if compare_digest(phone.token, told):
                self._seen(phone)
                return Who(role="keeper", id=phone.id, name=phone.name)
        for one in access.passes:
            if compare_digest(one.token, told) and self._today() <= one.back:
                return Who(role="stand_in", id=one.id, name=one.name)
        return NOBODY

    def _seen(self, phone: Phone) -> None:
        today = self._today()
        if phone.seen < today:
            self._change_phone(phone.id, lambda one: replace(one, seen=today))

    def pair(self, code: str, name: str, *, address: str) -> str:
        """A token for a phone that told the code.

        Raises:
            Refusal: for a wrong code, no name, or too many tries.
        """
        called = _name(name)
        self._may_try(address)
        if not self.code.take(code):
            self.tries.wrong(address)
            raise Refusal("That is not the code shown at the desk now; each is good for one phone.")
        return self._new_phone(called)

    def sign_in(self, password: str, name: str, *, address: str, at_desk: bool) -> str:
        """A token for one who knows the password, at the desk or on a phone.

        Raises:
            Refusal: for a wrong password, none set, or too many tries.
        """
        called = _name(name) if not at_desk else ""
        self._may_try(address)
        kept = self.access().password
        if not kept or not is_password(password, kept):
            self.tries.wrong(address)
            raise Refusal("That is not the password.")
        if not at_desk:
            return self._new_phone(called)
        token = secrets.token_urlsafe(_TOKEN_BYTES)
        self._desks.add(hashed(token))
        return token

    def _may_try(self, address: str) -> None:
        if wait := self.tries.wait(address):
            raise TooManyTries(wait)

    def _new_phone(self, name: str) -> str:
        token = secrets.token_urlsafe(_TOKEN_BYTES)
        phone = Phone(
            id=secrets.token_hex(4),
            name=name,
            token=hashed(token),
            paired=self._now(),
            seen=self._today(),
        )
        change_access(self._book, lambda held: replace(held, phones=(*held.phones, phone)))
        return token

    def remove_phone(self, phone_id: str) -> None:
        """The phone is signed out at once."""
        change_access(
            self._book,
            lambda held: replace(
                held, phones=tuple(one for one in held.phones if one.id != phone_id)
            ),
        )

    def give_pass(self, name: str, *, leaving: date, back: date) -> str:
        """A token for a stand-in that opens the sheet of an absence, and only that.

        Raises:
            Refusal: for days in the wrong order, over already, or too far apart.
        """
        called = _name(name)
        if back < leaving:
            raise Refusal(f"Coming back on {back} is before leaving on {leaving}.")
        if back < self._today():
            raise Refusal(f"{back} is over already.")
        if back - leaving > LONGEST_PASS:
            raise Refusal(f"A pass is good for at most {LONGEST_PASS.days} days.")
        token = secrets.token_urlsafe(_TOKEN_BYTES)
        one = Pass(
            id=secrets.token_hex(4),
            name=called,
            token=hashed(token),
            leaving=leaving,
            back=back,
            made=self._now(),
        )
        change_access(self._book, lambda held: replace(held, passes=(*held.passes, one)))
        return token

    def pass_of(self, pass_id: str) -> Pass | None:
        """The pass of a stand-in who was let in."""
        return next((one for one in self.access().passes if one.id == pass_id), None)

    def remove_pass(self, pass_id: str) -> None:
        """The pass opens nothing any more."""
        change_access(
            self._book,
            lambda held: replace(
                held, passes=tuple(one for one in held.passes if one.id != pass_id)
            ),
        )

    def set_password(self, password: str) -> None:
        """Sets a password, or with an empty one does away with it; desks sign in anew.

        Raises:
            Refusal: where it is too short.
        """
        kept = password_hash(password) if password else ""
        change_access(self._book, lambda held: replace(held, password=kept))
        self._desks.clear()

    def _change_phone(self, phone_id: str, change: Callable[[Phone], Phone]) -> None:
        change_access(
            self._book,
            lambda held: replace(
                held,
                phones=tuple(change(one) if one.id == phone_id else one for one in held.phones),
            ),
        )

    def _now(self) -> str:
        return self._clock().isoformat(timespec="seconds")


def _name(name: str) -> str:
    called = " ".join("".join(one if one.isprintable() else " " for one in name).split())
    if not called or len(called) > LONGEST_NAME:
        raise Refusal(f"Give it a name of 1 to {LONGEST_NAME} letters, such as: Kim's phone.")
    return called
