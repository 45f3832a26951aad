"""Days as the reader's language writes them: ``{{ tree.ended_on|day_of_year }}``."""

from collections.abc import Callable
from datetime import datetime

from django import template

from orchard import languages

register = template.Library()


def _filter(name: str, write: Callable[..., str]) -> None:
    register.filter(name, write, expects_localtime=True)


def day_and_time(moment: datetime) -> str:
    """Return such as ``2 July 2014, 09:05``."""
    return f"{languages.day_of_year(moment)}, {moment:%H:%M}"


_filter("day_and_time", day_and_time)
_filter("short_day_of_year", languages.short_day_of_year)
_filter("day_and_month", languages.day_and_month)
_filter("day_of_year", languages.day_of_year)
_filter("short_day_and_month", languages.short_day_and_month)
_filter("short_weekday_and_day", languages.short_weekday_and_day)
_filter("weekday_and_day", languages.weekday_and_day)
