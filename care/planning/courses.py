"""Imagined courses of a site's temperatures, for chill, frost, heat and bloom.

As the futures of the water balance go on, but over days already gone too, and further
ahead: a course is what was observed, what is forecast, and a past or a made-up year.
"""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from care.facts import Array, Flags, SiteFacts, WeatherSeries
from care.planning.ensemble import NEVER, Members, Whole
from care.planning.futures import made_up, past_years
from care.science.hourly import NightCurve, hourly_temperatures_c
from care.science.usual_climate import usual_climate

# Less than a year, so that last year's days can stand for them, moved by ten.
REACH_DAYS = 330


@dataclass(frozen=True, slots=True, eq=False)
class Courses:
    """Temperatures day by day, arrays (courses, days) from ``start`` on [degC].

    All courses are one on days that were observed or forecast, the last of which is
    ``firm_until``. Earlier days of which nobody knows are made up in every course.
    """

    start: date
    tmin_c: Array
    tmax_c: Array
    firm_until: date
    members: Members

    @property
    def until(self) -> date:
        """The last day."""
        return self.start + timedelta(days=self.tmin_c.shape[1] - 1)

    def place(self, day: date) -> int:
        """Return the column of a day; may lie outside."""
        return (day - self.start).days

    def hours_c(self, latitude_deg: float) -> Array:
        """Return hourly temperatures by the continuous night; (courses, days, 24)."""
        first = np.datetime64(self.start, "D")
        days = first + np.arange(self.tmin_c.shape[1])
        numbers = (days - days.astype("datetime64[Y]")).astype(np.float64) + 1
        return np.array(
            [
                hourly_temperatures_c(
                    low, high, latitude_deg, numbers, NightCurve.CONTINUOUS
                )
                for low, high in zip(self.tmin_c, self.tmax_c, strict=True)
            ]
        )


def imagine_courses(
    site: SiteFacts, series: WeatherSeries, today: date, *, first: date, until: date
) -> Courses | None:
    """Return how a site's temperatures may go from one day to another.

    Parameters
    ----------
    site : SiteFacts
    series : WeatherSeries
        The site's.
    today : datetime.date
        What was observed before it, and what was forecast for it and later days, is
        the same in all courses.
    first, until : datetime.date
        The first and the last day; ``until`` at most ``REACH_DAYS`` after today, and
        not before ``first``.

    Returns
    -------
    Courses or None
        ``None`` where the climate of the place is unknown.
    """
    climate = usual_climate(series)
    if climate is None:
        return None
    days = series.index(first) + np.arange((until - first).days + 1)
    low, high, last_known = _known(series, days)
    beyond = days > max(last_known, series.index(today) - 1)
    past = past_years(series, days[beyond], series.index(today))
    is_open = beyond.any() or np.isnan(low).any()
    count = max(len(past.picks) + past.missing, 1) if is_open else 1
    made = made_up(site, climate, first, len(days), count)
    lows = np.where(np.isnan(low), made.tmin_c, low)
    highs = np.where(np.isnan(low), made.tmax_c, high)
    stood_in = slice(0, len(past.picks))
    lows[stood_in, beyond] = series.tmin_c[past.picks]
    highs[stood_in, beyond] = series.tmax_c[past.picks]
    members = Members(count, past.years, count - len(past.picks) if is_open else 0)
    firm_until = series.start + timedelta(days=last_known)
    return Courses(first, lows, highs, firm_until, members)


def first_days(is_met: Flags) -> Whole:
    """Return the first day on which each course meets something, NEVER for none."""
    first = np.argmax(is_met, axis=1)
    return np.where(is_met.any(axis=1), first, NEVER)


def _known(series: WeatherSeries, days: Whole) -> tuple[Array, Array, int]:
    """Return what is observed or forecast of some days, NaN else, and the last one."""
    is_told = np.array([letter in "of" for letter in series.origin], dtype=bool)
    told = np.flatnonzero(is_told)
    inside = (days >= 0) & (days < len(series))
    low, high = np.full(len(days), np.nan), np.full(len(days), np.nan)
    low[inside] = np.where(is_told, series.tmin_c, np.nan)[days[inside]]
    high[inside] = np.where(is_told, series.tmax_c, np.nan)[days[inside]]
    is_sound = low <= high
    last = int(told[-1]) if told.size else -1
    return np.where(is_sound, low, np.nan), np.where(is_sound, high, np.nan), last
