"""Dates as station files write them, and the order of day and month in them."""

import re
from collections.abc import Iterable
from datetime import date

from django.utils.translation import gettext

from orchard.sources.station_columns import DateOrder

#: A day, perhaps followed by a time of day, which is not needed.
_DATE = re.compile(
    r"(?:(\d{4})(?P<a>[-/.])(\d{1,2})(?P=a)(\d{1,2})|(\d{4})(\d\d)(\d\d)"
    r"|(\d{1,2})(?P<b>[-/.])(\d{1,2})(?P=b)(\d{4}))"
    r"(?:[T ]\d{1,2}:\d\d(?::\d\d(?:\.\d+)?)?(?:Z|[-+]\d\d:?\d\d)?)?",
    re.ASCII,
)
_MONTHS = 12


class DateError(ValueError):
    """A text that is no day, or could be two."""


def guess_date_order(texts: Iterable[str]) -> DateOrder | None:
    """Return the order that fits all dates, or ``None`` where nobody can tell.

    A part above 12 must be a day, and dots come between day first dates.
    """
    day_first = month_first = True
    for text in texts:
        match = _DATE.fullmatch(text)
        if match is None:
            continue
        if match[8] is None:
            return DateOrder.YEAR_MONTH_DAY
        month_first = month_first and int(match[8]) <= _MONTHS and match["b"] != "."
        day_first = day_first and int(match[10]) <= _MONTHS
    if day_first == month_first:
        return None
    return DateOrder.DAY_MONTH_YEAR if day_first else DateOrder.MONTH_DAY_YEAR


def read_date(text: str, order: DateOrder | None) -> date:
    """Return the day that a cell holds.

    Parameters
    ----------
    text : str
        Such as ``2014-07-31``, ``20140731``, ``31.7.2014`` or ``7/31/2014``, with or
        without a time of day.
    order : DateOrder or None
        What dates that end in their year begin with.

    Raises
    ------
    DateError
        When it is no date, no day of the calendar, or without ``order`` two days.
    """
    match = _DATE.fullmatch(text)
    if match is None:
        message = gettext("“{text}” is not a date; write dates as 2014-07-31").format(
            text=text[:30]
        )
        raise DateError(message)
    if match[8] is None:
        parts = match.group(1, 3, 4) if match[1] else match.group(5, 6, 7)
        year, month, day = (int(part) for part in parts)
    else:
        year, month, day = _year_last(match, order)
    try:
        return date(year, month, day)
    except ValueError:
        message = gettext("“{text}” is not a day of the calendar").format(
            text=text[:30]
        )
        raise DateError(message) from None


def _year_last(match: re.Match[str], order: DateOrder | None) -> tuple[int, int, int]:
    first, second, year = int(match[8]), int(match[10]), int(match[11])
    if order is DateOrder.MONTH_DAY_YEAR:
        return year, first, second
    if order is DateOrder.DAY_MONTH_YEAR or first > _MONTHS or first == second:
        return year, second, first
    if second > _MONTHS:
        return year, first, second
    message = gettext(
        "“{text}” can be two days; say whether day or month comes first"
    ).format(text=match[0][:30])
    raise DateError(message)
