"""One year of weeks around a winter: in what share of years each has a frost.

Above the weeks lie spans, one in another: between which days a frost comes one year in
ten, in half of the years, and in nine of ten.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from django.utils.translation import gettext, pgettext

from care.charts.axes import Scale, Tick, month_ticks
from care.facts import MonthDay
from care.planning.frost_outlook import FreezeDates
from care.planning.frost_weeks import WEEK, WEEKS, FrostWeeks
from orchard.languages import short_day_and_month

WIDTH = 360
LEFT, RIGHT = 50, 352
FIRST_ROW, ROW_HEIGHT, BARS_HEIGHT, BELOW = 14, 22, 92, 38
DAYS = WEEKS * WEEK
LABEL_WIDTH = 50.0  # of a day and a short month
GAP = 5.0


@dataclass(frozen=True, slots=True)
class Bar:
    """One week that has had a frost."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class DaySpan:
    """From the first frost of autumn to the last of spring, with both days named."""

    at: float
    first_at: float
    last_at: float
    name: str
    first_words: str
    last_words: str
    first_label_at: float
    last_label_at: float
    is_first_inside: bool
    is_last_inside: bool


@dataclass(frozen=True, slots=True)
class WeekRow:
    """One week of the table beside the drawing."""

    start: date
    share: str


@dataclass(frozen=True, slots=True)
class FrostStrip:
    """What the page draws; places are in the units of the view box."""

    bars: tuple[Bar, ...]
    spans: tuple[DaySpan, ...]
    share_ticks: tuple[Tick, ...]
    month_ticks: tuple[Tick, ...]
    today_at: float
    rows: tuple[WeekRow, ...]
    years: int
    top: int
    bottom: int
    height: int
    width: int = WIDTH
    left: int = LEFT
    right: int = RIGHT


def frost_strip(weeks: FrostWeeks, dates: FreezeDates, today: date) -> FrostStrip:
    """Return the drawing of one bound and its table.

    Parameters
    ----------
    weeks : FrostWeeks
        Shares by week.
    dates : FreezeDates
        Of the same bound; with too few years the farthest days that were seen stand
        for chances.
    today : datetime.date
        Lies in the year shown.
    """
    across = Scale(0.0, float(DAYS), LEFT, RIGHT)
    spans = _spans(weeks, dates, across)
    top = FIRST_ROW + ROW_HEIGHT * len(spans)
    bottom = top + BARS_HEIGHT
    return FrostStrip(
        bars=_bars(weeks, across, bottom),
        spans=spans,
        share_ticks=tuple(
            Tick(round(bottom - share * BARS_HEIGHT, 1), f"{share:.0%}")
            for share in (0.0, 0.5, 1.0)
        ),
        month_ticks=month_ticks(
            weeks.start, weeks.start + timedelta(days=DAYS - 1), across
        ),
        today_at=round(across.at((today - weeks.start).days), 1),
        rows=tuple(
            WeekRow(weeks.start + timedelta(days=WEEK * week), f"{share:.0%}")
            for week, share in enumerate(weeks.share)
            if share > 0
        ),
        years=weeks.years,
        top=top,
        bottom=bottom,
        height=bottom + BELOW,
    )


def _bars(weeks: FrostWeeks, across: Scale, bottom: float) -> tuple[Bar, ...]:
    width = across.at(WEEK) - across.at(0)
    heights = np.nan_to_num(weeks.share) * BARS_HEIGHT
    return tuple(
        Bar(
            x=round(across.at(WEEK * week), 1),
            y=round(float(bottom - height), 1),
            width=round(width - 1, 1),
            height=round(float(height), 1),
        )
        for week, height in enumerate(heights)
        if height > 0
    )


def _spans(weeks: FrostWeeks, dates: FreezeDates, across: Scale) -> tuple[DaySpan, ...]:
    """Return a span for each chance; of few years only what was seen."""
    usual = dates.usual
    rows = [
        (
            pgettext("of days of frost", "seen"),
            usual.earliest_autumn_seen,
            usual.latest_spring_seen,
        )
    ]
    if dates.is_told:
        named = (
            (gettext("1 in 10"), dates.safe),
            (pgettext("of years", "half"), usual),
            (gettext("9 in 10"), dates.sure),
        )
        rows = [(name, each.first_autumn, each.last_spring) for name, each in named]
    told = [(name, first, last) for name, first, last in rows if first and last]
    return tuple(
        _span(weeks.start, across, FIRST_ROW + ROW_HEIGHT * number, name, ends)
        for number, (name, *ends) in enumerate(told)
    )


def _span(
    start: date, across: Scale, at: float, name: str, ends: Sequence[MonthDay]
) -> DaySpan:
    first, last = ends
    first_at, last_at = (
        round(across.at(_days_after(start, day)), 1) for day in (first, last)
    )
    is_first_inside = first_at - GAP - LABEL_WIDTH < LEFT
    is_last_inside = last_at + GAP + LABEL_WIDTH > WIDTH
    return DaySpan(
        at=at,
        first_at=first_at,
        last_at=last_at,
        name=name,
        first_words=_short(first),
        last_words=_short(last),
        first_label_at=first_at + (GAP if is_first_inside else -GAP),
        last_label_at=last_at + (-GAP if is_last_inside else GAP),
        is_first_inside=is_first_inside,
        is_last_inside=is_last_inside,
    )


def _days_after(start: date, day: MonthDay) -> int:
    this_year = day.in_year(start.year)
    found = this_year if this_year >= start else day.in_year(start.year + 1)
    return (found - start).days


def _short(day: MonthDay) -> str:
    return short_day_and_month(day.in_year(2001))
