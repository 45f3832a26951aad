"""Pots: how large a step, how often, when one is too small, what it weighs."""

from dataclasses import dataclass
from datetime import date, timedelta

from care.facts import Situation, SpeciesFacts, TreeFacts, WaterOutlook
from care.science.container_water import pot_diameter_m, pot_volume_litres
from care.science.season import Window, is_tender, start_of_growth

INCH_M = 0.0254
# No wider than 2 in a step (nursery pages) or no larger than three times the volume:
# the two published rules differ; between them, 2-4 in.
CAREFUL_STEP_M = 2 * INCH_M
USUAL_STEP_M = 3 * INCH_M
MOST_TIMES = 3.0
SMALL_STEPS = ("citrus",)  # and avocado: rot in wet mix that no root drinks from
SMALL_STEP_KEYS = ("avocado",)
ROOTS_OFF_MM = (25.0, 50.0)  # circling roots: 1-2 in
TOP_OFF_SHARE = (0.25, 0.33)
YEARS_BETWEEN = (2.0, 3.0, 5.0)  # 2-3 (extension reprints), 3-5 (Nevada)
GROWING_YEARS = 2.0  # while the pot is smaller than the kind lives in when grown
LARGEST_POT_L = 150.0  # beyond it roots are cut instead; common practice, no source
HOT_ET0_MM = 6.0  # a hot day; FAO-56 Table 2 has 4-7 for warm temperate summers
LEAD_DAYS, AFTER_DAYS = 42, 14  # late winter, before growth; common practice
FEED_DAYS = 28  # not in the month of a feeding
# Kilograms a litre when wet, pot and plant not counted; from memory.
WET_KG_PER_L = {"mix": 0.9, "soil": 1.6}
ONE_PERSON_KG = 23.0  # NIOSH lifting equation, load constant (51 lb; OSHA, CCOHS)


@dataclass(frozen=True, slots=True)
class PotSteps:
    """The next pot [L]: by the careful rule, as advised, and by the bold rule."""

    careful_l: float
    advised_l: float
    bold_l: float


def pot_litres(tree: TreeFacts) -> float | None:
    """Return a pot's volume, from its width where that is all that is known."""
    if tree.container_litres:
        return tree.container_litres
    if tree.container_diameter_m:
        return pot_volume_litres(tree.container_diameter_m)
    return None


def takes_small_steps(species: SpeciesFacts) -> bool:
    """Return whether a kind sulks in a pot much too large for its roots."""
    return species.feed_group in SMALL_STEPS or species.key in SMALL_STEP_KEYS


def next_pot(litres: float, species: SpeciesFacts) -> PotSteps:
    """Return the next size of pot.

    Citrus and avocado keep to the careful step; no step passes three times the volume.
    """
    width_m = pot_diameter_m(litres)
    most = MOST_TIMES * litres
    careful = min(pot_volume_litres(width_m + CAREFUL_STEP_M), most)
    usual = min(pot_volume_litres(width_m + USUAL_STEP_M), most)
    advised = careful if takes_small_steps(species) else usual
    return PotSteps(careful, advised, most)


def hot_et0_mm(water: WaterOutlook) -> float:
    """Return the evaporation that a pot must bear: a hot day's, or today's if hotter."""
    return max(HOT_ET0_MM, water.et0_mm)


def hot_day_l(water: WaterOutlook, species: SpeciesFacts) -> float:
    """Return what a crown in full leaf drinks on a hot day [L], FAO-56 Eq. 58."""
    return water.crown_area_m2 * species.kc_mid * hot_et0_mm(water)


def easy_l(water: WaterOutlook) -> float:
    """Return what a full pot gives without stress [L], FAO-56 Eq. 83."""
    return water.depletion_p * water.store_l


def is_cramped(water: WaterOutlook, species: SpeciesFacts) -> bool:
    """Return whether a hot day in full leaf takes all that is easily had.

    The whole crown's demand, not today's, so that winter and summer agree.
    """
    is_flagged = water.pot_too_small or water.needs_twice_daily
    return is_flagged or hot_day_l(water, species) > easy_l(water)


def wet_kg_per_l(medium: str) -> float:
    """Return what a litre of soaked medium weighs [kg]."""
    return WET_KG_PER_L["soil" if "soil" in medium else "mix"]


def wet_weight_kg(litres: float, medium: str) -> float:
    """Return what a soaked pot weighs [kg], without the plant."""
    return litres * wet_kg_per_l(medium)


def potting_window(situation: Situation, season: int) -> Window:
    """Return the weeks for it: before bud break, or after it for tender kinds."""
    start = start_of_growth(situation, season).on
    lead, after = LEAD_DAYS, AFTER_DAYS
    if is_tender(situation.tree.species):
        lead, after = after, lead
    return Window(start - timedelta(days=lead), start + timedelta(days=after))


def years_due_on(last: date, years: float) -> date:
    """Return the day so many years after the last potting."""
    return last + timedelta(days=round(years * 365.25))
