"""One night's frost: its minimum from the evening, its course, and cold pockets.

A radiation frost comes on clear, calm nights, when the ground loses warmth to the sky.
What the air and its dew point are two hours after sunset then tells the minimum, once
a grower has logged enough such nights at the same spot.
"""

from dataclasses import dataclass

import numpy as np

from care.facts import Array, ColdPocket

FIT_NIGHTS = 10  # ours; FAO's example has ten
SUNSET_DELAY_H = 2  # the evening reading is taken two hours after sunset
POCKET_NIGHTS = 5  # ours
# Pockets fill on cold nights; on mild or windy ones the two thermometers agree.
POCKET_BELOW_C = 5.0  # common practice, no source
MOST_POCKET_C = 6.0  # common practice, no source: several degF, at most some ten
REPORT_SLACK_C = 0.05  # readings are in tenths of a degree

# Saturation vapour pressure: Allen et al. (1998), FAO-56, Eq. 11.
MAGNUS_RISE = 17.27
MAGNUS_C = 237.3


@dataclass(frozen=True, slots=True)
class RadiationFrostFit:
    """Minimum = air_slope * air + dew_slope * dew point + intercept [degC].

    ``explained_share`` is the part of the minima's variance that the fit explains, and
    ``rmse_c`` its usual error, both on the nights it was made of.
    """

    air_slope: float
    dew_slope: float
    intercept_c: float
    explained_share: float
    rmse_c: float
    nights: int

    def minimum_c(self, air_c: Array | float, dew_point_c: Array | float) -> Array:
        """Return the minimum of nights from two hours after sunset [degC].

        Parameters
        ----------
        air_c, dew_point_c : arrays of one shape
            Two hours after sunset of a clear night with less than 2 m/s of wind and
            neither fog nor rain: the fit says nothing of others.
        """
        air = np.asarray(air_c, dtype=np.float64)
        dew = np.asarray(dew_point_c, dtype=np.float64)
        return np.asarray(
            self.air_slope * air + self.dew_slope * dew + self.intercept_c
        )


def fit_radiation_frost(
    air_c: Array, dew_point_c: Array, minimum_c: Array
) -> RadiationFrostFit | None:
    """Return a forecast of radiation-frost minima, learned from logged nights.

    Parameters
    ----------
    air_c, dew_point_c : arrays, shape (nights,)
        Two hours after sunset [degC]; NaN where not logged.
    minimum_c : array, shape (nights,)
        Read the next morning [degC].

    Returns
    -------
    RadiationFrostFit or None
        ``None`` with fewer than ten full nights, or where all evenings were alike.

    Raises
    ------
    ValueError
        If the arrays differ in shape.

    Notes
    -----
    Two steps, as published: minima on air temperature, then what is left on the dew
    point. A regression on both at once gives other numbers.
    Source: Snyder and de Melo-Abreu (2005), Frost Protection, volume 1, FAO.
    """
    if not np.shape(air_c) == np.shape(dew_point_c) == np.shape(minimum_c):
        message = "air, dew points and minima differ in number"
        raise ValueError(message)
    logged = np.array([air_c, dew_point_c, minimum_c], dtype=np.float64)
    air, dew, lowest = logged[:, ~np.isnan(logged).any(axis=0)]
    if len(air) < FIT_NIGHTS or np.ptp(air) == 0:
        return None
    air_slope, air_intercept = _line(air, lowest)
    left = lowest - (air_slope * air + air_intercept)
    dew_slope, dew_intercept = _line(dew, left)
    error = left - (dew_slope * dew + dew_intercept)
    spread = float(np.sum((lowest - lowest.mean()) ** 2))
    squares = float(np.sum(error**2))
    return RadiationFrostFit(
        air_slope=air_slope,
        dew_slope=dew_slope,
        intercept_c=air_intercept + dew_intercept,
        explained_share=1 - squares / spread if spread > 0 else 1.0,
        rmse_c=float(np.sqrt(squares / len(air))),
        nights=len(air),
    )


