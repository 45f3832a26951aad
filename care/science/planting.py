"""Planting: the hole, the locate service's days, how far from what."""

from dataclasses import dataclass
from datetime import date, timedelta

from care.facts import Situation, SpeciesFacts, Stock, TreeFacts
from care.science.container_water import SLENDERNESS, pot_diameter_m
from care.science.establishment import ball_litres
from care.science.planting_windows import PlantingWindow, windows_for
from care.science.season import season_of

# Two to three times the ball, a saucer: Colorado State, GardenNotes 633.
HOLE_WIDTHS = (2.0, 3.0)
# The ball's top above the ground: 1-2 in (GardenNotes 633), up to 3 (common practice).
ABOVE_GROUND_MM = (25.0, 75.0)
ABOVE_GROUND_USUAL_MM = 40.0
# Figs go 2-4 in deeper than they stood (University of Georgia Extension).
DEEPER_MM = {"fig": (50.0, 100.0)}
BARE_ROOT_WIDTH_M = 0.5  # roots spread unbent; common practice, no source
BARE_ROOT_DEPTH_M = 0.3
BARE_ROOT_HOLE_L = 60.0  # of that width and depth, rounded
TEST_HOLE_M = 0.76  # 30 in deep, filled with water: Texas A&M
MARK_BUSINESS_DAYS = 3  # two to three before digging; US locate services
SATURDAY = 5

AUTUMN_CODES = ("planting_hardy_in_autumn", "planting_autumn_of_dry_summer")

FOOT_M = 0.3048
SMALL_HEIGHT_M = 40 * FOOT_M  # up to here small or medium (takingroot.info)
BUILDING_M = (10 * FOOT_M, 15 * FOOT_M)
PIPE_M = 5 * FOOT_M
UNDER_LINES_M = 25 * FOOT_M  # the tallest mature tree near lines
SEPTIC_LEAST_M = 25 * FOOT_M
LEAST_APART_M = 12 * FOOT_M  # fruit trees; common practice, no source
BETTER_APART_M = (15 * FOOT_M, 20 * FOOT_M)


@dataclass(frozen=True, slots=True)
class Hole:
    """A planting hole [m]; ``above_ground_m`` is negative where it goes deeper."""

    ball_width_m: float
    ball_depth_m: float
    least_width_m: float
    most_width_m: float
    depth_m: float
    above_ground_m: float


def planting_hole(tree: TreeFacts) -> Hole:
    """Return the hole for a tree: two to three times as wide, no deeper than the ball.

    Bare roots get a hole wide enough to spread them and as deep as the highest root
    lies over the lowest.
    """
    if tree.stock is Stock.BARE_ROOT:
        width_m, depth_m, widths = BARE_ROOT_WIDTH_M, BARE_ROOT_DEPTH_M, (1.0, 1.5)
    else:
        width_m = pot_diameter_m(ball_litres(tree))
        depth_m, widths = SLENDERNESS * width_m, HOLE_WIDTHS
    deeper_mm = DEEPER_MM.get(tree.species.key)
    above_mm = -sum(deeper_mm) / 2 if deeper_mm else ABOVE_GROUND_USUAL_MM
    return Hole(
        ball_width_m=width_m,
        ball_depth_m=depth_m,
        least_width_m=widths[0] * width_m,
        most_width_m=widths[1] * width_m,
        depth_m=max(depth_m - above_mm / 1000, 0.0),
        above_ground_m=above_mm / 1000,
    )


def business_days_before(day: date, number: int) -> date:
    """Return the day with so many weekdays between it and ``day``.

    Holidays are not known here: the locate service's own answer goes before.
    """
    left = number
    while left:
        day -= timedelta(days=1)
        left -= day.weekday() < SATURDAY
    return day


def business_days_after(day: date, number: int) -> date:
    """Return the weekday that is so many weekdays after ``day``."""
    left = number
    while left:
        day += timedelta(days=1)
        left -= day.weekday() < SATURDAY
    return day


def building_distance_m(mature_height_m: float) -> float:
    """Return how far from a wall a tree goes: 10 ft up to 40 ft of height, else 15."""
    near, far = BUILDING_M
    return near if mature_height_m <= SMALL_HEIGHT_M else far


def septic_distance_m(mature_height_m: float) -> float:
    """Return how far from a drain field: its height when grown, at least 25 ft.

    North Carolina Cooperative Extension, Chatham; extension.org on tree roots.
    """
    return max(mature_height_m, SEPTIC_LEAST_M)


def may_stand_under_lines(species: SpeciesFacts) -> bool:
    """Return whether a kind stays under 25 ft; unknown heights may not."""
    height_m = species.mature_height_m
    return height_m is not None and height_m <= UNDER_LINES_M


def is_too_close(spacing_m: float, species: SpeciesFacts) -> bool:
    """Return whether trees would stand closer than the kind's, or any's, least.

    The catalogue's least holds for dwarfs too, and shrubs have only that.
    """
    if species.spacing_min_m is not None:
        return spacing_m < species.spacing_min_m
    return species.habit == "tree" and spacing_m < LEAST_APART_M


def _is_between(
    windows: tuple[PlantingWindow, ...], species: SpeciesFacts, day: date
) -> bool:
    """Return whether a day lies in the winter between autumn's and spring's window."""
    autumn = [found.window for found in windows if found.code in AUTUMN_CODES]
    spring = [found.window for found in windows if found.code not in AUTUMN_CODES]
    if not autumn or not spring or species.is_evergreen:
        return False
    return autumn[0].end < day < spring[0].start


def nearest_window(situation: Situation, day: date) -> tuple[PlantingWindow, date]:
    """Return the time for such stock that is not over and nearest to a planned day.

    Returns
    -------
    tuple of PlantingWindow and datetime.date
        The window, and the day within it, from today on, that is nearest; the planned
        day itself where that is within, or between autumn and spring for a bare tree
        in a pot: those go in from autumn to early spring (extension pages).
    """
    season = season_of(day, southern=situation.site.is_southern)
    years = [windows_for(situation, season + ahead) for ahead in range(3)]
    for windows in years:
        if _is_between(windows, situation.tree.species, day):
            return windows[0], day
    ahead = [
        found
        for windows in years
        for found in windows
        if found.window.end >= situation.today
    ]

    def best_on(found: PlantingWindow) -> date:
        first = max(found.window.start, situation.today)
        return min(max(day, first), found.window.end)

    nearest = min(ahead, key=lambda found: abs(best_on(found) - day))
    return nearest, best_on(nearest)
