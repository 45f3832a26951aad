"""How long ago something was, as people say it."""

from datetime import date, datetime

MINUTE_S, HOUR_S, DAY_S = 60, 3600, 86_400
SOON_S = 90
STILL_HOURS = 36
STILL_DAYS = 60


def ago(at: datetime, now: datetime) -> str:
    """Return such as ``5 minutes ago``; what is still to come is just now."""
    seconds = max((now - at).total_seconds(), 0.0)
    if seconds < SOON_S:
        return "just now"
    if seconds < HOUR_S:
        return f"{round(seconds / MINUTE_S)} minutes ago"
    if seconds < STILL_HOURS * HOUR_S:
        return _counted(round(seconds / HOUR_S), "hour")
    return _long_ago(round(seconds / DAY_S))


def days_old(day: date, today: date) -> str:
    """Return such as ``3 days old`` for what is known up to a day."""
    days = (today - day).days
    if days <= 0:
        return "up to today"
    if days == 1:
        return "up to yesterday"
    return _long_ago(days).replace(" ago", " old")


def _long_ago(days: int) -> str:
    if days < STILL_DAYS:
        return _counted(days, "day")
    months = round(days / 30.44)
    return _counted(months, "month") if months < 24 else _counted(months // 12, "year")  # noqa: PLR2004 (two years)


def _counted(count: int, unit: str) -> str:
    return f"{count} {unit}{'' if count == 1 else 's'} ago"
