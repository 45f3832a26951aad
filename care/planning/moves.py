"""What a move means for a tree: how large a step, how heavy, after whom it stands."""

from dataclasses import dataclass

from care.facts import SpeciesFacts
from care.science.potting import (
    ONE_PERSON_KG,
    next_pot,
    takes_small_steps,
    wet_weight_kg,
)
from care.science.replanting import replant_source
from care.science.rootstocks import (
    Held,
    Rootstock,
    Size,
    find_rootstock,
    rootstocks_of,
)
from care.science.soil import drains_too_slowly

__all__ = [
    "Held",
    "PotStep",
    "Rootstock",
    "Size",
    "drains_too_slowly",
    "find_rootstock",
    "is_heavy",
    "next_step",
    "replant_source",
    "rootstocks_of",
    "wet_weight_kg",
]


@dataclass(frozen=True, slots=True)
class PotStep:
    """The next pot by the careful rule, as advised, and at most [L]."""

    careful_l: float
    advised_l: float
    most_l: float
    is_small: bool  # the kind sulks in a pot much too large

    @property
    def limit_l(self) -> float:
        """The largest pot that no rule would call too large a step, a rounding over."""
        return 1.05 * (self.advised_l if self.is_small else self.most_l)


def next_step(litres: float, species: SpeciesFacts) -> PotStep:
    """Return how large a step from a pot may be; see care.science.potting."""
    steps = next_pot(litres, species)
    return PotStep(
        steps.careful_l, steps.advised_l, steps.bold_l, takes_small_steps(species)
    )


def is_heavy(litres: float, medium: str) -> bool:
    """Whether a soaked pot is too heavy for one person to lift."""
    return wet_weight_kg(litres, medium) >= ONE_PERSON_KG
