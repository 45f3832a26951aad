"""A season's running sum, drawn against past seasons.

Past seasons are thin lines; where they are many, the span that eight of ten keep to and
the middle one. This season is bold as far as it was observed or forecast, and dashed
beyond, between the least and the most that is likely. Only numbers and texts in the
reader's unit; the page writes them as SVG attributes.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from django.utils.translation import gettext, pgettext

from care.charts.axes import (
    Label,
    Scale,
    Tick,
    between,
    from_zero,
    kept_apart,
    month_ticks,
    points,
)
from care.facts import Array
from care.planning.ensemble import Fan, three
from care.planning.past_seasons import PastSeasons
from orchard.languages import localised, whole

WIDTH, HEIGHT = 360, 262
LEFT, RIGHT, TOP, BOTTOM = 50, 284, 44, 226
MOST_POINTS = 120  # along a line: two units of the view box between them
NEED_REACH = 1.2  # a need farther above everything drawn would flatten the drawing
HALF_MONTH = 16
NEED_GAP = 20.0  # between two needs with a name each
LONGEST_NAME = 26
LABEL_RISE = 4.0  # of a name above its line
NAMED_SHARE = 0.9  # of the season: a shorter line ends too far from its name
LEAST_SPREAD = 0.02  # of the axis: nearer ends of the likely range are one


@dataclass(frozen=True, slots=True)
class Measure:
    """How sums are shown: the unit's name, SI times ``factor``, rounded to ``step``."""

    unit: str
    factor: float = 1.0
    step: float = 10.0

    def say(self, value: float) -> str:
        """Return a sum in the reader's unit."""
        shown = round(value * self.factor / self.step) * self.step
        return whole(shown) if self.step >= 1 else localised(f"{shown:.1f}")


@dataclass(frozen=True, slots=True)
class Need:
    """An amount that something asks for, drawn across."""

    name: str
    amount: float


@dataclass(frozen=True, slots=True)
class NeedLine:
    """The line of one need, or of the greatest of several too near to tell apart.

    ``is_right`` where the season passes it early, so that its name stands clear of
    the others at the right.
    """

    at: float
    label_at: float
    words: str
    is_right: bool


@dataclass(frozen=True, slots=True)
class FanRow:
    """One day of the table beside the drawing."""

    day: date
    now: str
    sure: str  # observed, forecast or likely
    past: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FanChart:
    """What the page draws; places are in the units of the view box."""

    unit: str
    value_ticks: tuple[Tick, ...]
    month_ticks: tuple[Tick, ...]
    past_band: str
    past_middle: str
    past_lines: tuple[str, ...]
    firm_line: str
    likely_line: str
    likely_edges: tuple[str, ...]
    today_at: float | None
    needs: tuple[NeedLine, ...]
    left_out: tuple[str, ...]
    labels: tuple[Label, ...]
    heads: tuple[str, ...]
    rows: tuple[FanRow, ...]
    width: int = WIDTH
    height: int = HEIGHT
    left: int = LEFT
    right: int = RIGHT
    top: int = TOP
    bottom: int = BOTTOM


def fan_chart(
    fan: Fan,
    past: PastSeasons,
    measure: Measure,
    today: date,
    needs: Sequence[Need] = (),
) -> FanChart:
    """Return the drawing of a season and its table.

    Parameters
    ----------
    fan : Fan
        This season, through its last day.
    past : PastSeasons
        Of the same days; may be none.
    measure : Measure
        The reader's unit.
    today : datetime.date
        Marked where it lies inside; what is firm from there on was forecast.
    needs : sequence of Need
        Drawn where they lie in reach, else named in ``left_out``.
    """
    drawing = _Drawing(fan, past, measure, today, needs)
    in_reach = [need for need in needs if need.amount * measure.factor <= drawing.top]
    return FanChart(
        unit=measure.unit,
        value_ticks=drawing.value_ticks,
        month_ticks=month_ticks(
            fan.start, fan.start + timedelta(days=drawing.days - 1), drawing.across
        ),
        past_band=drawing.band(),
        past_middle=drawing.line(drawing.past_three[1]) if past.is_fair else "",
        past_lines=() if past.is_fair else tuple(drawing.line(s) for s in past.sums),
        firm_line=drawing.line(fan.middle[: drawing.firm]),
        likely_line=drawing.line(fan.middle, drawing.firm),
        likely_edges=tuple(
            drawing.line(edge, drawing.firm) for edge in drawing.likely_edges()
        ),
        today_at=drawing.today_at(),
        needs=drawing.need_lines(in_reach),
        left_out=tuple(need.name for need in needs if need not in in_reach),
        labels=drawing.labels(),
        heads=_heads(past),
        rows=drawing.rows(),
    )


