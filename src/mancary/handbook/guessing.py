"""Which care group a form the handbook does not hold may belong to, judged by its genus.

By the rule of succession over the groups that the genus's pages stand in: a group with k of n
pages is (k + 1) / (n + groups + 1) likely; what is left over stands for a group none of them is in.
"""

from collections import Counter

from mancary.handbook.lexicon import Called, lexicon
from mancary.handbook.names import UNDETERMINED, typed, words
from mancary.handbook.shelf import group, group_of

Guess = tuple[str, float, str]


def guess_group(text: str) -> tuple[Guess, ...]:
    """Care groups as (slug, confidence, why), the likeliest first; none for an unknown genus."""
    told = typed(text)
    if not told.plain:
        return ()
    genus = _genus(told.plain[0])
    members = lexicon().by_genus.get(genus, ())
    unnamed = len(told.plain) != 2 or bool(UNDETERMINED & set(words(text)))
    forms = tuple(entry for entry in members if entry.rank == "undescribed") if unnamed else ()
    what = "undescribed forms" if forms else "pages"
    return _shares(forms or members, genus.capitalize(), what)


def _genus(word: str) -> str:
    known = lexicon().by_genus
    if word in known:
        return word
    from mancary.handbook.misspelling import nearest_word

    return nearest_word(word, tuple(known))


def _shares(members: tuple[Called, ...], genus: str, what: str) -> tuple[Guess, ...]:
    found = [slug for entry in members if (slug := group_of(entry.slug))]
    counts = Counter(found)
    below = len(found) + len(counts) + 1
    return tuple(
        (
            slug,
            round((count + 1) / below, 4),
            _why(slug, count, len(found), len(counts), genus, what),
        )
        for slug, count in counts.most_common()
    )


def _why(slug: str, count: int, total: int, kinds: int, genus: str, what: str) -> str:
    return (
        f"{count} of the handbook's {total} {what} kept as {genus} stand in the care group"
        f' "{group(slug).name}"; by the rule of succession ({count} + 1) / ({total} + {kinds + 1}).'
    )
