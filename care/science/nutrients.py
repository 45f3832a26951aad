"""Nitrogen: how much for the canopy held now, in how many parts, until when."""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from care.facts import SiteFacts, SpeciesFacts
from care.science.canopy import crown_area_m2
from care.science.season import (
    SHORT_SEASON_DAYS,
    Window,
    frost_free_days,
    growth_start,
    next_on,
    season_date,
)

# UF/IFAS and UC both reach the full citrus amount in the fifth year; Penn State
# raises stone fruit by equal steps to a cap at the tenth.
FULL_AMOUNT_YEAR = {"citrus": 5}
FULL_AMOUNT_YEAR_ELSE = 10

# From memory: a medium label rate of controlled-release feeds is about 4 g of a 15 %
# product a litre of mix for a season. Restricted roots need less (UC IPM).
POT_NITROGEN_G_PER_L = 0.6
# Common practice, no source: more of a quick feed at once than a level teaspoon of a
# 10 % product to four litres of mix burns roots that cannot grow away from the salt.
POT_SPLIT_NITROGEN_G_PER_L = 0.15

FROST_LEAD_DAYS = 56  # eight weeks before the first frost (from memory)
JULY_STOP = (7, 15)  # Penn State Extension, stone fruit: never after 15 July
OCTOBER_STOP = (10, 31)  # UF/IFAS HS132: February to October where frost is rare
MAX_WINDOW_DAYS = 56  # common practice, no source: a split later than this is missed

# Longest new shoots a year, in millimetres: (feed below, skip above). NC State quick
# reference for tree fruit; UNH for stone fruit and pear; NC Extension for blueberry.
GROWTH_BANDS_MM = {
    ("stone", False): (406.0, 610.0),
    ("stone", True): (254.0, 457.0),
    ("pome", False): (305.0, 660.0),
    ("pome", True): (152.0, 305.0),
    ("berry_acid", False): (152.0, 305.0),
    ("berry_acid", True): (152.0, 305.0),
}
GROWTH_BAND_ELSE_MM = (254.0, 457.0)


def product_mass_g(
    nitrogen_g: float, nitrogen_percent: float, applications: int = 1
) -> float:
    """Return the grams of product that carry an amount of nitrogen.

    Parameters
    ----------
    nitrogen_g : float
        Nitrogen of all applications together.
    nitrogen_percent : float
        First number on the bag, above 0 and at most 100.
    applications : int
        Equal parts it is given in.

    Raises
    ------
    ValueError
        If the percentage or the number of parts makes no sense.

    Notes
    -----
    ``N / (percent / 100) / applications``: University of Arizona, "Fertilizing fruit
    trees" (10 lb of 10-10-10 holds 1 lb of nitrogen).
    """
    if not 0 < nitrogen_percent <= 100:  # noqa: PLR2004 - a percentage
        message = f"not a percentage of nitrogen: {nitrogen_percent}"
        raise ValueError(message)
    if applications < 1:
        message = f"not a number of applications: {applications}"
        raise ValueError(message)
    return nitrogen_g / (nitrogen_percent / 100) / applications


def nitrogen_in_product_g(product_g: float, nitrogen_percent: float) -> float:
    """Return the grams of nitrogen in a mass of product."""
    return product_g * nitrogen_percent / 100


@dataclass(frozen=True, slots=True)
class SeasonNitrogen:
    """Nitrogen for one plant and season.

    ``basis`` says what the share of the full amount was read from: ``crown``,
    ``years`` or, where neither is known, ``pot``. ``is_pot_capped`` marks a limit by the volume of the pot.
    """

    nitrogen_g: float
    share: float
    basis: str
    is_pot_capped: bool = False


def years_share(years: float, feed_group: str) -> float:
    """Return how far a plant of an age is from first-year to full amounts, 0-1.

    Linear over the years, as the published ladders rise (Penn State: equal steps;
    UF/IFAS and UC citrus: full in the fifth year).
    """
    full = FULL_AMOUNT_YEAR.get(feed_group, FULL_AMOUNT_YEAR_ELSE)
    year = int(years) + 1
    return float(np.clip((year - 1) / (full - 1), 0.0, 1.0))


