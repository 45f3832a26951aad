"""One kind of care a file, each a pure function of what is known of a tree.

``RULES`` is the whole list, in the order their tasks are read: what cannot wait for
tomorrow first.
"""

from collections.abc import Callable

from care.facts import Situation
from care.proposals import Proposal
from care.rules import (
    cold,
    establishing,
    feeding,
    flushing,
    freeze,
    harvest,
    heat,
    inspection,
    mulching,
    planting,
    potting,
    pruning,
    sanitation,
    soil,
    suckers,
    thinning,
    training,
    watering,
    weeding,
)

Rule = Callable[[Situation], tuple[Proposal, ...]]

RULES: tuple[tuple[str, Rule], ...] = (
    (cold.KIND, cold.propose),
    (freeze.KIND, freeze.propose),
    (heat.KIND, heat.propose),
    (watering.KIND, watering.propose),
    (feeding.KIND, feeding.propose),
    (flushing.KIND, flushing.propose),
    (soil.KIND, soil.propose),
    (weeding.KIND, weeding.propose),
    (mulching.KIND, mulching.propose),
    (pruning.KIND, pruning.propose),
    (training.KIND, training.propose),
    (suckers.KIND, suckers.propose),
    (sanitation.KIND, sanitation.propose),
    (thinning.KIND, thinning.propose),
    (harvest.KIND, harvest.propose),
    (planting.KIND, planting.propose),
    (establishing.KIND, establishing.propose),
    (potting.KIND, potting.propose),
    (inspection.KIND, inspection.propose),
)
