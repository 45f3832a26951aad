"""One watering as a visit: how long the water runs, in how many goes, who waits.

With a hose the person stays until the last go; drip runs by itself. Nobody is told
minutes whose flow nobody timed.
"""

from dataclasses import dataclass
from math import ceil

from care.facts import SiteFacts, TreeFacts, WaterOutlook
from care.science.application import HOLLOWS_MM, Portions, running_minutes, split
from care.science.soil import texture_where_planted

RIM_MM = 50.0  # of earth round a watered basin; common practice, no source
USUAL_FLOW_L_PER_MIN = 10.0  # a garden hose, for the day's plan only; no source
LONGEST_VISIT_MINUTES = 60  # nobody stands by for longer, the water may run on
TO_A_POT_MINUTES, TO_A_TREE_MINUTES = 2, 4  # no source


@dataclass(frozen=True, slots=True)
class Visit:
    """How one watering goes.

    ``flow`` is ``drip``, ``hose`` or, where nobody timed either, empty: then
    ``minutes`` is ``None`` and there is one go.
    """

    flow: str
    minutes: float | None  # of running water, all goes together
    cycles: int
    cycle_minutes: float | None
    soak_minutes: float  # between two goes
    days: int  # over which a slow soil needs it spread
    effort_minutes: int  # of a person


def _flow(tree: TreeFacts, site: SiteFacts) -> tuple[str, float | None]:
    if tree.drip_flow_l_per_min:
        return "drip", tree.drip_flow_l_per_min
    if site.hose_flow_l_per_min:
        return "hose", site.hose_flow_l_per_min
    return "", None


def _portions(
    litres: float, water: WaterOutlook, tree: TreeFacts, site: SiteFacts, flow: float
) -> Portions | None:
    """Return the goes in open ground; a pot takes all at once until it runs out."""
    if water.is_container or water.basin_area_m2 <= 0:
        return None
    is_dripped = bool(tree.drip_flow_l_per_min)
    return split(
        litres,
        area_m2=water.basin_area_m2,
        flow_l_min=flow,
        texture=texture_where_planted(site.soil_texture, tree.drainage_hours),
        berm_mm=HOLLOWS_MM if is_dripped else RIM_MM,
    )


def _effort(water: WaterOutlook, minutes: float) -> int:
    walking = TO_A_POT_MINUTES if water.is_container else TO_A_TREE_MINUTES
    return min(walking + ceil(minutes), LONGEST_VISIT_MINUTES)


def watering_visit(
    litres: float, water: WaterOutlook, tree: TreeFacts, site: SiteFacts
) -> Visit:
    """Return how to bring a tree its litres.

    Parameters
    ----------
    litres : float
        To pour.
    water : WaterOutlook
        For the ground they go onto.
    tree, site : TreeFacts, SiteFacts
        For the flow that was timed, drip before hose, and the soil.
    """
    kind, flow = _flow(tree, site)
    if flow is None:
        minutes = running_minutes(litres, USUAL_FLOW_L_PER_MIN)
        return Visit("", None, 1, None, 0.0, 1, _effort(water, minutes))
    minutes = running_minutes(litres, flow)
    effort = _effort(water, 1.0 if kind == "drip" else minutes)
    goes = _portions(litres, water, tree, site, flow)
    if goes is None or not goes.is_split:
        return Visit(kind, minutes, 1, minutes, 0.0, 1, effort)
    return Visit(
        kind,
        minutes,
        goes.count,
        goes.portion_minutes,
        goes.soak_minutes,
        goes.days,
        effort,
    )
