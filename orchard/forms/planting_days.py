"""The days on which a tree may have been planted, or may be planned to be."""

from datetime import date, timedelta

OLDEST_YEAR = 1800
PLANNED_AHEAD = timedelta(days=2 * 366)  # ours: nobody orders trees for later


def last_planned_day(today: date) -> date:
    """Return the last day for which a planting may be planned."""
    return today + PLANNED_AHEAD
