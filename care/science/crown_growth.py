"""How wide and high a plant is now, in five years, and when it is grown."""

from dataclasses import dataclass
from datetime import date

from care.facts import PlantFacts, PlanTime, Standing
from care.science.canopy import YEARS_TO_FULL_CROWN, grown_crown_width_m
from care.science.spacing import crown_today_m, grown_spread_m

DAYS_IN_YEAR = 365.25
YEARS_AHEAD = 5.0
NEW_PLANT_M = 0.5  # of one still to come of which nothing is known; no source


@dataclass(frozen=True, slots=True)
class Size:
    """A crown's width and a plant's height [m]."""

    width_m: float
    height_m: float


def size_at(plant: PlantFacts, when: PlanTime, today: date) -> Size:
    """Return how large a plant is at a time; a guess, so measure instead.

    From today's crown a straight line to the grown one, ten years after planting
    (:func:`care.science.canopy.grown_crown_width_m`; no published source). One in a pot
    stays as it is. One still to be planted counts from its planting; a neighbour's, of
    which nobody measures anything, counts as grown.

    Parameters
    ----------
    plant : PlantFacts
        Its grown size is that where it stands; unknown, it stays as it is.
    when : PlanTime
        Five years are from ``today``, or from planting where that is to come.
    today : datetime.date
        The day of ``plant.crown_width_m``.
    """
    width_m = crown_today_m(plant) or NEW_PLANT_M
    height_m = plant.height_m or width_m
    if plant.standing is Standing.NEIGHBOUR:
        when = PlanTime.GROWN
    if plant.in_container or when is PlanTime.TODAY:
        return Size(width_m, height_m)
    years = (
        YEARS_TO_FULL_CROWN if when is PlanTime.GROWN else _years_of_line(plant, today)
    )
    return Size(
        grown_crown_width_m(width_m, grown_spread_m(plant), years),
        grown_crown_width_m(height_m, plant.grown_height_m, years),
    )


def _years_of_line(plant: PlantFacts, today: date) -> float:
    """Return how much of the whole line five years are from where a plant is [years].

    One of which nobody knows when it was planted has the whole line before it.
    """
    age = 0.0
    if plant.planted_on is not None:
        age = max((today - plant.planted_on).days / DAYS_IN_YEAR, 0.0)
    left = max(YEARS_TO_FULL_CROWN - age, YEARS_AHEAD)
    return YEARS_TO_FULL_CROWN * YEARS_AHEAD / left
