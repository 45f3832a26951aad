"""Hot days a year at a place, and the heat zone they make."""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from care.facts import Array
from care.science.heat import heat_zone, is_hot_day

MOST_MISSING_DAYS = 10  # in a year; ours


@dataclass(frozen=True, slots=True)
class HotYears:
    """Mean days a year above 30 degC, from how many years, and their heat zone."""

    days_a_year: float
    years: int

    @property
    def zone(self) -> int:
        """Heat zone of the American Horticultural Society, 1 to 12."""
        return heat_zone(self.days_a_year)


def hot_years(start: date, tmax_c: Array, first_month: int) -> HotYears | None:
    """Return the hot days of a record's full years, or ``None`` without any.

    Parameters
    ----------
    start : datetime.date
        First day of the record.
    tmax_c : array, shape (days,)
        Daily maxima [degC]; NaN where missing.
    first_month : int, 1-12
        In which a year begins: 1 in the north and 7 in the south keep a summer whole.
    """
    hot = is_hot_day(tmax_c)
    end = start + timedelta(days=len(hot) - 1)
    counts = []
    for year in range(start.year - 1, end.year + 1):
        first, following = date(year, first_month, 1), date(year + 1, first_month, 1)
        place = max((first - start).days, 0)
        within = hot[place : max((following - start).days, 0)]
        known = int(np.sum(~np.isnan(within)))
        if (following - first).days - known <= MOST_MISSING_DAYS:
            counts.append(float(np.nansum(within)))
    return HotYears(float(np.mean(counts)), len(counts)) if counts else None
