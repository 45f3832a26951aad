"""How much ground plants cover, and what that leaves of an orchard's coefficient.

Two ways to reckon a tree's water, which must not be mixed. A coefficient of the
**whole floor** speaks of every square metre of the orchard, bare ground included; it
already knows how much of it is covered. One on **crown area** speaks of the crown
alone. :func:`litres_by_floor` and :func:`litres_by_crown` each take only their own.
"""

import numpy as np

from care.facts import Array
from care.science.canopy import LEAFLESS_KC
from care.science.evapotranspiration import vapour_pressure_slope_kpa
from care.science.kc_climate import climate_adjusted_kc, climate_term

TALL_COVER_KCB = 1.2  # ceiling of Eq. 101
GRASS_RESISTANCE_S_M = 100.0  # of a leaf of the reference: FAO-56, chapter 9
BARE_KC_MIN = 0.15  # of dry bare ground: FAO-56, Eq. 98, which gives 0.15-0.20
COVER_FACTOR = 2.0  # the most that cover counts for: FAO-56, Eq. 98
GRASS_FLOOR_KC = 0.95  # of a growing ground cover: FAO-56 Table 12, footnote 22
EVAPORATION_SAVED = 0.5  # by a full organic mulch, 5 % for each 10 %; FAO-56 p. 196

# After leaf drop, whole floor: FAO-56 Table 12, footnotes. Growing cover runs from
# 0.50 under snow and killing frost to 0.80 in mild winters; its middle is used.
LEAFLESS_FLOOR_KC = {"bare": LEAFLESS_KC, "mulch": LEAFLESS_KC, "grass": 0.65}
LEAFLESS_GRASS_KC_RANGE = (0.50, 0.80)


def crown_share(crown_area_m2: Array | float, spacing_area_m2: Array | float) -> Array:
    """Return the share of a tree's ground that its crown covers, fc, 0 to 1 [-]."""
    share = np.asarray(crown_area_m2, dtype=np.float64) / np.asarray(spacing_area_m2)
    return np.asarray(np.minimum(share, 1.0))


def shaded_share_of_trees(cover: Array | float, sun_elevation_rad: float) -> Array:
    """Return the ground that round crowns shade, fc eff, up to 1 [-].

    Source: Allen et al. (1998), FAO-56, chapter 9: ``fc / sin(eta)``; the sun stands
    at its noon elevation.
    """
    return np.asarray(np.minimum(np.asarray(cover) / np.sin(sun_elevation_rad), 1.0))


def shaded_share_of_rows(
    cover: Array | float, height_per_width: float, sun_elevation_rad: float
) -> Array:
    """Return the ground that hedge-like rows running east and west shade [-].

    Parameters
    ----------
    cover : array
        Share of the ground under the rows.
    height_per_width : float
        Height of a row over its width.
    sun_elevation_rad : float
        At noon.

    Returns
    -------
    array, up to 1
        Rows that run north and south shade what they cover.
        Source: Allen et al. (1998), FAO-56, chapter 9.
    """
    shade = 1 + height_per_width / np.tan(sun_elevation_rad)
    return np.asarray(np.minimum(np.asarray(cover) * shade, 1.0))


def full_cover_kcb(
    *,
    wind_ms: Array | float,
    humidity_min_percent: Array | float,
    height_m: float,
) -> Array:
    """Return the basal crop coefficient of plants that shade all ground, Kcb full [-].

    ``1 + 0.1 h``, at most 1.2, then by wind and humidity. For stands of more than
    500 m2; a single tree in the open can exceed it.
    Source: Allen et al. (1998), FAO-56, Eq. 99-101.
    """
    still = min(1 + 0.1 * height_m, TALL_COVER_KCB)
    term = climate_term(wind_ms, humidity_min_percent)
    return climate_adjusted_kc(still, term, height_m)


def stomatal_factor(
    *,
    leaf_resistance_s_m: float,
    temperature_c: Array | float,
    wind_ms: Array | float,
    psychrometric_kpa: float,
) -> Array:
    """Return the share that leaves with closer stomata than grass transpire, Fr [-].

    Parameters
    ----------
    leaf_resistance_s_m : float
        Of a leaf, 100 for grass and most annual crops.
    temperature_c, wind_ms : arrays of one shape
        Means of the stage.
    psychrometric_kpa : float
        Psychrometric constant of the place [kPa/degC].

    Returns
    -------
    array of that shape, 1 at 100 s/m
        Source: Allen et al. (1998), FAO-56, chapter 9, stomatal control.
    """
    slope = vapour_pressure_slope_kpa(temperature_c)
    drag = 0.34 * np.asarray(wind_ms, dtype=np.float64)
    share = leaf_resistance_s_m / GRASS_RESISTANCE_S_M
    return np.asarray(
        (slope + psychrometric_kpa * (1 + drag))
        / (slope + psychrometric_kpa * (1 + drag * share))
    )


