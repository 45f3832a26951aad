"""The root zone's water of one tree, drawn: thirty days back, fourteen ahead.

Only numbers and texts in the reader's unit; the page writes them as SVG attributes.
The top of the drawing is a full root zone, and the line falls as the tree drinks.
"""

import math
from dataclasses import dataclass
from datetime import date, timedelta

from care.charts.axes import Tick, round_step
from care.facts import WaterCourse, WaterOutlook
from orchard.languages import localised, short_day_and_month
from orchard.units import Quantity, UnitSystem, from_si, unit_label

PAST_DAYS = 30
NEXT_DAYS = 14
WIDTH, HEIGHT = 360, 230
LEFT, RIGHT, TOP, BOTTOM = 40, 352, 34, 200
LEAST_TOP = 0.1


@dataclass(frozen=True, slots=True)
class DayRow:
    """One day of the table beside the drawing."""

    day: date
    missing: str
    is_likely: bool


@dataclass(frozen=True, slots=True)
class WaterChart:
    """What the page draws; places are in the units of the view box."""

    width: int
    height: int
    left: int
    right: int
    top: int
    bottom: int
    unit: str
    past_line: str
    past_area: str
    next_line: str
    limit_at: float
    today_at: float
    missing_ticks: tuple[Tick, ...]
    day_ticks: tuple[Tick, ...]
    rows: tuple[DayRow, ...]


def expected_course(
    outlook: WaterOutlook, course: WaterCourse, today: date
) -> list[tuple[int, float]]:
    """Return (days from today, litres missing) as planned, to the drawing's end.

    A day with a watering stands twice: as dry as it gets, and after it.
    """
    points = [(0, outlook.missing_l)]
    rows = zip(course.days, course.dry_l, course.missing_l, strict=True)
    for day, dry_l, missing_l in rows:
        ahead = (day - today).days
        if 0 < ahead <= NEXT_DAYS:
            points.append((ahead, float(dry_l)))
        if 0 <= ahead <= NEXT_DAYS and missing_l < points[-1][1]:
            points.append((ahead, float(missing_l)))
    return points


def water_chart(
    outlook: WaterOutlook, course: WaterCourse, today: date, units: UnitSystem
) -> WaterChart | None:
    """Return the drawing of one tree's water, or None without any history.

    Parameters
    ----------
    outlook : WaterOutlook
        With litres missing at the end of each day of its history, today last.
    course : WaterCourse
        The same tree's water as planned, at least from today on.
    today : date
        The day of the dashed line.
    units : UnitSystem
        Litres or gallons.
    """
    past = [
        ((day - today).days, litres)
        for day, litres in zip(
            outlook.history_days, outlook.history_missing_l, strict=True
        )
        if -PAST_DAYS <= (day - today).days <= 0
    ]
    if not past:
        return None
    ahead = expected_course(outlook, course, today)
    shown = _Scale(outlook, [litres for _, litres in (*past, *ahead)], units)
    past_line = shown.line(past)
    corners = f"{shown.x(past[-1][0]):.1f},{TOP} {shown.x(past[0][0]):.1f},{TOP}"
    threshold_l = outlook.depletion_p * outlook.store_l
    return WaterChart(
        width=WIDTH,
        height=HEIGHT,
        left=LEFT,
        right=RIGHT,
        top=TOP,
        bottom=BOTTOM,
        unit=unit_label(Quantity.VOLUME, units),
        past_line=past_line,
        past_area=f"{past_line} {corners}",
        next_line=shown.line(ahead),
        limit_at=round(shown.y(threshold_l), 1),
        today_at=round(shown.x(0), 1),
        missing_ticks=shown.missing_ticks(),
        day_ticks=_day_ticks(shown, today),
        rows=_rows(past, ahead, today, units),
    )


class _Scale:
    """From days and litres to places in the view box."""

    def __init__(
        self, outlook: WaterOutlook, litres: list[float], units: UnitSystem
    ) -> None:
        self.units = units
        threshold_l = outlook.depletion_p * outlook.store_l
        largest = max(*litres, threshold_l, LEAST_TOP)
        shown = from_si(largest, Quantity.VOLUME, units)
        self.step = round_step(shown)
        self.most = self.step * math.ceil(shown / self.step - 1e-9)

    def x(self, days: float) -> float:
        share = (days + PAST_DAYS) / (PAST_DAYS + NEXT_DAYS)
        return LEFT + share * (RIGHT - LEFT)

    def y(self, litres: float) -> float:
        share = from_si(litres, Quantity.VOLUME, self.units) / self.most
        return TOP + share * (BOTTOM - TOP)

    def line(self, points: list[tuple[int, float]]) -> str:
        return " ".join(
            f"{self.x(day):.1f},{self.y(litres):.1f}" for day, litres in points
        )

    def missing_ticks(self) -> tuple[Tick, ...]:
        count = round(self.most / self.step)
        return tuple(
            Tick(
                round(TOP + number * self.step / self.most * (BOTTOM - TOP), 1),
                localised(f"{number * self.step:g}"),
            )
            for number in range(count + 1)
        )


def _day_ticks(shown: _Scale, today: date) -> tuple[Tick, ...]:
    """Return every other Monday inside the drawing, as day and short month."""
    mondays = [
        days
        for days in range(-PAST_DAYS, NEXT_DAYS + 1)
        if (today + timedelta(days=days)).weekday() == 0
    ]
    return tuple(
        Tick(round(shown.x(days), 1), short_day_and_month(today + timedelta(days=days)))
        for days in mondays[::2]
    )


def _rows(
    past: list[tuple[int, float]],
    ahead: list[tuple[int, float]],
    today: date,
    units: UnitSystem,
) -> tuple[DayRow, ...]:
    def row(days: int, litres: float, *, is_likely: bool) -> DayRow:
        shown = from_si(litres, Quantity.VOLUME, units)
        return DayRow(
            today + timedelta(days=days), localised(f"{shown:.1f}"), is_likely
        )

    return (
        *(row(days, litres, is_likely=False) for days, litres in past),
        *(row(days, litres, is_likely=True) for days, litres in ahead[1:]),
    )
