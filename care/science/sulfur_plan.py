"""How much sulfur one sour bed gets next, and the working that led to it."""

from dataclasses import dataclass
from datetime import date, timedelta

from care.facts import Situation
from care.proposals import Scalar
from care.science.kitchen_measures import SULFUR_DENSITY_G_PER_ML, kitchen_measure
from care.science.season import season_of, start_of_growth
from care.science.soil_acidity import (
    DIFFICULT_PH,
    GOOD_LEAD_DAYS,
    LEAST_LEAD_DAYS,
    PLANTED_LIMIT_G_PER_M2,
    SulfurRate,
    preplant_sulfur,
)
from care.science.soil_record import (
    Acidity,
    bed_area_m2,
    planted_area_m2,
    sulfur_this_year_g,
)

WINDOW_DAYS = 56  # common practice, no source: while spring soil warms

Facts = tuple[tuple[str, Scalar], ...]


@dataclass(frozen=True, slots=True)
class SulfurPlan:
    """Sulfur for one plant's ground: the rate, the ground, and when."""

    code: str
    per_m2_g: float
    area_m2: float
    days: tuple[date, date, date]
    facts: Facts

    @property
    def grams(self) -> float:
        """What to spread."""
        return self.per_m2_g * self.area_m2


def bed_plan(
    situation: Situation, known: Acidity, aim: float, planting: date
) -> SulfurPlan | None:
    """Return sulfur to mix into a bed ahead of planting, ``None`` if it is too late.

    Six months ahead, three at the least; two thirds of a large amount (University of
    Tennessee, Extension Foundation).
    """
    latest = planting - timedelta(days=LEAST_LEAD_DAYS)
    if latest < situation.today:
        return None
    start = max(known.tested_on or date.min, situation.tree.entered_on)
    due = min(max(planting - timedelta(days=GOOD_LEAD_DAYS), start), latest)
    rate = preplant_sulfur(known.ph, aim, situation.site.soil_texture)
    per_m2_g, area_m2 = rate.first_g_per_m2, bed_area_m2(situation.tree)
    facts = (
        *_facts(situation, known, aim, per_m2_g, area_m2),
        ("planted_on", planting),
        *_rate_facts(rate),
    )
    days = (min(start, due), due, latest)
    return SulfurPlan("soil_sour_bed", per_m2_g, area_m2, days, facts)


def _rate_facts(rate: SulfurRate) -> Facts:
    return (
        ("tennessee_g_per_m2", round(rate.tennessee_g_per_m2, 1)),
        ("extension_g_per_m2", round(rate.extension_g_per_m2, 1)),
        ("whole_g_per_m2", round(rate.low_g_per_m2, 1)),
        ("is_split", rate.is_split),
    )


def planted_plan(situation: Situation, known: Acidity, aim: float) -> SulfurPlan:
    """Return this year's sulfur on the surface round a planted bush.

    Never above the yearly limit of 0.7 lb for 100 ft2 (Extension Foundation).
    """
    site, tree, today = situation.site, situation.tree, situation.today
    area_m2 = planted_area_m2(tree, today) / (1 + len(situation.clump_mates))
    had_g = sulfur_this_year_g(situation, PLANTED_LIMIT_G_PER_M2 * area_m2)
    rate = preplant_sulfur(known.ph, aim, site.soil_texture)
    per_m2_g = rate.planted_g_per_m2(had_g / area_m2)
    first = _spring(situation)
    if known.tested_on is not None:
        first = max(first, known.tested_on)
    window = timedelta(days=WINDOW_DAYS)
    facts = (
        *_facts(situation, known, aim, per_m2_g, area_m2),
        ("limit_g_per_m2", round(PLANTED_LIMIT_G_PER_M2, 1)),
        ("given_this_year_g_per_m2", round(had_g / area_m2, 1)),
        *_rate_facts(rate),
    )
    days = (first, first + window / 2, first + window)
    return SulfurPlan("soil_sour_planted", per_m2_g, area_m2, days, facts)


def _spring(situation: Situation) -> date:
    """Return the start of growth at hand, or the next one once it is long past."""
    today = situation.today
    season = season_of(today, southern=situation.site.is_southern)
    first = start_of_growth(situation, season).on
    if today > first + timedelta(days=WINDOW_DAYS):
        return start_of_growth(situation, season + 1).on
    return first


def _facts(
    situation: Situation, known: Acidity, aim: float, per_m2_g: float, area_m2: float
) -> Facts:
    measure = kitchen_measure(per_m2_g * area_m2, SULFUR_DENSITY_G_PER_ML)
    return (
        ("ph", known.ph),
        ("aim_ph", aim),
        ("tested_on", known.tested_on),
        ("soil_texture", situation.site.soil_texture),
        ("area_m2", round(area_m2, 2)),
        ("sulfur_g_per_m2", round(per_m2_g, 1)),
        ("is_difficult", known.ph > DIFFICULT_PH),
        ("density_g_per_ml", round(SULFUR_DENSITY_G_PER_ML, 3)),
        ("volume_ml", round(measure.volume_ml, 1)),
        ("measure_count", measure.count),
        ("measure", measure.unit),
        ("unverified", "ph_max" in situation.tree.species.unverified),
    )
