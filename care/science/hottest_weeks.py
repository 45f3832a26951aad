"""The hottest weeks of a place's usual year, which new trees should not meet at once."""

from datetime import date, timedelta

import numpy as np

from care.facts import Array, MonthDay

HOTTEST_DAYS = 42
# Ours: how much warmer than the year's mean the hottest weeks are where they stand
# out; near the equator no weeks do.
MARKED_C = 3.0
LEAP_YEAR = 2000


def hottest_from(tmin_c: Array, tmax_c: Array) -> MonthDay | None:
    """Return the first day of the six hottest weeks, ``None`` where none stand out.

    Parameters
    ----------
    tmin_c, tmax_c : arrays, shape (366,)
        Usual low and high of each date of a leap year [degC]. Weeks may run over New
        Year.
    """
    mean_c = (tmin_c + tmax_c) / 2
    ahead = np.concatenate([mean_c, mean_c[: HOTTEST_DAYS - 1]])
    weeks_c = np.convolve(ahead, np.full(HOTTEST_DAYS, 1 / HOTTEST_DAYS), "valid")
    first = int(np.argmax(weeks_c))
    if weeks_c[first] - mean_c.mean() < MARKED_C:
        return None
    day = date(LEAP_YEAR, 1, 1) + timedelta(days=first)
    return MonthDay(day.month, day.day)
