"""When a winter has brought the chill a tree asks for, and how often it does.

Every date comes twice, once by each night curve; what the two do not agree on is told
as a range.
"""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from care.facts import Array
from care.planning.winter import WinterOutlook
from care.science.chill import day_reached


@dataclass(frozen=True, slots=True)
class NeedOutlook:
    """What becomes of one need for chill hours.

    ``met_first`` and ``met_surely`` are the days of the latest winter by the quicker
    and by the slower night curve, ``None`` where not met yet. Of ``winters`` past
    winters ``met_at_least`` to ``met_at_most`` met the need.
    """

    need_hours: float
    met_first: date | None
    met_surely: date | None
    winters: int
    met_at_least: int
    met_at_most: int


def need_outlook(outlook: WinterOutlook, need_hours: float) -> NeedOutlook:
    """Return when a need is met this winter, and in how many past winters it was.

    Parameters
    ----------
    outlook : WinterOutlook
        Of the site.
    need_hours : float
        Hours of 0 to 7.2 degC.
    """
    first = outlook.latest.first
    days_met = _days_met(outlook.hours_by_day, need_hours)
    now, past = days_met[:, 0], days_met[:, 1:]
    is_met = ~np.isnan(past)
    return NeedOutlook(
        need_hours=need_hours,
        met_first=_day(first, float(np.fmin.reduce(now))),
        met_surely=_day(first, float(np.max(now))),
        winters=past.shape[1],
        met_at_least=int(is_met.all(axis=0).sum()),
        met_at_most=int(is_met.any(axis=0).sum()),
    )


def _days_met(hours: Array, need_hours: float) -> Array:
    """Return the place of the day that meets the need, (curves, winters), or NaN."""
    places = [[day_reached(winter, need_hours) for winter in curve] for curve in hours]
    return np.array(places, dtype=np.float64).reshape(hours.shape[:2])


def _day(first: date, place: float) -> date | None:
    return None if np.isnan(place) else first + timedelta(days=round(place))
