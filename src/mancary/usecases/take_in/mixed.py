"""Two species named in one cell, as keepers write of boxes that hold both."""

import re
from collections.abc import Callable, Sequence

from mancary.handbook import Proposal
from mancary.usecases.species_names import split_name

_JOINTS = re.compile(
    r"(?:\s*[/+&;,|]\s*|\s+(?:and|with|or|plus|mixed with|och|med|eller|und|mit|oder)\s+)"
    r"(?:(?:some|a few|few|also)\s+)?",
    re.IGNORECASE,
)
_SURE = 0.8
"""Ours: full and trade names, abbreviations and a slip of a letter."""
_SCIENTIFIC = frozenset({"exact", "former name", "abbreviation"})

Finder = Callable[[str], Sequence[Proposal]]


def two_species(text: str, find: Finder) -> tuple[Proposal, ...]:
    """The species a text names, one proposal each, where it names more than one; else none."""
    parts = [part for part in _JOINTS.split(text) if part]
    named = [_sure(part, find) for part in parts] if len(parts) > 1 else []
    whole = _sure(text, find)
    if len([one for one in named if one]) < 2 and whole and whole.morph:
        beside = _sure(_JOINTS.sub(" ", f" {whole.morph} ").strip(), find)
        named = [whole, beside if beside and beside.how in _SCIENTIFIC else None]
    species = {_species(one): one for one in reversed(named) if one}
    return tuple(reversed(species.values())) if len(species) > 1 else ()


def _sure(text: str, find: Finder) -> Proposal | None:
    proposals = find(text)
    return proposals[0] if proposals and proposals[0].confidence >= _SURE else None


def _species(proposal: Proposal) -> str:
    """What two morphs of a species have in common; an undescribed form stands alone."""
    latin, _ = split_name(proposal.name)
    return proposal.slug if latin.endswith(".") or " " not in latin else latin
