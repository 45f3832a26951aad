"""Days as people say them, seen from the day they stand in."""

from datetime import date

from django.utils.translation import gettext, ngettext, pgettext

from orchard.languages import day_and_month, day_of_year, weekday, weekday_and_day

WEEK = 7
DASH = "\N{EN DASH}"


def full_day(day: date) -> str:
    """Return such as ``Wednesday 2 July``."""
    return weekday_and_day(day)


def short_day(day: date, today: date) -> str:
    """Return such as ``2 July``, with the year where it is another one."""
    return day_and_month(day) if day.year == today.year else day_of_year(day)


def day_words(day: date, today: date) -> str:
    """Return ``today``, ``tomorrow``, a weekday within six days, or the date."""
    near = {-1: gettext("yesterday"), 0: gettext("today"), 1: gettext("tomorrow")}
    distance = (day - today).days
    if distance in near:
        return near[distance]
    if abs(distance) < WEEK:
        return weekday(day)
    return short_day(day, today)


def when_day(day: date, today: date) -> str:
    """Return a day as when something is, such as ``tomorrow``, ``Friday``, ``2 July``.

    English says no more than the day; other languages say ``the Friday``.
    """
    words = day_words(day, today)
    distance = abs((day - today).days)
    if distance <= 1:
        return words
    if distance < WEEK:
        return pgettext("when something is", "{weekday}").format(weekday=words)
    return pgettext("when something is", "{day}").format(day=words)


def by_day(latest: date, today: date) -> str:
    """Return until when something can wait, such as ``by Friday``."""
    if latest <= today:
        return gettext("today")
    if (latest - today).days == 1:
        return gettext("by tomorrow")
    if (latest - today).days < WEEK:
        return gettext("by {weekday}").format(weekday=weekday(latest))
    return gettext("by {day}").format(day=short_day(latest, today))


def on_day(day: date, today: date) -> str:
    """Return ``tomorrow``, ``on Friday`` or ``on 12 July``."""
    words = day_words(day, today)
    distance = abs((day - today).days)
    if distance <= 1:
        return words
    if distance < WEEK:
        return gettext("on {weekday}").format(weekday=words)
    return gettext("on {day}").format(day=words)


def late_since(latest: date, today: date) -> str:
    """Return since when it is late, the last day of its window having passed."""
    days = (today - latest).days
    if days == 1:
        return gettext("late since yesterday")
    if days < WEEK:
        return gettext("late since {weekday}").format(weekday=weekday(latest))
    return gettext("late since {day}").format(day=short_day(latest, today))


def day_range(start: date, end: date, today: date) -> str:
    """Return such as 12 to 18 June, as short as it can be written."""
    if start == end:
        return short_day(start, today)
    if (start.year, start.month) == (end.year, end.month):
        return f"{start.day}{DASH}{short_day(end, today)}"
    first = day_and_month(start) if start.year == end.year else short_day(start, today)
    return f"{first} {DASH} {short_day(end, today)}"


def count_days(number: int) -> str:
    """Return such as ``1 day`` or ``9 days``."""
    return ngettext("{number} day", "{number} days", number).format(number=number)
