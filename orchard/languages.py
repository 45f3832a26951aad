"""What differs from one language to another: dates, lists, decimal signs.

English and Spanish. Every text a person reads is marked where it is written with
``gettext`` (and ``ngettext`` where it counts); constants are marked with
``gettext_noop`` and translated where they are used.
"""

import datetime as dt
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING

from django.conf import settings
from django.utils import translation
from django.utils.dateformat import format as format_date, time_format
from django.utils.dates import WEEKDAYS, WEEKDAYS_ABBR
from django.utils.formats import get_format
from django.utils.translation import gettext, pgettext

if TYPE_CHECKING:
    from django_stubs_ext import StrOrPromise
else:
    StrOrPromise = str

#: A text as it is, or one that is translated each time it is read.
Words = StrOrPromise


@contextmanager
def in_language(chosen: str) -> Iterator[None]:
    """Write what follows in the language a person chose, else the server's own."""
    with translation.override(chosen or settings.LANGUAGE_CODE):
        yield


def weekday(day: dt.date) -> str:
    """Return such as ``Wednesday``."""
    return format_date(day, "l")


def weekday_name(number: int) -> str:
    """Return such as ``Wednesday`` for 2; Monday is 0."""
    return str(WEEKDAYS[number])


def short_weekday_name(number: int) -> str:
    """Return such as ``Wed`` for 2; Monday is 0."""
    return str(WEEKDAYS_ABBR[number])


def weekday_and_day(day: dt.date) -> str:
    """Return such as ``Wednesday 2 July``."""
    return format_date(day, pgettext("pattern of a day", "l j F"))


def day_and_month(day: dt.date) -> str:
    """Return such as ``2 July``."""
    return format_date(day, pgettext("pattern of a day", "j F"))


def day_of_year(day: dt.date) -> str:
    """Return such as ``2 July 2014``."""
    return format_date(day, pgettext("pattern of a day", "j F Y"))


def every_year(month: int, day: int) -> str:
    """Return such as ``2 July`` for a day of any year, 29 February among them."""
    return day_and_month(dt.date(2000, month, day))


def month_and_year(day: dt.date) -> str:
    """Return such as ``July 2014``."""
    return format_date(day, pgettext("pattern of a month", "F Y"))


def month_name(month: int) -> str:
    """Return such as ``July`` for 7."""
    return format_date(dt.date(2001, month, 1), "F")


def short_day_and_month(day: dt.date) -> str:
    """Return such as ``2 Jul``."""
    return format_date(day, pgettext("pattern of a day", "j M"))


def short_day_of_year(day: dt.date) -> str:
    """Return such as ``2 Jul 2014``."""
    return format_date(day, pgettext("pattern of a day", "j M Y"))


def short_month(day: dt.date) -> str:
    """Return such as ``Jul``."""
    return format_date(day, "M")


def short_weekday_and_day(day: dt.date) -> str:
    """Return such as ``Wed 2 Jul``."""
    return format_date(day, pgettext("pattern of a day", "D j M"))


def short_weekday_and_month(day: dt.date) -> str:
    """Return such as ``Wed 2 July``."""
    return format_date(day, pgettext("pattern of a day", "D j F"))


def short_weekday_and_year(day: dt.date) -> str:
    """Return such as ``Wed 2 July 2014``."""
    return format_date(day, pgettext("pattern of a day", "D j F Y"))


def clock(at: dt.time | dt.datetime) -> str:
    """Return such as ``9:05``."""
    return time_format(at, "G:i")


def listed(items: Sequence[str]) -> str:
    """Return items as a sentence has them, such as ``plum, fig and pear``."""
    if len(items) < 2:  # noqa: PLR2004 (one thing, or none)
        return "".join(items)
    return gettext("{first} and {last}").format(
        first=", ".join(items[:-1]), last=items[-1]
    )


def either(items: Sequence[str]) -> str:
    """Return items one of which it is, such as ``plum, fig or pear``."""
    if len(items) < 2:  # noqa: PLR2004 (one thing, or none)
        return "".join(items)
    return gettext("{first} or {last}").format(
        first=", ".join(items[:-1]), last=items[-1]
    )


def whole(number: float) -> str:
    """Return a whole number, its thousands set apart as the reader's language does."""
    return f"{number:,.0f}".replace(",", str(get_format("THOUSAND_SEPARATOR")))


def decimal_sign() -> str:
    """Return the sign between whole and parts in the reader's language."""
    return str(get_format("DECIMAL_SEPARATOR"))


def localised(number: str) -> str:
    """Return a number written with a point with the reader's own decimal sign."""
    return number.replace(".", decimal_sign())
