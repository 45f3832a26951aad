"""How long ago something was, as people say it."""

from datetime import date, datetime

from django.utils.translation import gettext, ngettext

MINUTE_S, HOUR_S, DAY_S = 60, 3600, 86_400
SOON_S = 90
STILL_HOURS = 36
STILL_DAYS = 60
STILL_MONTHS, DAYS_A_MONTH = 24, 30.44


def ago(at: datetime, now: datetime) -> str:
    """Return such as ``5 minutes ago``; what is still to come is just now."""
    seconds = max((now - at).total_seconds(), 0.0)
    if seconds < SOON_S:
        return gettext("just now")
    if seconds < HOUR_S:
        minutes = round(seconds / MINUTE_S)
        return gettext("{number} minutes ago").format(number=minutes)
    if seconds < STILL_HOURS * HOUR_S:
        hours = round(seconds / HOUR_S)
        return ngettext("{number} hour ago", "{number} hours ago", hours).format(
            number=hours
        )
    return _long_ago(round(seconds / DAY_S))


def days_old(day: date, today: date) -> str:
    """Return such as ``3 days old`` for what is known up to a day."""
    days = (today - day).days
    if days <= 0:
        return gettext("up to today")
    if days == 1:
        return gettext("up to yesterday")
    if days < STILL_DAYS:
        return ngettext("{number} day old", "{number} days old", days).format(
            number=days
        )
    months = round(days / DAYS_A_MONTH)
    if months < STILL_MONTHS:
        return ngettext("{number} month old", "{number} months old", months).format(
            number=months
        )
    years = months // 12
    return ngettext("{number} year old", "{number} years old", years).format(
        number=years
    )


def _long_ago(days: int) -> str:
    if days < STILL_DAYS:
        return ngettext("{number} day ago", "{number} days ago", days).format(
            number=days
        )
    months = round(days / DAYS_A_MONTH)
    if months < STILL_MONTHS:
        return ngettext("{number} month ago", "{number} months ago", months).format(
            number=months
        )
    years = months // 12
    return ngettext("{number} year ago", "{number} years ago", years).format(
        number=years
    )
