"""What a soil holds and how fast it takes water in."""

from dataclasses import dataclass

import numpy as np

from care.facts import Array

SLOW_INFILTRATION_MM_H = 10.0  # a soil whose fast end is no faster drains slowly

# A hole filled with water: under a day until it is empty is good, over two days
# unsuitable without a mound (Texas A&M, a hole 30 in deep). Within the hour is sand
# (common practice, no source).
SAND_HOURS = 1.0
GOOD_HOURS, MARGINAL_HOURS = 24.0, 48.0


@dataclass(frozen=True, slots=True)
class Texture:
    """One row of FAO-56 Table 19, with a band of infiltration beside it.

    Ranges run from the low to the high end of the table: water content at field
    capacity and at the wilting point [m3/m3], what lies between them [mm per m of
    soil] and the steady rate of infiltration [mm/h].
    """

    key: str
    field_capacity: tuple[float, float]
    wilting_point: tuple[float, float]
    available_mm_per_m: tuple[float, float]
    infiltration_mm_h: tuple[float, float]

    @property
    def available_water_mm_per_m(self) -> float:
        """The middle of the table's range of available water [mm per m of soil]."""
        return sum(self.available_mm_per_m) / 2

    @property
    def is_slow(self) -> bool:
        """Whether water stands in it for days: the clay families."""
        return self.infiltration_mm_h[1] <= SLOW_INFILTRATION_MM_H


# Water contents: Allen et al. (1998), FAO-56, Table 19. Infiltration of sand, sandy
# loam, loam, clay loam and clay: Brouwer et al. (1988), FAO Irrigation Water Management
# Training Manual 5, Annex 2; the textures between them by their neighbours. Other
# sources differ by a factor of two to four: a band, not a figure.
TEXTURES = {
    texture.key: texture
    for texture in (
        Texture("sand", (0.07, 0.17), (0.02, 0.07), (50, 110), (30, 50)),
        Texture("loamy_sand", (0.11, 0.19), (0.03, 0.10), (60, 120), (25, 40)),
        Texture("sandy_loam", (0.18, 0.28), (0.06, 0.16), (110, 150), (20, 30)),
        Texture("loam", (0.20, 0.30), (0.07, 0.17), (130, 180), (10, 20)),
        Texture("silt_loam", (0.22, 0.36), (0.09, 0.21), (130, 190), (10, 20)),
        Texture("silt", (0.28, 0.36), (0.12, 0.22), (160, 200), (8, 15)),
        Texture("silty_clay_loam", (0.30, 0.37), (0.17, 0.24), (130, 180), (5, 10)),
        Texture("silty_clay", (0.30, 0.42), (0.17, 0.29), (130, 190), (2, 7)),
        Texture("clay", (0.32, 0.40), (0.20, 0.24), (120, 200), (1, 5)),
    )
}


def texture_of(key: str) -> Texture:
    """Return one texture class.

    Raises
    ------
    ValueError
        If ``key`` is none of FAO-56 Table 19.
    """
    if key not in TEXTURES:
        message = f"{key!r} is no soil texture; known are {', '.join(TEXTURES)}"
        raise ValueError(message)
    return TEXTURES[key]


def texture_where_planted(key: str, drainage_hours: float | None) -> Texture:
    """Return the texture a tree stands in, after its drainage test if there was one.

    A hole that drains within the hour is sand, whatever the rest of the site is
    (common practice, no source).

    Parameters
    ----------
    key : str
        Texture of the site.
    drainage_hours : float or None
        Until a hole filled with water was empty.

    Raises
    ------
    ValueError
        As :func:`texture_of`.
    """
    return texture_of("sand" if drainage_class(drainage_hours) == "sand" else key)


def drainage_class(drainage_hours: float | None) -> str:
    """Return what a filled test hole says: sand, good, marginal or unsuitable.

    Empty where nobody tested.
    """
    if drainage_hours is None:
        return ""
    if drainage_hours < SAND_HOURS:
        return "sand"
    if drainage_hours < GOOD_HOURS:
        return "good"
    return "marginal" if drainage_hours <= MARGINAL_HOURS else "unsuitable"


def drains_slowly(drainage_hours: float | None) -> bool:
    """Whether water stands in a test hole for a day or more."""
    return drainage_class(drainage_hours) in ("marginal", "unsuitable")


def drains_too_slowly(drainage_hours: float | None) -> bool:
    """Whether a drainage test found the place unsuitable for a tree."""
    return drainage_class(drainage_hours) == "unsuitable"


def total_available_water_mm(
    available_mm_per_m: Array | float, root_depth_m: Array | float
) -> Array:
    """Return the water a root zone holds between its two limits, TAW [mm].

    Source: Allen et al. (1998), FAO-56, Eq. 82, with ``1000 (FC - WP)`` per metre.
    """
    return np.asarray(np.asarray(available_mm_per_m) * np.asarray(root_depth_m))


def readily_available_water_mm(
    total_mm: Array | float, depletion_p: Array | float
) -> Array:
    """Return the water that may be used before a plant is held back, RAW [mm].

    Source: Allen et al. (1998), FAO-56, Eq. 83.
    """
    return np.asarray(np.asarray(total_mm) * np.asarray(depletion_p))


def adjusted_depletion_p(table_p: Array | float, crop_et_mm: Array | float) -> Array:
    """Return the share of the available water that may be used on such a day [-].

    Parameters
    ----------
    table_p : array
        Fraction at 5 mm/day, FAO-56 Table 22.
    crop_et_mm : array
        What the crop uses on that day [mm/day].

    Returns
    -------
    array, 0.1 to 0.8
        Less on a hot day, more on a mild one. Source: FAO-56 Table 22, footnote 2.
    """
    shifted = np.asarray(table_p) + 0.04 * 5 - 0.04 * np.asarray(crop_et_mm)
    return np.asarray(np.clip(shifted, 0.1, 0.8))
