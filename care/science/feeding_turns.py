"""Which parts of a season's feeding are still to come, and from which day."""

from datetime import date, timedelta

from care.facts import Answer, Situation
from care.science.feeding_record import (
    KIND,
    SETTLE_DAYS,
    has_lost_crop,
    last_dose_on,
    season_windows,
)
from care.science.feeding_windows import outside_blackouts
from care.science.season import Window, work_of_season

NumberedWindows = tuple[tuple[int, Window], ...]

BETWEEN_DAYS = 28  # the shortest published interval (banana, Florida: 4-8 weeks)


def open_windows(situation: Situation, season: int) -> NumberedWindows:
    """Return the parts not yet done, skipped, missed or blocked, 1-based.

    Once the crop is lost only the first part is given (NC State Extension, fruit tree
    fertilizer: skip the second half where frost took the crop).
    """
    tree, site, today = situation.tree, situation.site, situation.today
    closed = {work.key for work in work_of_season(situation, KIND, season)}
    since = not_before(situation)
    found = []
    for split, window in enumerate(season_windows(situation, season), start=1):
        known_past = tree.fed_before is Answer.YES and window.start <= tree.entered_on
        if f"{season}/{split}" in closed or window.end < today or known_past:
            continue
        if split > 1 and has_lost_crop(situation, season):
            continue
        kept = window.within(since, window.end)
        allowed = outside_blackouts(kept, site) if kept else None
        if allowed is not None and allowed.end >= today:
            found.append((split, allowed))
    return tuple(found)


def blocked_season(situation: Situation, season: int) -> Window | None:
    """Return a season's feeding time if the local rule forbids every day of it.

    ``None`` where any of it is allowed, or once it is over.
    """
    windows, site = season_windows(situation, season), situation.site
    if not windows or any(outside_blackouts(window, site) for window in windows):
        return None
    span = Window(windows[0].start, windows[-1].end)
    return None if span.end < situation.today else span


def not_before(situation: Situation) -> date:
    """Return the first day allowed by the last feeding and by planting.

    Nothing goes into the planting hole: the roots are left to settle first.
    """
    last, planted = last_dose_on(situation), situation.tree.planted_on
    days = [date.min]
    if last is not None:
        days.append(last + timedelta(days=BETWEEN_DAYS))
    if planted is not None:
        days.append(planted + timedelta(days=SETTLE_DAYS))
    return max(days)
