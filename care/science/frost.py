"""Cold: critical bud temperatures, when to protect, hardiness zones."""

from datetime import date, timedelta
from math import floor

import numpy as np

from care.facts import Origin, WeatherSeries

# Reports in 0.1 degC come from whole degF: 28 degF is written -2.2, not -2.222.
ROUNDING_C = 0.05
WATCH_MARGIN_C = 3 / 1.8
ZONES = 26


def fahrenheit_to_c(degrees_f: float) -> float:
    """Return degrees Celsius."""
    return (degrees_f - 32) / 1.8


# Stage -> degF that kill 10 % and 90 % of buds in 30 minutes. Penn State Extension,
# "Orchard frost: critical temperatures for various fruits"; apricot and plum from the
# Michigan State sheet (Longstroth); both after Washington State EB0913, EB0914,
# EB0978, EB1128 and EB1240. None: the table has no figure.
CRITICAL_F: dict[str, dict[str, tuple[float, float | None]]] = {
    "apple": {
        "silver_tip": (15, 2),
        "green_tip": (18, 10),
        "half_inch_green": (23, 15),
        "tight_cluster": (27, 21),
        "first_pink": (28, 24),
        "full_pink": (28, 25),
        "first_bloom": (28, 25),
        "full_bloom": (28, 25),
        "post_bloom": (28, 25),
    },
    "pear": {
        "scales_separating": (15, 0),
        "buds_exposed": (20, 6),
        "tight_cluster": (24, 15),
        "first_white": (25, 19),
        "full_white": (26, 22),
        "first_bloom": (27, 23),
        "full_bloom": (28, 24),
        "post_bloom": (28, 24),
    },
    "peach": {
        "first_swell": (18, 1),
        "calyx_green": (21, 5),
        "calyx_red": (23, 9),
        "first_pink": (25, 15),
        "first_bloom": (26, 21),
        "full_bloom": (27, 24),
        "post_bloom": (28, 25),
    },
    "sweet_cherry": {
        "first_swell": (17, 5),
        "side_green": (22, 9),
        "green_tip": (25, 14),
        "tight_cluster": (26, 17),
        "open_cluster": (27, 21),
        "first_white": (27, 24),
        "first_bloom": (28, 25),
        "full_bloom": (28, 25),
        "post_bloom": (28, 25),
    },
    "apricot": {
        "first_swell": (15, None),
        "tip_separates": (20, 0),
        "calyx_red": (22, 9),
        "first_white": (24, 14),
        "first_bloom": (25, 19),
        "full_bloom": (27, 22),
        "in_shuck": (27, 24),
        "green_fruit": (28, 25),
    },
    "european_plum": {
        "first_swell": (14, 0),
        "side_white": (17, 3),
        "green_tip": (20, 7),
        "tight_cluster": (24, 16),
        "first_white": (26, 22),
        "first_bloom": (27, 23),
        "full_bloom": (28, 23),
        "post_bloom": (28, 23),
    },
    # From memory, except first white, which was read.
    "sour_cherry": {
        "first_swell": (15, 0),
        "side_green": (24, 10),
        "green_tip": (26, 22),
        "tight_cluster": (26, 24),
        "open_cluster": (28, 24),
        "first_white": (28, 24),
        "first_bloom": (28, 24),
        "full_bloom": (28, 24),
        "post_bloom": (28, 24),
    },
}
BORROWED = {"asian_pear": "pear", "nectarine": "peach"}
UNVERIFIED_SPECIES = frozenset({"sour_cherry", "asian_pear", "nectarine"})


def bud_stages(species_key: str) -> tuple[str, ...]:
    """Return the stages with published critical temperatures, in order."""
    return tuple(CRITICAL_F.get(BORROWED.get(species_key, species_key), {}))


def bud_critical_c(species_key: str, stage: str) -> tuple[float, float | None] | None:
    """Return the temperatures that kill 10 % and 90 % of buds, or ``None``.

    Parameters
    ----------
    species_key : str
        Key of the catalogue.
    stage : str
        One of :func:`bud_stages`.

    Returns
    -------
    tuple of float, or None
        degC for 30 minutes; the second is ``None`` where the table is empty.
    """
    table = CRITICAL_F.get(BORROWED.get(species_key, species_key), {})
    if stage not in table:
        return None
    ten, ninety = table[stage]
    return fahrenheit_to_c(ten), None if ninety is None else fahrenheit_to_c(ninety)


def bud_frost_severity(
    minimum_c: float, kill_10_c: float, kill_90_c: float | None
) -> str:
    """Return ``none``, ``watch``, ``warning`` or ``severe`` for a night.

    Severe from the 90 % kill, warning from the 10 % kill, watch within 3 degF above
    it; bounds included, and reports in tenths of a degree are met.
    """
    if kill_90_c is not None and minimum_c <= kill_90_c + ROUNDING_C:
        return "severe"
    if minimum_c <= kill_10_c + ROUNDING_C:
        return "warning"
    watch = minimum_c <= kill_10_c + WATCH_MARGIN_C + ROUNDING_C
    return "watch" if watch else "none"


def must_protect(minimum_c: float, threshold_c: float, margin_c: float) -> bool:
    """Return whether a forecast minimum asks for protection.

    Parameters
    ----------
    minimum_c : float
        Forecast or typed minimum.
    threshold_c : float
        What the plant bears.
    margin_c : float
        Added for the place: low ground lies below the forecast (LSU AgCenter:
        several degF; default 3 degF).
    """
    return minimum_c <= threshold_c + margin_c + ROUNDING_C


def hardiness_zone(mean_extreme_minimum_c: float) -> str:
    """Return the USDA zone of a mean annual extreme minimum, ``1a`` to ``13b``.

    Ten-degree Fahrenheit zones from -60 degF, halved; lower bounds belong to the
    warmer half (USDA Plant Hardiness Zone Map 2023). A mean, never a record low.
    """
    degrees_f = mean_extreme_minimum_c * 1.8 + 32
    half = min(max(floor((degrees_f + 60) / 5 + 1e-9), 0), ZONES - 1)
    return f"{half // 2 + 1}{'ab'[half % 2]}"


def nights_ahead(
    series: WeatherSeries | None, today: date, nights: int
) -> tuple[tuple[date, float], ...]:
    """Return the minima of today and the next nights that somebody forecast.

    Today's may be a reading; the later days only forecasts. Normals are left out, for
    a mean says nothing of one night; so are gaps.

    Parameters
    ----------
    series : WeatherSeries or None
        The site's weather.
    today : datetime.date
        First day.
    nights : int
        Days after today.
    """
    if series is None:
        return ()
    days = [today + timedelta(days=ahead) for ahead in range(nights + 1)]
    found = []
    for day in days:
        if not series.covers(day):
            continue
        origin = series.origin_on(day)
        is_known = origin is Origin.FORECAST or (
            origin is Origin.OBSERVED and day == today
        )
        minimum = float(series.tmin_c[series.index(day)])
        if is_known and not np.isnan(minimum):
            found.append((day, minimum))
    return tuple(found)
