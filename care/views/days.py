"""Days as people say them, seen from the day they stand in."""

from datetime import date

WEEK = 7
DASH = "\N{EN DASH}"


def full_day(day: date) -> str:
    """Return such as ``Wednesday 2 July``."""
    return f"{day:%A} {day.day} {day:%B}"


def short_day(day: date, today: date) -> str:
    """Return such as ``2 July``, with the year where it is another one."""
    words = f"{day.day} {day:%B}"
    return words if day.year == today.year else f"{words} {day.year}"


def day_words(day: date, today: date) -> str:
    """Return ``today``, ``tomorrow``, a weekday within six days, or the date."""
    near = {-1: "yesterday", 0: "today", 1: "tomorrow"}
    distance = (day - today).days
    if distance in near:
        return near[distance]
    if abs(distance) < WEEK:
        return f"{day:%A}"
    return short_day(day, today)


def by_day(latest: date, today: date) -> str:
    """Return until when something can wait, such as ``by Friday``."""
    if latest <= today:
        return "today"
    return f"by {day_words(latest, today)}"


def on_day(day: date, today: date) -> str:
    """Return ``tomorrow``, ``on Friday`` or ``on 12 July``."""
    words = day_words(day, today)
    return f"on {words}" if words[0].isupper() or words[0].isdigit() else words


def late_since(latest: date, today: date) -> str:
    """Return since when it is late, the last day of its window having passed."""
    if (today - latest).days == 1:
        return "late since yesterday"
    return f"late since {day_words(latest, today)}"


def day_range(start: date, end: date, today: date) -> str:
    """Return such as 12 to 18 June, as short as it can be written."""
    if start == end:
        return short_day(start, today)
    if (start.year, start.month) == (end.year, end.month):
        return f"{start.day}{DASH}{short_day(end, today)}"
    first = (
        f"{start.day} {start:%B}" if start.year == end.year else short_day(start, today)
    )
    return f"{first} {DASH} {short_day(end, today)}"


def count_days(number: int) -> str:
    """Return such as ``1 day`` or ``9 days``."""
    return "1 day" if number == 1 else f"{number} days"
