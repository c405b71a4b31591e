"""How many animals there are, from counts of part of them: the public door of four modules."""

from mancary.science.counting_estimate import Estimate
from mancary.science.counting_marks import chapman, schnabel, schumacher
from mancary.science.counting_removal import Removed, likeliest_removal, removal
from mancary.science.counting_samples import (
    NegativeBinomial,
    Scaled,
    negative_binomial,
    poisson_interval,
    scale_up,
)

__all__ = [
    "Estimate",
    "NegativeBinomial",
    "Removed",
    "Scaled",
    "chapman",
    "likeliest_removal",
    "negative_binomial",
    "poisson_interval",
    "removal",
    "scale_up",
    "schnabel",
    "schumacher",
]
