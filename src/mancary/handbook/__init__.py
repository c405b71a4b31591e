"""Sourced numbers: species, care groups, rhythms of care, names and the bibliography.

Every figure carries its unit, its kind (published, common practice, memory, ours), a provenance
letter and a source. A page says only what differs from its care group or parent; ``figures``
puts them together.
"""

from mancary.handbook.finding import find
from mancary.handbook.guessing import guess_group
from mancary.handbook.model import (
    Amount,
    Figure,
    FormerName,
    Group,
    LowEnd,
    Page,
    Proposal,
    Reference,
    Rhythm,
    TradeName,
)
from mancary.handbook.rhythms import moisture_class, rhythms
from mancary.handbook.shelf import (
    amounts,
    bibliography,
    figures,
    group,
    group_figures,
    group_of,
    groups,
    page,
    practice,
    species_slugs,
)
from mancary.handbook.trouble import HandbookTrouble, PageFault, UnknownPage
from mancary.handbook.ventilation import (
    Ventilation,
    VentilationRoom,
    ventilation_figure,
    ventilation_room,
    ventilation_said,
    ventilations,
)
from mancary.handbook.words import LETTERS, UNITS
from mancary.handbook.work import Effort, Opening, efforts, harm_of, opening

__all__ = [
    "LETTERS",
    "UNITS",
    "Amount",
    "Effort",
    "Figure",
    "FormerName",
    "Group",
    "HandbookTrouble",
    "LowEnd",
    "Opening",
    "Page",
    "PageFault",
    "Proposal",
    "Reference",
    "Rhythm",
    "TradeName",
    "UnknownPage",
    "Ventilation",
    "VentilationRoom",
    "amounts",
    "bibliography",
    "efforts",
    "figures",
    "find",
    "group",
    "group_figures",
    "group_of",
    "groups",
    "guess_group",
    "harm_of",
    "moisture_class",
    "opening",
    "page",
    "practice",
    "rhythms",
    "species_slugs",
    "ventilation_figure",
    "ventilation_room",
    "ventilation_said",
    "ventilations",
]
