"""Passwords, kept as Argon2id (RFC 9106) with the library's own measure of work."""

from typing import Final

from mancary.husbandry.refusal import Refusal

SHORTEST: Final = 10
LONGEST: Final = 200


def password_hash(password: str) -> str:
    """What is kept of a password.

    Raises:
        Refusal: where it has fewer than ten letters, or is overlong.
    """
    from argon2 import PasswordHasher

    if not SHORTEST <= len(password) <= LONGEST:
        raise Refusal(f"A password has {SHORTEST} to {LONGEST} letters; a few words do well.")
    return PasswordHasher().hash(password)


def is_password(password: str, kept: str) -> bool:
    """Whether a password is the one kept."""
    from argon2 import PasswordHasher
    from argon2.exceptions import InvalidHashError, VerificationError

    if len(password) > LONGEST:
        return False
    try:
        return PasswordHasher().verify(kept, password)
    except (VerificationError, InvalidHashError):
        return False