def sparse_kcb(
    full_kcb: Array | float,
    *,
    cover: Array | float,
    shaded: Array | float,
    height_m: float,
    kc_min: float = BARE_KC_MIN,
) -> Array:
    """Return the whole floor's basal coefficient under young or sparse trees [-].

    Parameters
    ----------
    full_kcb : array
        Of the same plants if they shaded all ground.
    cover, shaded : arrays
        Share of the ground under crowns, fc, and in their shade at noon, fc eff.
    height_m : float
        Of the plants.
    kc_min : float
        Of dry bare ground.

    Returns
    -------
    array
        Source: Allen et al. (1998), FAO-56, Eq. 98.

    Notes
    -----
    The equation holds the effect of cover below ``2 fc``. For citrus over 20 % of
    the ground that gives 0.37-0.39, where Table 12 prints 0.45-0.55, which is the
    equation without that ceiling (:func:`sparse_kcb_unbounded`). With the ceiling
    governs here: it is what is published, and turned into crown area the lower
    figure is still about twice the 0.93 measured on crowns in a lysimeter (Beeson,
    Duong and Kjelgren, 2018), so that nothing speaks for the higher one.
    """
    share = np.minimum(_density(shaded, height_m), COVER_FACTOR * np.asarray(cover))
    return np.asarray(kc_min + (np.asarray(full_kcb) - kc_min) * np.minimum(share, 1.0))


def sparse_kcb_unbounded(
    full_kcb: Array | float,
    *,
    shaded: Array | float,
    height_m: float,
    kc_min: float = BARE_KC_MIN,
) -> Array:
    """Return :func:`sparse_kcb` without its ceiling, to explain Table 12's citrus [-].

    Source: Allen et al. (1998), FAO-56, Eq. 98 less its term ``2 fc``.
    """
    share = _density(shaded, height_m)
    return np.asarray(kc_min + (np.asarray(full_kcb) - kc_min) * share)


def _density(shaded: Array | float, height_m: float) -> Array:
    return np.asarray(np.asarray(shaded, dtype=np.float64) ** (1 / (1 + height_m)))


def thin_stand_reduction(cover: Array | float, dense_cover: Array | float) -> Array:
    """Return what a thin stand takes off its coefficient, Acm [-].

    Parameters
    ----------
    cover, dense_cover : arrays
        Shares of the ground covered now and in a full stand.

    Returns
    -------
    array
        Subtract it from Kc or Kcb.
        Source: Allen et al. (1998), FAO-56, Eq. 96.
    """
    return np.asarray(1 - np.sqrt(np.asarray(cover) / np.asarray(dense_cover)))


def kc_with_grass(cover: Array | float, kc_without_grass: Array | float) -> Array:
    """Return the whole floor's coefficient with grass growing between the trees [-].

    Source: Allen et al. (1998), FAO-56, Table 12, footnote 22.
    """
    share = np.asarray(cover, dtype=np.float64)
    return np.asarray(
        share * np.asarray(kc_without_grass) + (1 - share) * GRASS_FLOOR_KC
    )


def mulched_kc(
    kc: Array | float, kcb: Array | float, mulched_share: Array | float
) -> Array:
    """Return a coefficient under organic mulch, which saves evaporation only [-].

    Parameters
    ----------
    kc, kcb : arrays
        Single and basal coefficient; their difference is what the ground gives off.
        In the initial stage hardly anything else is, so ``kcb`` is 0 there.
    mulched_share : array
        Of the ground, 0 to 1.

    Returns
    -------
    array
        Evaporation falls by 5 % for each 10 % of the ground; the tree's own use, Kcb,
        stays. Source: Allen et al. (1998), FAO-56, p. 196-198.
    """
    saved = EVAPORATION_SAVED * np.clip(np.asarray(mulched_share), 0.0, 1.0)
    return np.asarray(kc - saved * (np.asarray(kc) - np.asarray(kcb)))


def litres_by_crown(
    et0_mm: Array | float, crown_kc: Array | float, crown_area_m2: Array | float
) -> Array:
    """Return a tree's daily use from a coefficient that speaks of its crown [L].

    For single trees. One millimetre on one square metre is one litre.
    """
    return np.asarray(np.asarray(et0_mm) * crown_kc * crown_area_m2)


def litres_by_floor(
    et0_mm: Array | float,
    full_floor_kc: Array | float,
    spacing_area_m2: Array | float,
    cover: Array | float,
) -> Array:
    """Return a tree's daily use from a coefficient of a full orchard's floor [L].

    Parameters
    ----------
    et0_mm : array
        Reference evapotranspiration.
    full_floor_kc : array
        Of the same orchard when grown; cover is brought in here and nowhere else.
    spacing_area_m2 : array
        Ground that belongs to one tree.
    cover : array
        Share of it under the crown.

    Returns
    -------
    array
        Less than a full orchard's by twice the cover until half the ground is
        covered, as the ceiling of FAO-56 Eq. 98 has it. For rows of an orchard; a
        single tree's use lies between this and :func:`litres_by_crown`.
    """
    share = np.minimum(COVER_FACTOR * np.asarray(cover, dtype=np.float64), 1.0)
    return np.asarray(np.asarray(et0_mm) * full_floor_kc * spacing_area_m2 * share)