def season_nitrogen(
    species: SpeciesFacts,
    *,
    canopy_m2: float | None,
    years: float | None,
    container_litres: float | None = None,
) -> SeasonNitrogen | None:
    """Return a season's nitrogen for the canopy held now.

    Between the species' first-year and full amounts by the share of its full crown
    area, or by years where the crown is not known; a measured crown wins, so that a
    tree kept small is not fed like an orchard one.

    Parameters
    ----------
    canopy_m2 : float or None
        Ground area under the crown today.
    years : float or None
        Years since planting.
    container_litres : float or None
        Volume of the pot, which caps the season's amount and each part of it; ``None``
        in the ground.

    Returns
    -------
    SeasonNitrogen or None
        ``None`` where the catalogue or the records lack a figure.
    """
    first, full = species.nitrogen_first_year_g, species.nitrogen_mature_g
    if first is None or full is None:
        return None
    spread = species.mature_spread_m
    if canopy_m2 is not None and spread:
        share, basis = min(1.0, canopy_m2 / float(crown_area_m2(spread))), "crown"
    elif years is not None:
        share, basis = years_share(years, species.feed_group), "years"
    elif container_litres is not None:
        # The pot bounds what its plant can be; the first year's amount is the least.
        share, basis = 0.0, "pot"
    else:
        return None
    amount = first + (full - first) * share
    cap = np.inf
    if container_litres is not None:
        splits = species.feed_times_per_year or 1
        per_litre = min(POT_NITROGEN_G_PER_L, splits * POT_SPLIT_NITROGEN_G_PER_L)
        cap = per_litre * container_litres
    return SeasonNitrogen(float(min(amount, cap)), share, basis, amount > cap)


def growth_gauge(feed_group: str, shoot_growth_mm: float, *, is_bearing: bool) -> float:
    """Return the part of the ladder's nitrogen that last growth asks for.

    Whole below the band, half within, none above. NC State Extension quick reference
    (feed under 10-12 in, skip over 18 in) and UNH for stone fruit and pear. It never
    raises an amount: short shoots may come from drought, wet roots or transplanting.

    Parameters
    ----------
    feed_group : str
        As in the catalogue.
    shoot_growth_mm : float
        Length of last year's typical new shoots.
    is_bearing : bool
        Whether the tree is of cropping age.
    """
    band = GROWTH_BANDS_MM.get((feed_group, is_bearing), GROWTH_BAND_ELSE_MM)
    if shoot_growth_mm > band[1]:
        return 0.0
    return 1.0 if shoot_growth_mm < band[0] else 0.5


def feeding_stop(season: int, species: SpeciesFacts, site: SiteFacts) -> date:
    """Return the last day on which the season may be fed.

    Eight weeks before the first frost; hardy trees where the season is short no
    later than mid-July (Penn State Extension, stone fruit); frost-free sites until
    the end of October (UF/IFAS HS132). Where the first frost is not known, mid-July:
    the earliest of the published stops.
    """
    southern = site.is_southern
    if site.is_frost_free:
        return season_date(season, *OCTOBER_STOP, southern=southern)
    july = season_date(season, *JULY_STOP, southern=southern)
    if site.first_frost is None:
        return july
    start = growth_start(season, species, site)
    stop = next_on(site.first_frost, start) - timedelta(days=FROST_LEAD_DAYS)
    days = frost_free_days(site)
    is_short = days is None or days < SHORT_SEASON_DAYS
    return stop if species.is_evergreen or not is_short else min(stop, july)


def stop_basis(species: SpeciesFacts, site: SiteFacts) -> str:
    """Return a code for what sets the stop date of :func:`feeding_stop`."""
    if site.is_frost_free:
        return "frost_free"
    if site.first_frost is None:
        return "frost_unknown"
    days = frost_free_days(site)
    if not species.is_evergreen and (days is None or days < SHORT_SEASON_DAYS):
        return "short_season"
    return "first_frost"


def split_windows(
    season: int, species: SpeciesFacts, site: SiteFacts
) -> tuple[Window, ...]:
    """Return one window a split, evenly from the start of growth to the stop.

    The windows do not touch each other, and none outlasts eight weeks or the stop.
    Empty where growth starts after the stop.
    """
    start = growth_start(season, species, site)
    stop = feeding_stop(season, species, site)
    times = species.feed_times_per_year or 1
    span = (stop - start).days + 1
    if span < times:
        return ()
    firsts = [start + timedelta(days=span * split // times) for split in range(times)]
    lasts = [first - timedelta(days=1) for first in firsts[1:]] + [stop]
    return tuple(
        Window(first, min(last, first + timedelta(days=MAX_WINDOW_DAYS)))
        for first, last in zip(firsts, lasts, strict=True)
    )


def outside_blackouts(window: Window, site: SiteFacts) -> Window | None:
    """Return the first unbroken part of a window in which the site may be fed.

    ``None`` where the local rule blocks all of it.
    """
    if not site.feeding_blackouts:
        return window
    free: list[date] = []
    for offset in range((window.end - window.start).days + 1):
        day = window.start + timedelta(days=offset)
        if not is_blacked_out(day, site):
            free.append(day)
        elif free:
            break
    return Window(free[0], free[-1]) if free else None


def is_blacked_out(day: date, site: SiteFacts) -> bool:
    """Return whether the local authority forbids feeding on ``day``."""
    for blackout in site.feeding_blackouts:
        start = blackout.start.in_year(day.year)
        end = blackout.end.in_year(day.year)
        if start <= end and start <= day <= end:
            return True
        if start > end and (day >= start or day <= end):
            return True
    return False