def _heads(past: PastSeasons) -> tuple[str, ...]:
    if past.is_fair:
        return (
            gettext("1 year in 10 below"),
            gettext("Usual"),
            gettext("1 year in 10 above"),
        )
    if past.count == 1:
        return (season_name(past.starts[0], past.sums.shape[1]),)
    if not past.count:
        return ()
    return gettext("Least of past years"), gettext("Middle"), gettext("Most")


def season_name(start: date, days: int) -> str:
    """Return the year of a season, or both that it touches, such as 2013-14."""
    end = start + timedelta(days=days - 1)
    if start.year == end.year:
        return str(start.year)
    return f"{start.year}\N{EN DASH}{end.year % 100:02d}"


class _Drawing:
    """From days and sums to places in the view box."""

    def __init__(
        self,
        fan: Fan,
        past: PastSeasons,
        measure: Measure,
        today: date,
        needs: Sequence[Need],
    ) -> None:
        self.fan, self.past, self.measure, self.today = fan, past, measure, today
        self.days = max(len(fan.middle), past.sums.shape[1])
        self.firm = max((fan.firm_until - fan.start).days + 1, 0)
        self.past_three = _three(past)
        drawn = [*self.past_three[-1:], *past.sums] if not past.is_fair else []
        largest = max(
            float(each.max()) if each.size else 0.0
            for each in (self.past_three, fan.high, *drawn)
        )
        asked = [need.amount for need in needs if need.amount <= NEED_REACH * largest]
        largest = max(largest, *asked) if asked else largest
        self.down, self.value_ticks = from_zero(largest * measure.factor, BOTTOM, TOP)
        self.top = self.down.high
        self.across = Scale(0.0, float(self.days), LEFT, RIGHT)

    def line(self, sums: Array, first: int = 0) -> str:
        """Return a line through the ends of days, from that of day ``first`` on."""
        if len(sums) <= first:
            return ""
        across, down = self._places(sums, first)
        return points(across, down)

    def _places(self, sums: Array, first: int = 0) -> tuple[Array, Array]:
        every = max((self.days - 1) // MOST_POINTS + 1, 1)
        picked = np.append(np.arange(first, len(sums), every), len(sums))
        whole = np.concatenate([[0.0], sums * self.measure.factor])
        return self.across.at_low + picked * self._day, self._down(whole[picked])

    @property
    def _day(self) -> float:
        return self.across.at(1.0) - self.across.at(0.0)

    def _down(self, shown: Array) -> Array:
        return np.asarray(BOTTOM - shown / self.top * (BOTTOM - TOP))

    def at(self, amount: float) -> float:
        """Return the place of an amount on the upright axis."""
        return round(self.down.at(amount * self.measure.factor), 1)

    def band(self) -> str:
        """Return the span that eight of ten past seasons keep to."""
        if not self.past.is_fair:
            return ""
        across, lower = self._places(self.past_three[0])
        return between(across, self._places(self.past_three[2])[1], lower)

    def likely_edges(self) -> tuple[Array, ...]:
        """Return the least and the most that is likely, where they lie apart."""
        if self.firm >= len(self.fan.middle):
            return ()
        apart = (self.fan.high[-1] - self.fan.low[-1]) * self.measure.factor
        is_one = apart <= LEAST_SPREAD * self.top
        return () if is_one else (self.fan.low, self.fan.high)

    def today_at(self) -> float | None:
        """Return where this morning stands, ``None`` outside the season."""
        gone = (self.today - self.fan.start).days
        return round(self.across.at(gone), 1) if 0 <= gone < self.days else None

    def need_lines(self, needs: Sequence[Need]) -> tuple[NeedLine, ...]:
        """Return one line for needs that lie too near for two names."""
        groups: list[list[Need]] = []
        for need in sorted(needs, key=lambda each: -each.amount):
            if groups and self._are_near(groups[-1][0], need):
                groups[-1].append(need)
            else:
                groups.append([need])
        return tuple(self._need_line(group) for group in groups)

    def _are_near(self, one: Need, other: Need) -> bool:
        return abs(self.at(one.amount) - self.at(other.amount)) < NEED_GAP

    def _need_line(self, group: Sequence[Need]) -> NeedLine:
        most, least = group[0], group[-1]
        span = self.measure.say(most.amount)
        if most.amount > least.amount:
            span = f"{self.measure.say(least.amount)}\N{EN DASH}{span}"
        words = f"{most.name}: {span}"
        if len(group) > 1:
            words = gettext("{name} and {number} more: {span}").format(
                name=most.name, number=len(group) - 1, span=span
            )
        if len(words) > LONGEST_NAME:
            words = span
            if len(group) > 1:
                words = gettext("{number} needs: {span}").format(
                    number=len(group), span=span
                )
        end = float(self.fan.middle[-1]) if len(self.fan.middle) else 0.0
        at = self.at(most.amount)
        return NeedLine(at, at - LABEL_RISE, words, is_right=most.amount < end / 2)

    def labels(self) -> tuple[Label, ...]:
        """Return the names at the right ends of the lines."""
        named = []
        if len(self.fan.middle) >= NAMED_SHARE * self.days:
            is_over = self.firm >= len(self.fan.middle)
            words, kind = (
                (pgettext("of a season's line", "this one"), "name")
                if is_over
                else (pgettext("of a season's line", "likely"), "accent")
            )
            named.append((self.fan.middle[-1], words, kind))
        if self.past.is_fair:
            ends = self.past_three[:, -1]
            named += [
                (end, words, "soft") for end, words in zip(ends, _names(), strict=True)
            ]
        else:
            ordered = zip(self.past.sums[:, -1], self.past.starts, strict=True)
            named += [(end, season_name(s, self.days), "soft") for end, s in ordered]
        places = kept_apart([self.at(float(end)) for end, *_ in named], TOP, BOTTOM)
        return tuple(
            Label(round(at, 1), words, kind)
            for at, (_end, words, kind) in zip(places, named, strict=True)
        )

    def rows(self) -> tuple[FanRow, ...]:
        picked = [
            place
            for place in range(self.days)
            if (self.fan.start + timedelta(days=place)).day in (1, HALF_MONTH)
        ]
        gone = (self.today - self.fan.start).days
        ends = {
            self.firm - 1,
            min(gone, self.days) - 1,
            len(self.fan.middle) - 1,
            self.days - 1,
        }
        picked = sorted(place for place in {*picked, *ends} if place >= 0)
        return tuple(self._row(place) for place in picked)

    def _row(self, place: int) -> FanRow:
        past = self.past_three[:, place] if self.past.count else ()
        if self.past.count == 1:
            past = past[:1]
        return FanRow(
            day=self.fan.start + timedelta(days=place),
            now=self._now(place),
            sure=self._sure(place),
            past=tuple(self.measure.say(float(each)) for each in past),
        )

    def _sure(self, place: int) -> str:
        if place >= self.firm:
            return pgettext("how sure a sum is", "likely")
        is_over = self.fan.start + timedelta(days=place) < self.today
        if is_over:
            return pgettext("how sure a sum is", "observed")
        return pgettext("how sure a sum is", "forecast")

    def _now(self, place: int) -> str:
        if place >= len(self.fan.middle):
            return ""
        low, middle, high = (
            self.measure.say(float(each[place]))
            for each in (self.fan.low, self.fan.middle, self.fan.high)
        )
        if low == high:
            return middle
        return f"{middle} ({low}\N{EN DASH}{high})"


def _names() -> tuple[str, str, str]:
    return (
        pgettext("of past years", "low"),
        pgettext("of past years", "usual"),
        pgettext("of past years", "high"),
    )


def _three(past: PastSeasons) -> Array:
    """Return what is low, usual and high of past seasons; shape (3, days)."""
    if not past.count:
        return np.zeros((3, past.sums.shape[1]))
    if past.is_fair:
        return three(past.sums)
    return np.asarray(np.quantile(past.sums, (0.0, 0.5, 1.0), axis=0))
