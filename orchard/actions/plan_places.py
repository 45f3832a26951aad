"""Where trees and wanted trees stand on the plan of their site."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from django.db import transaction

from orchard.actions.audit import note
from orchard.actions.places import raise_revision
from orchard.actions.plans import lock_plan
from orchard.models import Person, Site, Tree
from orchard.plans.gathered import OnPlan, Plant, on_plan, place_of
from orchard.plans.measured import Point
from orchard.plans.problems import PlanError
from orchard.plans.shapes import Neighbour, check_tree


@dataclass(frozen=True, slots=True)
class Placing:
    """A plant and where it is to stand [m]; ``measured`` says how that was found."""

    plant: Plant
    place_m: Point
    measured: Mapping[str, object] = field(default_factory=dict)


@transaction.atomic
def put_plants(
    *,
    site: Site,
    placings: Sequence[Placing],
    may_be_outside: bool = False,
    person: Person | None = None,
) -> None:
    """Write where plants of a site stand, all or none.

    Wanted trees are pinned there: whoever measures a place means it. ``person`` is who
    does it, for the trail, here and below; ``None`` is the server.

    Raises
    ------
    PlanError
        One would stand outside the boundary, on another, or too far away.
    """
    lock_plan(site)
    plan = on_plan(site)
    others = plan.others(*(placing.plant for placing in placings))
    for placing in placings:
        _check(placing, plan, others, may_be_outside=may_be_outside)
        others.append(Neighbour(placing.plant.name, placing.place_m))
        before = _place_words(place_of(placing.plant))
        write_place(placing)
        note(
            orchard=site.orchard,
            person=person,
            what="plant_placed",
            subject=placing.plant.name,
            before=before,
            after=_place_words(placing.place_m),
        )
    raise_revision(site)


def _check(
    placing: Placing, plan: OnPlan, others: list[Neighbour], *, may_be_outside: bool
) -> None:
    try:
        check_tree(
            placing.place_m,
            boundary_m=plan.boundary_m,
            others=others,
            may_be_outside=may_be_outside,
        )
    except PlanError as error:
        tree = f"“{placing.plant.name}”"
        raise error.inside(tree) from error


def write_place(placing: Placing) -> None:
    """Save a plant's place and how it was measured; a part of actions."""
    plant = placing.plant
    plant.x_m, plant.y_m = placing.place_m
    if isinstance(plant, Tree):
        plant.measured = dict(placing.measured)
        plant.save(update_fields=["x_m", "y_m", "measured"])
    else:
        plant.is_pinned = True
        plant.save(update_fields=["x_m", "y_m", "is_pinned"])


def _place_words(place: Point | None) -> dict[str, object]:
    return {"x_m": place[0], "y_m": place[1]} if place else {}


@transaction.atomic
def clear_place(*, site: Site, plant: Plant, person: Person | None = None) -> None:
    """Forget where a plant stands on the plan."""
    before = place_of(plant)
    if before is None:
        return
    plant.x_m = plant.y_m = None
    if isinstance(plant, Tree):
        plant.measured = {}
        plant.save(update_fields=["x_m", "y_m", "measured"])
    else:
        plant.is_pinned = False
        plant.save(update_fields=["x_m", "y_m", "is_pinned"])
    raise_revision(site)
    note(
        orchard=site.orchard,
        person=person,
        what="place_cleared",
        subject=plant.name,
        before=_place_words(before),
    )
