"""When rain usually feeds the plants of a place, and how long the soil's store lasts."""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from care.facts import Array, SiteFacts, WeatherSeries
from care.planning.rains import usual_rain_mm
from care.planning.site_weather import judge_weather
from care.science.rain_normals import MONTH_DAYS, YEAR_DAYS, moist_periods
from care.science.rain_season import day_store_empties

STORE_MM = 100.0  # of the soil; FAO (1978)
COMMON_YEAR = 2001  # has no 29 February


@dataclass(frozen=True, slots=True)
class MoistMonths:
    """Days of a common year; rain covers half of the evapotranspiration between them.

    ``stored_until`` is when the soil's store is used up after the end, ``None`` where
    the rains leave none, or the next begin first.
    """

    begin: date
    end: date
    stored_until: date | None


def moist_months(site: SiteFacts, series: WeatherSeries) -> tuple[MoistMonths, ...]:
    """Return the usual moist periods; none where it is always moist, or always dry.

    Parameters
    ----------
    site : SiteFacts
        For its evapotranspiration.
    series : WeatherSeries
        With every month's weather; fewer months tell nothing.
    """
    rain_mm, weather = usual_rain_mm(series), judge_weather(site, series)
    if rain_mm is None or weather is None:
        return ()
    et0_mm = _monthly(weather.et0_mm, weather.day_number)
    days = np.asarray(MONTH_DAYS)
    rain_by_day, et0_by_day = (
        np.repeat(monthly / days, days) for monthly in (rain_mm, et0_mm)
    )
    found = []
    for begin, end in moist_periods(rain_mm, et0_mm):
        order = (int(begin) + np.arange(YEAR_DAYS)) % YEAR_DAYS
        length = round((end - begin) % YEAR_DAYS)
        empty = _emptied_after(rain_by_day[order], et0_by_day[order], length)
        stored_until = None if empty is None else _day(begin + empty)
        found.append(MoistMonths(_day(begin), _day(end), stored_until))
    return tuple(found)


def _emptied_after(rain_mm: Array, et0_mm: Array, length: int) -> int | None:
    """Return the day on which the store of a moist period is used up after its end."""
    day = 0
    while True:
        empty = day_store_empties(rain_mm[day:], et0_mm[day:], STORE_MM)
        if empty is None or day + empty >= length:
            return None if empty is None else day + empty
        day += empty + 1


def _monthly(by_day: Array, day_number: Array) -> Array:
    """Return the mean day of each month times its days."""
    days = np.asarray(MONTH_DAYS)
    month = np.searchsorted(np.cumsum(days), np.minimum(day_number, YEAR_DAYS))
    total = np.bincount(month, by_day, len(MONTH_DAYS))
    count = np.bincount(month, minlength=len(MONTH_DAYS))
    return np.asarray(total / count * days)


def _day(number: float) -> date:
    """Return the day of the common year so many days after 1 January."""
    return date(COMMON_YEAR, 1, 1) + timedelta(days=int(number) % YEAR_DAYS)