def night_course_c(evening_c: float, minimum_c: float, night_hours: int) -> Array:
    """Return the temperatures of a radiation-frost night, hour by hour [degC].

    Parameters
    ----------
    evening_c : float
        Two hours after sunset.
    minimum_c : float
        At sunrise.
    night_hours : int
        From sunset to sunrise.

    Returns
    -------
    array, shape (night_hours - 1,)
        From two hours after sunset to sunrise; falls with the square root of time.
        Source: Snyder and de Melo-Abreu (2005), Frost Protection, volume 1, FAO.

    Raises
    ------
    ValueError
        If the night is shorter than three hours.
    """
    falling_hours = night_hours - SUNSET_DELAY_H
    if falling_hours < 1:
        message = f"no night to follow: {night_hours} h"
        raise ValueError(message)
    passed = np.arange(falling_hours + 1, dtype=np.float64)
    fallen = np.sqrt(passed / falling_hours)
    return np.asarray(evening_c + (minimum_c - evening_c) * fallen)


def hours_at_or_below(hourly_c: Array, threshold_c: float) -> Array:
    """Return the hours that were as cold as a threshold, or colder [h].

    Parameters
    ----------
    hourly_c : array, shape (hours, ...)
        Temperatures [degC]; NaN where missing, which counts for nothing.
    threshold_c : float
        Met by readings in tenths of a degree: -2.2 meets 28 degF.

    Returns
    -------
    array, shape (...)
    """
    hourly = np.asarray(hourly_c, dtype=np.float64)
    return np.asarray(np.sum(hourly <= threshold_c + REPORT_SLACK_C, axis=0))


def cold_pocket(spot_c: Array, reference_c: Array) -> ColdPocket | None:
    """Return how much colder a spot is than its station, from minima of equal nights.

    Parameters
    ----------
    spot_c : array, shape (nights,)
        Read on a minimum thermometer at the tree [degC]; NaN where not read.
    reference_c : array, shape (nights,)
        Of the station, or forecast [degC]. Only nights at or below 5 degC count.

    Returns
    -------
    ColdPocket or None
        ``None`` with fewer than five such nights. The median, which one misread night
        does not move; never below 0, for a spot by a warm wall must not put off an
        alarm, nor above 6 degC, from where a thermometer is wrong rather than the spot
        cold.

    Raises
    ------
    ValueError
        If the arrays differ in shape.
    """
    spot = np.asarray(spot_c, dtype=np.float64)
    reference = np.asarray(reference_c, dtype=np.float64)
    if spot.shape != reference.shape:
        message = "readings and references differ in number"
        raise ValueError(message)
    colder_by = (reference - spot)[reference <= POCKET_BELOW_C]
    colder_by = colder_by[~np.isnan(colder_by)]
    if len(colder_by) < POCKET_NIGHTS:
        return None
    offset_c = float(np.clip(np.median(colder_by), 0.0, MOST_POCKET_C))
    return ColdPocket(offset_c=offset_c, nights=len(colder_by))


def dew_point_c(temperature_c: Array | float, humidity_percent: Array | float) -> Array:
    """Return the temperature at which the air's vapour begins to condense [degC].

    Parameters
    ----------
    temperature_c, humidity_percent : arrays of one shape
        Of the same moment; humidity above 0 to 100.

    Returns
    -------
    array of that shape, NaN where the humidity is not above 0
        Source: inverse of Allen et al. (1998), FAO-56, Eq. 11.
    """
    temperature = np.asarray(temperature_c, dtype=np.float64)
    share = np.minimum(np.asarray(humidity_percent, dtype=np.float64) / 100, 1.0)
    vapour = np.log(np.where(share > 0, share, np.nan)) + (
        MAGNUS_RISE * temperature / (temperature + MAGNUS_C)
    )
    return np.asarray(MAGNUS_C * vapour / (MAGNUS_RISE - vapour))


def _line(x: Array, y: Array) -> tuple[float, float]:
    """Return slope and intercept by least squares; flat where ``x`` does not vary."""
    away = x - x.mean()
    squares = float(np.sum(away**2))
    slope = float(np.sum(away * (y - y.mean()))) / squares if squares > 0 else 0.0
    return slope, float(y.mean()) - slope * float(x.mean())
