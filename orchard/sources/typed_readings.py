"""A rain gauge or thermometer that a person read, one day at a time."""

from datetime import date

from django.utils.translation import gettext

from orchard.sources.problems import SourceError, SourceProblem
from orchard.sources.station_columns import StationQuantity
from orchard.sources.station_day import (
    StationDay,
    day_problem,
    swing_problem,
    value_problem,
)


def check_reading(
    day: date,
    *,
    tmin_c: float | None = None,
    tmax_c: float | None = None,
    rain_mm: float | None = None,
    today: date,
) -> StationDay:
    """Return one typed day, checked.

    Parameters
    ----------
    day, today : date
        The day that was read, and the site's own day.
    tmin_c, tmax_c, rain_mm : float or None
        Readings [degC, degC, mm]; at least one. What was not read stays missing.

    Raises
    ------
    SourceError
        ``column`` of each problem is ``day``, ``tmin``, ``tmax`` or ``rain``, and
        empty when nothing was typed.
    """
    readings = {
        StationQuantity.TMIN: tmin_c,
        StationQuantity.TMAX: tmax_c,
        StationQuantity.RAIN: rain_mm,
    }
    messages = {
        str(quantity): value_problem(quantity, value)
        for quantity, value in readings.items()
        if value is not None
    }
    if not messages:
        messages[""] = gettext("Type at least one reading: lowest, highest or rain.")
    elif not any(messages.values()):
        messages["tmax"] = swing_problem(tmin_c, tmax_c)
    messages["day"] = day_problem(day, today)
    problems = [SourceProblem(0, name, text) for name, text in messages.items() if text]
    if problems:
        raise SourceError(*problems)
    return StationDay(day, tmin_c, tmax_c, rain_mm)
