"""Axes with round numbers, months, and labels that keep clear of each other."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from care.facts import Array
from orchard.languages import localised, short_month, whole

MOST_TICKS = 5
LABEL_GAP = 15.0  # between the base lines of two labels, in units of the view box
MONTH_WIDTH = 30.0  # of a month's short name with room around it
FINEST_STEP = 0.01


@dataclass(frozen=True, slots=True)
class Tick:
    """A labelled place on an axis."""

    at: float
    label: str


@dataclass(frozen=True, slots=True)
class Label:
    """Words beside what they name; ``kind`` is the last part of their class."""

    at: float
    words: str
    kind: str


@dataclass(frozen=True, slots=True)
class Scale:
    """A straight way from values to places in the view box."""

    low: float
    high: float
    at_low: float
    at_high: float

    def at(self, value: float) -> float:
        """Return the place of one value."""
        share = (value - self.low) / (self.high - self.low)
        return self.at_low + share * (self.at_high - self.at_low)


def round_step(largest: float, most_ticks: int = MOST_TICKS) -> float:
    """Return 1, 2 or 5 times a power of ten, so that few steps pass ``largest``.

    Parameters
    ----------
    largest : float
        Above zero.
    most_ticks : int
        How many steps are wanted at most.
    """
    raw = largest / most_ticks
    power = 10.0 ** math.floor(math.log10(raw))
    return next(power * n for n in (1, 2, 5, 10) if power * n >= raw * (1 - 1e-9))


def from_zero(
    largest: float, at_zero: float, at_end: float
) -> tuple[Scale, tuple[Tick, ...]]:
    """Return a scale from zero to a round number not below ``largest``, and its ticks.

    Parameters
    ----------
    largest : float
        In the unit shown; nothing at all gives an axis to 1.
    at_zero, at_end : float
        Places in the view box.
    """
    step = round_step(largest if largest > FINEST_STEP else 1.0)
    count = max(math.ceil(largest / step - 1e-9), 1)
    scale = Scale(0.0, count * step, at_zero, at_end)
    decimals = 0 if step >= 1 else math.ceil(-math.log10(step) - 1e-9)
    return scale, tuple(
        Tick(round(scale.at(number * step), 1), _number(number * step, decimals))
        for number in range(count + 1)
    )


def _number(value: float, decimals: int) -> str:
    return localised(f"{value:.{decimals}f}") if decimals else whole(value)


def month_ticks(start: date, end: date, scale: Scale) -> tuple[Tick, ...]:
    """Return the first of each month from ``start`` to ``end``, some of them named.

    Parameters
    ----------
    start : datetime.date
        Stands at 0 of the scale, which counts days.
    end : datetime.date
    scale : Scale
        Days from left to right.

    Returns
    -------
    tuple of Tick
        Where months are narrow, every second or third is named and the others bear no
        label.
    """
    firsts = [
        start + timedelta(days=days)
        for days in range((end - start).days + 1)
        if (start + timedelta(days=days)).day == 1
    ]
    month = abs(scale.at(30) - scale.at(0))
    each = next(n for n in (1, 2, 3, 6, 12) if n * month >= MONTH_WIDTH or n == 12)  # noqa: PLR2004 (a year)
    return tuple(
        Tick(
            round(scale.at((day - start).days), 1),
            "" if number % each else short_month(day),
        )
        for number, day in enumerate(firsts)
    )


def kept_apart(
    places: Sequence[float], lowest: float, highest: float, gap: float = LABEL_GAP
) -> list[float]:
    """Return places near the wanted ones, none nearer to another than ``gap``.

    Parameters
    ----------
    places : sequence of float
        As wanted, in any order.
    lowest, highest : float
        The span to stay in; too many places for it overlap evenly.
    gap : float

    Returns
    -------
    list of float
        In the order of ``places``.
    """
    order = sorted(range(len(places)), key=lambda each: places[each])
    gap = min(gap, (highest - lowest) / max(len(places) - 1, 1))
    moved = [0.0] * len(places)
    least = lowest
    for each in order:
        moved[each] = max(places[each], least)
        least = moved[each] + gap
    most = highest
    for each in reversed(order):
        moved[each] = min(moved[each], most)
        most = moved[each] - gap
    return moved


def points(across: Array, down: Array) -> str:
    """Return places as an SVG list of points; arrays of one length."""
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in zip(across, down, strict=True))


def between(across: Array, upper: Array, lower: Array) -> str:
    """Return the corners of the area between two lines; arrays of one length."""
    return points(
        np.concatenate([across, across[::-1]]), np.concatenate([upper, lower[::-1]])
    )
