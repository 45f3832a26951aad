"""The usual wet season of a place, from twelve monthly normals.

For planning ahead where no record tells this year's onset. Days are counted from the
start of 1 January of a year of 365 days; a season may run over New Year.
"""

from typing import NamedTuple

import numpy as np

from care.facts import Array

MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
YEAR_DAYS = 365
MOIST_SHARE = 0.5  # of the evapotranspiration; FAO (1978), agro-ecological zones


class WetSeason(NamedTuple):
    """First and last day of the year, 1-365, and the share of the year's rain."""

    first_day: int
    last_day: int
    rain_share: float


class MoistPeriod(NamedTuple):
    """Days since 1 January at which a period begins and ends; ``end`` may be less."""

    begin: float
    end: float


def wet_season(monthly_rain_mm: Array) -> WetSeason | None:
    """Return the season in which it rains more than on the mean day of the year.

    Parameters
    ----------
    monthly_rain_mm : array, shape (12,)
        Normals, spread evenly over their months.

    Returns
    -------
    WetSeason or None
        ``None`` where all days are alike. A season that holds hardly more than its
        share of the days says nothing: compare ``rain_share``.
        Source: anomalous accumulation after Liebmann and others (from memory). For
        normals; in a single year it can be months out.

    Raises
    ------
    ValueError
        If there are not twelve months.
    """
    days = np.asarray(MONTH_DAYS)
    daily = np.repeat(_twelve(monthly_rain_mm) / days, days)
    departure = daily - daily.mean()
    if np.ptp(daily) == 0:
        return None
    # The sum returns to zero at the year's end, so that New Year is no border
    total = np.cumsum(departure)
    first, last = (int(np.argmin(total)) + 1) % YEAR_DAYS, int(np.argmax(total))
    length = (last - first) % YEAR_DAYS + 1
    within = np.take(daily, np.arange(first, first + length), mode="wrap")
    return WetSeason(first + 1, last + 1, float(within.sum() / daily.sum()))


def moist_periods(
    monthly_rain_mm: Array,
    monthly_et0_mm: Array,
    share: float = MOIST_SHARE,
) -> tuple[MoistPeriod, ...]:
    """Return the periods in which rain covers a share of the evapotranspiration.

    Parameters
    ----------
    monthly_rain_mm, monthly_et0_mm : arrays, shape (12,)
        Normals; the ratio runs straight from one mid-month to the next.
    share : float
        Of the evapotranspiration.

    Returns
    -------
    tuple of MoistPeriod
        Two where the rains come twice; none where the ratio never crosses the share,
        be it always moist or always dry. The time in which plants live on stored
        water, which follows, is not in them.
        Source: FAO (1978), Agro-ecological Zones Project, report 48/1.

    Raises
    ------
    ValueError
        If there are not twelve months, or one has no evapotranspiration.
    """
    et0 = _twelve(monthly_et0_mm)
    if np.any(et0 <= 0):
        message = "a month without evapotranspiration"
        raise ValueError(message)
    ratio = _twelve(monthly_rain_mm) / et0
    days = np.asarray(MONTH_DAYS, dtype=np.float64)
    middle = np.cumsum(days) - days / 2
    begins: list[float] = []
    ends: list[float] = []
    for month in range(12):
        here, there = float(ratio[month]), float(ratio[(month + 1) % 12])
        if (here < share) == (there < share):
            continue
        span = float(days[month] + days[(month + 1) % 12]) / 2
        at = float(middle[month]) + span * (share - here) / (there - here)
        (begins if here < share else ends).append(at % YEAR_DAYS)
    return tuple(
        MoistPeriod(begin, min(ends, key=lambda end: (end - begin) % YEAR_DAYS))
        for begin in sorted(begins)
    )


def _twelve(monthly: Array) -> Array:
    values = np.asarray(monthly, dtype=np.float64)
    if values.shape != (len(MONTH_DAYS),):
        message = f"not twelve months: {values.shape}"
        raise ValueError(message)
    return values
