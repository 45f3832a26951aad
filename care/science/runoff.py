"""Rain that runs off instead of soaking in, by the curve number of SCS.

For the rain of one storm, taken as one day's, on one kind of ground. Made for fields;
a basin or a berm round a tree keeps its water whatever these numbers say.
"""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from care.facts import Array

INITIAL_ABSTRACTION = 0.2  # of the retention: USDA-SCS, TR-55, Eq. 2-2


class SoilGroup(StrEnum):
    """Hydrologic soil group, from A (takes water in fast) to D (hardly any)."""

    A = "A"
    B = "B"
    C = "C"
    D = "D"


class Cover(StrEnum):
    """Condition of an orchard's grass.

    As for pasture of the same table, from memory: it covers less than half of the
    ground, up to three quarters of it, or more.
    """

    POOR = "poor"
    FAIR = "fair"
    GOOD = "good"


class Moisture(StrEnum):
    """Antecedent moisture: dry soil (I), the usual (II), soil wet from rain (III)."""

    DRY = "I"
    USUAL = "II"
    WET = "III"


# USDA-SCS (1986), TR-55, Table 2-2c, orchard or tree farm with grass.
ORCHARD_CURVE_NUMBERS = {
    Cover.GOOD: {SoilGroup.A: 32, SoilGroup.B: 58, SoilGroup.C: 72, SoilGroup.D: 79},
    Cover.FAIR: {SoilGroup.A: 43, SoilGroup.B: 65, SoilGroup.C: 76, SoilGroup.D: 82},
    Cover.POOR: {SoilGroup.A: 57, SoilGroup.B: 73, SoilGroup.C: 82, SoilGroup.D: 86},
}

# By texture alone, as TR-55, Appendix A, does for disturbed soil (Brakensiek and Rawls,
# 1983): A sand, loamy sand, sandy loam; B silt loam, loam; D silty clay loam, silty
# clay, clay. It has no row for silt, which goes with silt loam here. No substitute for
# a survey: a hardpan or a high water table makes a D of any of them.
GROUP_BY_TEXTURE = {
    "sand": SoilGroup.A,
    "loamy_sand": SoilGroup.A,
    "sandy_loam": SoilGroup.A,
    "loam": SoilGroup.B,
    "silt_loam": SoilGroup.B,
    "silt": SoilGroup.B,
    "silty_clay_loam": SoilGroup.D,
    "silty_clay": SoilGroup.D,
    "clay": SoilGroup.D,
}


@dataclass(frozen=True, slots=True)
class Runoff:
    """What becomes of a day's rain; arrays of one shape [mm]."""

    retention_mm: Array  # S: the most the soil takes in once runoff has begun
    abstraction_mm: Array  # Ia: kept by leaves and hollows before any runs off
    runoff_mm: Array  # Q


def soil_group(texture_key: str) -> SoilGroup:
    """Return the hydrologic group that a texture of FAO-56 Table 19 suggests.

    Raises
    ------
    ValueError
        If the texture is unknown.
    """
    if texture_key not in GROUP_BY_TEXTURE:
        message = f"no hydrologic group is known for {texture_key!r}"
        raise ValueError(message)
    return GROUP_BY_TEXTURE[texture_key]


def curve_number(
    group: SoilGroup, cover: Cover, moisture: Moisture = Moisture.USUAL
) -> float:
    """Return the curve number of an orchard with grass, 0-100 [-].

    Source: USDA-SCS (1986), TR-55, Table 2-2c; other moisture by
    :func:`curve_number_at`.
    """
    return float(curve_number_at(ORCHARD_CURVE_NUMBERS[cover][group], moisture))


def curve_number_at(usual: Array | float, moisture: Moisture) -> Array:
    """Return a curve number for soil drier or wetter than usual, 0-100 [-].

    Parameters
    ----------
    usual : array of any shape
        Curve number at the usual moisture, CN II, above 0 and up to 100.
    moisture : Moisture

    Returns
    -------
    array of the same shape
        Source: documentation of USGS Soil-Water-Balance:
        ``CN / (2.281 - 0.01281 CN)`` when dry, ``CN / (0.427 + 0.00573 CN)`` when wet.
    """
    number = np.asarray(usual, dtype=np.float64)
    if moisture is Moisture.DRY:
        return np.asarray(number / (2.281 - 0.01281 * number))
    if moisture is Moisture.WET:
        return np.asarray(number / (0.427 + 0.00573 * number))
    return number


def storm_runoff(rain_mm: Array | float, number: Array | float) -> Runoff:
    """Return how much of a storm runs off.

    Parameters
    ----------
    rain_mm : array of any shape
        Rain of the day; a day of unknown rain (NaN) stays unknown.
    number : array that broadcasts to it
        Curve number, above 0 and up to 100.

    Returns
    -------
    Runoff
        ``S = 25400/CN - 254``, ``Ia = 0.2 S`` and ``Q = (P - Ia)^2 / (P - Ia + S)``
        where P exceeds Ia, else nothing; never more than P.
        Source: USDA-SCS (1986), TR-55, Eq. 2-1 to 2-4.

    Raises
    ------
    ValueError
        If a curve number is outside its range.
    """
    numbers = np.asarray(number, dtype=np.float64)
    if not ((numbers > 0) & (numbers <= 100)).all():  # noqa: PLR2004 (the scale's end)
        message = "a curve number is above 0 and at most 100"
        raise ValueError(message)
    retention = 25400 / numbers - 254
    abstraction = INITIAL_ABSTRACTION * retention
    excess = np.maximum(np.asarray(rain_mm, dtype=np.float64) - abstraction, 0.0)
    share = np.divide(
        excess, excess + retention, out=np.zeros_like(excess), where=excess > 0
    )
    runoff = np.where(np.isnan(excess), np.nan, excess * share)
    return Runoff(np.asarray(retention), np.asarray(abstraction), runoff)
