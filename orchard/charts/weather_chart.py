"""Two weeks back and a week ahead: each day's low to high, and its rain.

A day is a bar from its low to its high, so that a day nobody knows is a gap and not a
line drawn across it. What is measured is full, what is likely is hatched, what is only
usual is an outline: the three differ in black on white, and each has its word.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from itertools import groupby

from django.utils.translation import gettext, gettext_noop

from orchard.languages import short_day_and_month
from orchard.units import Quantity, UnitSystem, from_si, unit_label

WIDTH, HEIGHT = 360, 312
LEFT, RIGHT = 34, 356
AIR_TOP, AIR_BOTTOM = 44, 164
RAIN_TOP, RAIN_BOTTOM = 204, 272
BAR_SHARE = 0.62  # of a day's width
LEAST_BAR = 2.5  # so that a day whose low is its high is seen
MOST_AIR_TICKS, MOST_RAIN_TICKS = 5, 2
LEAST_RAIN = {UnitSystem.METRIC: 10.0, UnitSystem.US: 0.5}
WORD_HEIGHT, WORD_GAP, FREEZING_WIDTH = 16, 4, 50
NARROWEST_WORD = 3  # days; a word over fewer would run into its neighbours
LETTER_WIDTH, WORD_LIFT = 7.5, 14


class Sureness(StrEnum):
    """How a day is known; the last part of its class, and its word."""

    MEASURED = "measured"
    LIKELY = "likely"
    USUAL = "usual"


WORDS = {
    Sureness.MEASURED: gettext_noop("measured"),
    Sureness.LIKELY: gettext_noop("likely"),
    Sureness.USUAL: gettext_noop("usual"),
}


@dataclass(frozen=True, slots=True)
class ChartDay:
    """One day in SI units; ``None`` is not known, and is not drawn."""

    day: date
    tmin_c: float | None
    tmax_c: float | None
    rain_mm: float | None
    air: Sureness
    rain: Sureness


@dataclass(frozen=True, slots=True)
class Bar:
    """A rectangle of the view box."""

    x: float
    y: float
    width: float
    height: float
    kind: Sureness


@dataclass(frozen=True, slots=True)
class Tick:
    """A labelled place on an axis."""

    at: float
    label: str


@dataclass(frozen=True, slots=True)
class Word:
    """A word over days; ``lift`` raises it where its neighbour is too near."""

    at: float
    label: str
    lift: int = 0

    @property
    def width(self) -> float:
        """About how wide it is drawn."""
        return len(self.label) * LETTER_WIDTH


@dataclass(frozen=True, slots=True)
class WeatherChart:
    """What the page draws; places are in the units of the view box."""

    air_unit: str
    rain_unit: str
    air_bars: tuple[Bar, ...]
    rain_bars: tuple[Bar, ...]
    unknown_rain: tuple[float, ...]
    air_ticks: tuple[Tick, ...]
    rain_ticks: tuple[Tick, ...]
    day_ticks: tuple[Tick, ...]
    words: tuple[Word, ...]
    freezing_at: float | None
    freezing_word_at: float
    today_at: float
    width: int = WIDTH
    height: int = HEIGHT
    left: int = LEFT
    right: int = RIGHT
    air_top: int = AIR_TOP
    rain_top: int = RAIN_TOP
    rain_bottom: int = RAIN_BOTTOM


def weather_chart(
    days: Sequence[ChartDay], today: date, units: UnitSystem
) -> WeatherChart | None:
    """Return the drawing, or ``None`` where no temperature and no rain is known.

    Parameters
    ----------
    days : sequence of ChartDay
        Day after day, without a hole.
    today : date
        One of them; the dashed line stands before it.
    units : UnitSystem
        The reader's.
    """
    air = [value for day in days for value in (day.tmin_c, day.tmax_c)]
    shown = [_degrees(value, units) for value in air if value is not None]
    rains = [day.rain_mm for day in days if day.rain_mm is not None]
    if not shown and not rains:
        return None
    across = _Across(len(days))
    warmth = _Scale.around(shown or [0.0, 10.0])
    most = max([_depth(rain, units) for rain in rains] + [LEAST_RAIN[units]])
    rain = _Scale.from_zero(most)
    at_zero = warmth.y(_degrees(0.0, units))
    is_near = AIR_TOP <= at_zero <= AIR_BOTTOM
    air_bars = tuple(_air_bars(days, across, warmth, units))
    return WeatherChart(
        air_unit=unit_label(Quantity.TEMPERATURE, units),
        rain_unit=unit_label(Quantity.DEPTH, units),
        air_bars=air_bars,
        rain_bars=tuple(_rain_bars(days, across, rain, units)),
        unknown_rain=tuple(
            across.middle(place)
            for place, day in enumerate(days)
            if day.rain_mm is None and day.day < today
        ),
        air_ticks=warmth.ticks(),
        rain_ticks=rain.ticks(),
        day_ticks=_day_ticks(days, across),
        words=_words(days, across),
        freezing_at=round(at_zero, 1) if is_near else None,
        freezing_word_at=_free_place(air_bars, across, at_zero),
        today_at=across.begin(
            next(n for n, day in enumerate(days) if day.day >= today)
        ),
    )


def _degrees(value: float, units: UnitSystem) -> float:
    return from_si(value, Quantity.TEMPERATURE, units)


def _depth(value: float, units: UnitSystem) -> float:
    return from_si(value, Quantity.DEPTH, units)


def round_step(span: float, most_steps: int) -> float:
    """Return 1, 2 or 5 times a power of ten, so that few steps pass ``span``.

    Parameters
    ----------
    span : float
        Above zero.
    most_steps : int
        How many steps are wanted at most.
    """
    raw = span / most_steps
    power = 10.0 ** math.floor(math.log10(raw))
    return next(power * n for n in (1, 2, 5, 10) if power * n >= raw * (1 - 1e-9))


@dataclass(frozen=True, slots=True)
class _Across:
    """From a day's place to the view box."""

    count: int

    @property
    def width(self) -> float:
        return (RIGHT - LEFT) / self.count

    def begin(self, place: int) -> float:
        return round(LEFT + place * self.width, 1)

    def middle(self, place: float) -> float:
        return round(LEFT + (place + 0.5) * self.width, 1)

    def bar(self, place: int, top: float, bottom: float, kind: Sureness) -> Bar:
        width = self.width * BAR_SHARE
        x = LEFT + (place + 0.5) * self.width - width / 2
        height = max(bottom - top, LEAST_BAR)
        return Bar(
            round(x, 1),
            round(bottom - height, 1),
            round(width, 1),
            round(height, 1),
            kind,
        )


