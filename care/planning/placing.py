"""Places proposed for the trees of a planting, and how its plan would look with them."""

import hashlib
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from care.facts import LayoutFacts, PlantFacts, Standing
from care.planning.fit_site import SiteFit
from care.planning.kinds import Kinds
from care.planning.partners import PartnerRow, partners_of
from care.science.fit_verdicts import rank
from care.science.placing import MOST_TREES, Goal, Proposal, WhyNot, propose_places

__all__ = ["MOST_TREES", "Goal", "PlacingPlan", "Proposal", "WhyNot", "placing_plan"]


@dataclass(frozen=True, slots=True)
class PlacingPlan:
    """What is proposed for a planting.

    ``layout`` is the plan as it would be, ``pinned`` the trees of the planting that
    stay where they are. ``digest`` tells whether two plans propose the same.
    """

    layout: LayoutFacts
    proposals: tuple[Proposal, ...]
    pinned: tuple[PlantFacts, ...]
    partners: tuple[PartnerRow, ...]
    digest: str

    @property
    def placed(self) -> tuple[Proposal, ...]:
        """Return the proposals that are places."""
        return tuple(each for each in self.proposals if each.place_m is not None)


def placing_plan(
    layout: LayoutFacts,
    kinds: Kinds,
    refs: Collection[str],
    *,
    goal: Goal,
    attempt: int = 0,
    water_setback_m: float | None = None,
    fit: SiteFit | None = None,
) -> PlacingPlan:
    """Return places for the trees of a planting that are not pinned to one.

    Parameters
    ----------
    layout : LayoutFacts
        The plan of the site as it is.
    refs : collection of str
        The wanted trees of the planting; others of the plan are left where they are.
    goal, attempt, water_setback_m
        As `care.science.placing.propose_places` has them.
    fit : SiteFit, optional
        How well kinds fit the site: those that fit best go first, else the list's
        order counts.
    """
    ours = [plant for plant in layout.plants if plant.ref in refs]
    pinned = tuple(plant for plant in ours if _stays(plant))
    wanted = _best_first([plant for plant in ours if not _stays(plant)], fit)
    proposals = propose_places(
        layout, wanted, goal=goal, attempt=attempt, water_setback_m=water_setback_m
    )
    places = {each.ref: each.place_m for each in proposals}
    after = replace(
        layout,
        plants=tuple(
            replace(plant, place_m=places[plant.ref]) if plant.ref in places else plant
            for plant in layout.plants
        ),
    )
    rows = partners_of(after, kinds)
    return PlacingPlan(
        layout=after,
        proposals=proposals,
        pinned=pinned,
        partners=tuple(row for row in rows if row.plant in refs),
        digest=hashlib.sha256(repr(proposals).encode()).hexdigest()[:16],
    )


def _best_first(plants: Sequence[PlantFacts], fit: SiteFit | None) -> list[PlantFacts]:
    """Return plants by how well their kind fits, alike ones as they were."""
    if fit is None:
        return list(plants)
    known = {each.key: each for each in fit.fits}

    def badness(plant: PlantFacts) -> tuple[int, float]:
        own = known.get(plant.cultivar.key) if plant.cultivar else None
        tried = own or known[plant.species.key]
        return rank(tried.place(in_pot=plant.in_container))

    return sorted(plants, key=badness)


def _stays(plant: PlantFacts) -> bool:
    return plant.is_pinned and plant.place_m is not None


def wanted_ref(pk: int) -> str:
    """Return how a layout names a wanted tree."""
    return f"{Standing.WANTED}-{pk}"
