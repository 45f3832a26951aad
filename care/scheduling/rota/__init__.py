"""Who does which shift: fair, stable, and honest about what stays open.

Aims, in this order: critical places, all places, published places stay, fairness,
wishes. A search for hand-overs does all of it; nothing is drawn by lot, so that the
same offers give the same rota in whatever order they come.
"""

from care.scheduling.rota.learners import place_learners
from care.scheduling.rota.propose import propose_rota
from care.scheduling.rota.terms import (
    Learner,
    Offer,
    Place,
    Rota,
    Shift,
    Stops,
    Wish,
)
from care.scheduling.rota.why_open import OpenPlace, why_open

__all__ = [
    "Learner",
    "Offer",
    "OpenPlace",
    "Place",
    "Rota",
    "Shift",
    "Stops",
    "Wish",
    "place_learners",
    "propose_rota",
    "why_open",
]
