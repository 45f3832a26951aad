"""What is wrong with where plants stand on a site's plan, gravest first."""

from collections.abc import Mapping
from dataclasses import dataclass

from care.facts import ClumpFacts, Conflict, LayoutFacts
from care.science.clearances import BRANCH_TO_WIRE_M, clearance_conflicts
from care.science.planting import UNDER_LINES_M
from care.science.shading import shading_conflicts, sunlight
from care.science.spacing import accepted_groups, spacing_conflicts

__all__ = ["BRANCH_TO_WIRE_M", "UNDER_LINES_M", "LayoutCheck", "layout_check"]

#: From what can hurt somebody to what is a matter of taste.
WEIGHT = (
    "near_wires",
    "near_septic",
    "in_water",
    "outside_boundary",
    "below_minimum",
    "near_building",
    "near_pipe",
    "near_wall",
    "shading",
    "below_recommended",
    "within_setback",
    "hedge_without_limit",
    "near_paving",
    "crowns_meet",
)


@dataclass(frozen=True, slots=True)
class LayoutCheck:
    """Conflicts in their order; ``accepted`` are groups that stand close on purpose.

    ``sun_hours`` are those of a clear day at equinox or at midsummer, whichever is
    darker, all plants grown, by the ``ref`` of ours and of those wanted [h].
    """

    conflicts: tuple[Conflict, ...]
    accepted: tuple[ClumpFacts, ...]
    sun_hours: Mapping[str, float]


def layout_check(
    layout: LayoutFacts, *, water_setback_m: float | None = None
) -> LayoutCheck:
    """Return what stands in the way of what; a function of the plan alone.

    Parameters
    ----------
    layout : LayoutFacts
        Plants without a place take no part.
    water_setback_m : float, optional
        How far from water the site's own rule forbids feeding.
    """
    lights = sunlight(layout)
    found = (
        *spacing_conflicts(layout.plants),
        *clearance_conflicts(
            layout.plants, layout.features, water_setback_m=water_setback_m
        ),
        *shading_conflicts(layout.plants, lights),
    )
    return LayoutCheck(
        conflicts=tuple(sorted(found, key=_order)),
        accepted=accepted_groups(layout.plants),
        sun_hours={ref: light.darker_h for ref, light in lights.items()},
    )


def _order(conflict: Conflict) -> tuple[int, str, str]:
    return WEIGHT.index(conflict.code), conflict.who, conflict.whom
