"""Nitrogen: how much for the canopy held now, and how much product carries it."""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from care.facts import NitrogenAdvice, SiteFacts, SoilTest, SpeciesFacts
from care.science.canopy import crown_area_m2

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

SANDY = ("sand", "loamy_sand", "sandy_loam")
# The catalogue's citrus follows Florida's sand (UF/IFAS HS132: 1.1-1.4 lb); UC IPM
# gives 1.0 lb on the heavier soils of California.
FINE_SOIL_CITRUS_SHARE = 1.0 / 1.25

ADVICE_SHARE = {
    NitrogenAdvice.NONE: 0.0,
    NitrogenAdvice.HALF: 0.5,
    NitrogenAdvice.USUAL: 1.0,
}
# Common practice, no source: garden soil is tested again every three years.
TEST_HOLDS_DAYS = 3 * 365


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
    """Nitrogen for one plant and season, and what it was reckoned from.

    ``nitrogen_g = (first + (full - first) * share) * soil_share``, and no more than
    ``pot_cap_g``. ``basis`` says what the share was read from: ``crown``, ``years``
    or, where neither is known, ``pot``.
    """

    nitrogen_g: float
    first_year_g: float
    full_g: float
    share: float
    basis: str
    soil_share: float = 1.0
    pot_cap_g: float | None = None

    @property
    def is_pot_capped(self) -> bool:
        """Whether the volume of the pot holds the amount down."""
        return self.pot_cap_g is not None and self.nitrogen_g >= self.pot_cap_g


def years_share(years: float, feed_group: str) -> float:
    """Return how far a plant of an age is from first-year to full amounts, 0-1.

    Linear over the years, as the published ladders rise (Penn State: equal steps;
    UF/IFAS and UC citrus: full in the fifth year).
    """
    full = FULL_AMOUNT_YEAR.get(feed_group, FULL_AMOUNT_YEAR_ELSE)
    year = int(years) + 1
    return float(np.clip((year - 1) / (full - 1), 0.0, 1.0))


def is_sandy(site: SiteFacts) -> bool:
    """Return whether the soil is of the sand family, which holds little nitrogen."""
    return site.soil_texture in SANDY


def soil_share(species: SpeciesFacts, site: SiteFacts) -> float:
    """Return the part of the catalogue's amount that the soil of a place asks for.

    Citrus gets less on heavier soils than on sand: UC IPM against UF/IFAS HS132.
    """
    if species.feed_group == "citrus" and not is_sandy(site):
        return FINE_SOIL_CITRUS_SHARE
    return 1.0


def pot_cap_g(container_litres: float, splits: int) -> float:
    """Return the most nitrogen for a pot and season, in so many parts [g]."""
    per_litre = min(POT_NITROGEN_G_PER_L, splits * POT_SPLIT_NITROGEN_G_PER_L)
    return per_litre * container_litres


def season_nitrogen(
    species: SpeciesFacts,
    *,
    canopy_m2: float | None,
    years: float | None,
    container_litres: float | None = None,
    ground_share: float = 1.0,
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
    ground_share : float
        What the soil of the place asks for, from :func:`soil_share`; pots have none.

    Returns
    -------
    SeasonNitrogen or None
        ``None`` where the catalogue or the records lack a figure.
    """
    first, full = species.nitrogen_first_year_g, species.nitrogen_mature_g
    if first is None or full is None:
        return None
    found = _share(species, canopy_m2, years, container_litres)
    if found is None:
        return None
    share, basis = found
    amount = first + (full - first) * share
    if container_litres is None:
        amount *= ground_share
        return SeasonNitrogen(amount, first, full, share, basis, ground_share)
    cap = pot_cap_g(container_litres, species.feed_times_per_year or 1)
    return SeasonNitrogen(
        float(min(amount, cap)), first, full, share, basis, pot_cap_g=cap
    )


def _share(
    species: SpeciesFacts,
    canopy_m2: float | None,
    years: float | None,
    container_litres: float | None,
) -> tuple[float, str] | None:
    spread = species.mature_spread_m
    if canopy_m2 is not None and spread:
        return min(1.0, canopy_m2 / float(crown_area_m2(spread))), "crown"
    if years is not None:
        return years_share(years, species.feed_group), "years"
    # The pot bounds what its plant can be; the first year's amount is the least.
    return None if container_litres is None else (0.0, "pot")


def soil_test_in_force(site: SiteFacts, today: date) -> SoilTest | None:
    """Return the site's soil test while it still holds, or ``None``.

    What a laboratory measured goes before any ladder by age, for three years.
    """
    test = site.soil_test
    if test is None or not test.on <= today <= test.on + timedelta(TEST_HOLDS_DAYS):
        return None
    return test


def share_by_soil_test(site: SiteFacts, today: date) -> float:
    """Return the part of the usual nitrogen that the soil test advises, 0-1."""
    test = soil_test_in_force(site, today)
    return 1.0 if test is None else ADVICE_SHARE[test.nitrogen]
