"""Cold: critical bud temperatures, when to protect, hardiness zones."""

from enum import StrEnum
from math import floor

# Reports in 0.1 degC come from whole degF: 28 degF is written -2.2, not -2.222.
ROUNDING_C = 0.05
WATCH_MARGIN_C = 3 / 1.8
ZONES = 26
# U.S. National Weather Service: frost from 36 degF, freeze from 32, hard from 28.
FROST_F, FREEZE_F, HARD_FREEZE_F = 36.0, 32.0, 28.0
LIGHT_WIND_MS = 4.5  # ten miles an hour; from memory
WARNING_HOURS = 36.0
WATCH_HOURS = 48.0


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


class Severity(StrEnum):
    """How bad a night is: nothing, near the limit, past it, far past it."""

    NONE = "none"
    WATCH = "watch"
    WARNING = "warning"
    SEVERE = "severe"


def frost_severity(
    minimum_c: float, threshold_c: float, worst_c: float | None
) -> Severity:
    """Return how bad a minimum is; bounds included, tenths of a degree met.

    Parameters
    ----------
    minimum_c : float
        Of the night.
    threshold_c : float
        From which it is a warning: for buds the 10 % kill. Watch begins 3 degF above.
    worst_c : float or None
        From which it is severe: for buds the 90 % kill.
    """
    if worst_c is not None and minimum_c <= worst_c + ROUNDING_C:
        return Severity.SEVERE
    if minimum_c <= threshold_c + ROUNDING_C:
        return Severity.WARNING
    is_near = minimum_c <= threshold_c + WATCH_MARGIN_C + ROUNDING_C
    return Severity.WATCH if is_near else Severity.NONE


class Freeze(StrEnum):
    """How cold a night is in the words of weather services."""

    NONE = "none"
    FROST = "frost"
    FREEZE = "freeze"
    HARD_FREEZE = "hard_freeze"


def freeze_of(minimum_c: float) -> Freeze:
    """Return the word for a minimum; a report in tenths meets its bound.

    Source: U.S. National Weather Service, Jackson: frost at 36 degF, freeze at 32
    degF, hard freeze at 28 degF, and at or below each.
    """
    by_bound = (
        (HARD_FREEZE_F, Freeze.HARD_FREEZE),
        (FREEZE_F, Freeze.FREEZE),
        (FROST_F, Freeze.FROST),
    )
    for bound_f, word in by_bound:
        if minimum_c <= fahrenheit_to_c(bound_f) + ROUNDING_C:
            return word
    return Freeze.NONE


def weather_service_notice(
    minimum_c: float, hours_ahead: float, wind_ms: float | None = None
) -> str:
    """Return what a weather service would likely issue for a night.

    Parameters
    ----------
    minimum_c : float
        Forecast.
    hours_ahead : float
        Until the minimum.
    wind_ms : float or None
        Expected; above ten miles an hour no frost settles. Unknown counts as light.

    Returns
    -------
    str
        ``freeze_warning`` up to 36 hours ahead, ``freeze_watch`` up to 48,
        ``frost_advisory`` from 33 to 36 degF with light wind, or ``none``.
        Source: U.S. National Weather Service, Blacksburg. Offices differ, and issue
        them in the growing season only.
    """
    word = freeze_of(minimum_c)
    if word in (Freeze.FREEZE, Freeze.HARD_FREEZE):
        if hours_ahead <= WARNING_HOURS:
            return "freeze_warning"
        return "freeze_watch" if hours_ahead <= WATCH_HOURS else "none"
    is_calm = wind_ms is None or wind_ms <= LIGHT_WIND_MS
    is_near = hours_ahead <= WARNING_HOURS
    return "frost_advisory" if word is Freeze.FROST and is_calm and is_near else "none"


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