@dataclass(frozen=True, slots=True)
class _Scale:
    """From amounts in the reader's unit to places in the view box."""

    low: float
    high: float
    step: float
    top: int
    bottom: int

    @classmethod
    def around(cls, values: Sequence[float]) -> "_Scale":
        """Return a scale of air that begins and ends at round numbers."""
        step = round_step(max(max(values) - min(values), 1.0), MOST_AIR_TICKS)
        low = step * math.floor(min(values) / step + 1e-9)
        high = max(step * math.ceil(max(values) / step - 1e-9), low + step)
        return cls(low, high, step, AIR_TOP, AIR_BOTTOM)

    @classmethod
    def from_zero(cls, most: float) -> "_Scale":
        """Return a scale of rain."""
        step = round_step(most, MOST_RAIN_TICKS)
        high = step * math.ceil(most / step - 1e-9)
        return cls(0.0, high, step, RAIN_TOP, RAIN_BOTTOM)

    def y(self, value: float) -> float:
        share = (value - self.low) / (self.high - self.low)
        return self.bottom - share * (self.bottom - self.top)

    def ticks(self) -> tuple[Tick, ...]:
        count = round((self.high - self.low) / self.step)
        values = [self.low + number * self.step for number in range(count + 1)]
        return tuple(Tick(round(self.y(v), 1), f"{v:.10g}") for v in values)


def _air_bars(
    days: Sequence[ChartDay], across: _Across, scale: _Scale, units: UnitSystem
) -> list[Bar]:
    bars = []
    for place, day in enumerate(days):
        known = [v for v in (day.tmin_c, day.tmax_c) if v is not None]
        if known:
            top = scale.y(_degrees(max(known), units))
            bottom = scale.y(_degrees(min(known), units))
            bars.append(across.bar(place, top, bottom, day.air))
    return bars


def _free_place(bars: Sequence[Bar], across: _Across, line_at: float) -> float:
    """Return where a word above a line begins so that it runs into no bar.

    Of several places the leftmost, and the left end where there is none.
    """
    in_the_way = [
        bar
        for bar in bars
        if bar.y < line_at and bar.y + bar.height > line_at - WORD_HEIGHT
    ]
    for place in range(across.count):
        begin = across.begin(place) + WORD_GAP
        end = begin + FREEZING_WIDTH
        if end > RIGHT:
            break
        if all(bar.x > end or bar.x + bar.width < begin for bar in in_the_way):
            return begin
    return float(LEFT + WORD_GAP)


def _rain_bars(
    days: Sequence[ChartDay], across: _Across, scale: _Scale, units: UnitSystem
) -> list[Bar]:
    return [
        across.bar(place, scale.y(_depth(day.rain_mm, units)), RAIN_BOTTOM, day.rain)
        for place, day in enumerate(days)
        if day.rain_mm
    ]


def _day_ticks(days: Sequence[ChartDay], across: _Across) -> tuple[Tick, ...]:
    """Return every Monday, as day and short month."""
    return tuple(
        Tick(across.middle(place), short_day_and_month(day.day))
        for place, day in enumerate(days)
        if day.day.weekday() == 0
    )


def _words(days: Sequence[ChartDay], across: _Across) -> tuple[Word, ...]:
    """Return the word of each run of days known alike, over its middle."""
    words: list[Word] = []
    for kind, run in groupby(enumerate(days), key=lambda one: one[1].air):
        places = [place for place, day in run if day.tmax_c is not None]
        if len(places) >= NARROWEST_WORD:
            word = Word(
                across.middle((places[0] + places[-1]) / 2), gettext(WORDS[kind])
            )
            words.append(_beside(words[-1] if words else None, word))
    return tuple(words)


def _beside(before: Word | None, word: Word) -> Word:
    """Return a word inside the drawing, raised where it would touch the one before."""
    at = round(min(word.at, WIDTH - word.width / 2), 1)
    is_near = before is not None and at - before.at < (before.width + word.width) / 2
    lift = WORD_LIFT if before is not None and is_near and not before.lift else 0
    return Word(at, word.label, lift)
