"""Soil acidity for plants that need it sour, and the sulfur that gets it there.

Elemental sulfur turns to acid only as soil bacteria work on it: months in warm moist
soil. What was given cannot be taken back, so the smaller of two published rates is
given, and the soil is tested again before more.
"""

from dataclasses import dataclass

from care.facts import SpeciesFacts
from care.science.ladder_sources import POUND_G, SQUARE_FOOT_M2

ACID_PH = 5.5
# Extension Foundation, blueberry community: aim at about 4.8, more harms the bush.
BLUEBERRY_AIM_PH = 4.8
# The same: above it a bed for blueberries needs massive amounts of peat or pine bark.
DIFFICULT_PH = 6.0
# From memory: from here on free lime neutralises any sulfur that a garden can spare.
CALCAREOUS_PH = 7.5

_PER_100_FT2 = POUND_G / (100 * SQUARE_FOOT_M2)
_PER_1000_FT2 = _PER_100_FT2 / 10
# University of Tennessee, blueberries: 2 lb for 1000 ft2 and 0.1 of pH on silt loam,
# a third more on clay, a third less on sand; worked into the top three inches.
TENNESSEE_TENTH_G_PER_M2 = 2.0 * _PER_1000_FT2
TENNESSEE_TEXTURE = {"silt": 1.0, "clay": 4 / 3, "sand": 2 / 3}
# Extension Foundation: 1 lb for 100 ft2 and one unit of pH on sand, 2 lb on heavier
# soils, mixed in several months to a year before planting.
EXTENSION_UNIT_G_PER_M2 = {
    "sand": 1.0 * _PER_100_FT2,
    "silt": 2.0 * _PER_100_FT2,
    "clay": 2.0 * _PER_100_FT2,
}
# Extension Foundation: around planted bushes, on the surface, a year.
PLANTED_LIMIT_G_PER_M2 = 0.7 * _PER_100_FT2
# Tennessee: above 30 lb for 1000 ft2 two thirds first, the rest by a new test.
SPLIT_ABOVE_G_PER_M2 = 30.0 * _PER_1000_FT2
FIRST_SHARE = 2 / 3
RETEST_DAYS = 91  # Tennessee: about three months
LEAST_LEAD_DAYS = 91  # Tennessee: at least three months before planting
GOOD_LEAD_DAYS = 183  # Extension Foundation: six months for pH 5.4 to 6.0

# FAO-56 textures by Tennessee's three families.
FAMILIES = {
    "sand": "sand",
    "loamy_sand": "sand",
    "sandy_loam": "sand",
    "loam": "silt",
    "silt_loam": "silt",
    "silt": "silt",
    "silty_clay_loam": "clay",
    "silty_clay": "clay",
    "clay": "clay",
}


@dataclass(frozen=True, slots=True)
class SulfurRate:
    """Sulfur to lower a soil's pH to an aim: two published rates [g/m2]."""

    tennessee_g_per_m2: float
    extension_g_per_m2: float

    @property
    def low_g_per_m2(self) -> float:
        """The smaller of the two."""
        return min(self.tennessee_g_per_m2, self.extension_g_per_m2)

    @property
    def first_g_per_m2(self) -> float:
        """What goes in before the soil is tested again."""
        low = self.low_g_per_m2
        return low * FIRST_SHARE if low > SPLIT_ABOVE_G_PER_M2 else low

    @property
    def is_split(self) -> bool:
        """Whether the amount is too much for one go."""
        return self.low_g_per_m2 > SPLIT_ABOVE_G_PER_M2

    def planted_g_per_m2(self, given_g_per_m2: float) -> float:
        """Return what may yet be strewn round a planted bush this year.

        Never more than the yearly limit less what it has had, whatever the soil needs.
        """
        left = max(0.0, PLANTED_LIMIT_G_PER_M2 - given_g_per_m2)
        return min(self.low_g_per_m2, left)


def is_acid_lover(species: SpeciesFacts) -> bool:
    """Return whether a species needs sour soil: pH 5.5 or less, or fed as such."""
    limit = species.ph_max
    return species.feed_group == "berry_acid" or (
        limit is not None and limit <= ACID_PH
    )


def aim_ph(species: SpeciesFacts) -> float | None:
    """Return the pH to aim at, inside the species' own range, or ``None`` if unknown.

    A blueberry's 4.8 for those fed as one, else the middle of the range.
    """
    low, high = species.ph_min, species.ph_max
    if low is None or high is None:
        return None
    if species.feed_group == "berry_acid":
        return min(max(BLUEBERRY_AIM_PH, low), high)
    return (low + high) / 2


def preplant_sulfur(ph: float, aim: float, soil_texture: str) -> SulfurRate:
    """Return the sulfur to mix into a bed well before planting.

    Only before planting: around planted bushes no more than
    ``PLANTED_LIMIT_G_PER_M2`` a year, on the surface; none in pots.

    Parameters
    ----------
    ph, aim : float
        Measured and wanted; nothing is needed at or below the aim.
    soil_texture : str
        A class of FAO-56 Table 19.

    Raises
    ------
    KeyError
        If the texture is none of the table.

    Notes
    -----
    University of Tennessee, "Blueberries", published above pH 5.5 and carried on below
    it at the same pace; Extension Foundation, "Soil pH for blueberry plantings". They
    agree on silt and part on sand (1.33 to 1) and clay (1.33 to 1).
    """
    family = FAMILIES[soil_texture]
    units = max(0.0, ph - aim)
    tennessee = TENNESSEE_TENTH_G_PER_M2 * TENNESSEE_TEXTURE[family] * 10 * units
    return SulfurRate(tennessee, EXTENSION_UNIT_G_PER_M2[family] * units)
