"""The part of a year in which a tree grows at its place."""

from datetime import date

from care.facts import Situation
from care.science.season import (
    Window,
    next_on,
    season_date,
    season_of,
    start_of_growth,
)

LAST_OCTOBER_DAY = (10, 31)


def growing_season(situation: Situation) -> Window:
    """Return the days of growth around today.

    From bud break, as best known, to the usual first frost, and to the end of October
    where that is later or not known (the end of April in the south).
    """
    site = situation.site
    season = season_of(situation.today, southern=site.is_southern)
    start = start_of_growth(situation, season).on
    end = season_date(season, *LAST_OCTOBER_DAY, southern=site.is_southern)
    if site.first_frost is not None and not site.is_frost_free:
        end = min(end, next_on(site.first_frost, start))
    return Window(start, max(start, end))


def next_turn(due: date, today: date, between_days: int, window_days: int) -> date:
    """Return the turn at hand of work that repeats, once its last was missed.

    What nobody did is not late for ever: past its window of ``window_days`` it is asked
    for again in its turn, every ``between_days``.
    """
    missed = max(0, (today - due).days - window_days)
    turns = -(-missed // between_days)
    return date.fromordinal(due.toordinal() + turns * between_days)
