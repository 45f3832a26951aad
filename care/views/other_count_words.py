"""Chill and warmth by other ways to count, as rows of a table."""

from dataclasses import dataclass
from datetime import date

from care.planning.other_counts import UPPER_C, OtherCounts, Span
from care.planning.warmth import BASE_C
from care.views.days import DASH, count_days, short_day
from care.views.warmth_words import F_PER_C
from orchard.units import UnitSystem, format_temperature

#: Each way -> its name and source, in the order shown.
CHILL = {
    "hours_below": ("Hours below {limit}", "Weinberger (1950)"),
    "hours_between": ("Hours from {floor} to {limit}", "Weinberger (1950), bounded"),
    "utah": ("Utah units", "Richardson, Seeley and Walker (1974)"),
    "positive_utah": ("Positive Utah units", "Linsley-Noakes, Louw and Allan (1995)"),
    "portions": ("Chill portions", "Fishman, Erez and Couvillon (1987)"),
}
WARMTH = {
    ("average", None): ("Degree days, mean of low and high", "Arnold (1960)"),
    ("modified", UPPER_C): (
        "Degree days, low and high first clipped to {base} and {upper}",
        "the method of maize, 50/86 in °F",
    ),
    ("single_sine", None): (
        "Degree days, one sine a day",
        "Baskerville and Emin (1969)",
    ),
    ("single_sine", UPPER_C): (
        "Degree days, one sine a day, cut off at {upper}",
        "Baskerville and Emin (1969)",
    ),
}
LIMIT_C, FLOOR_C = 7.2, 0.0
DEGREE_HOURS = ("Growing degree hours", "Anderson, Richardson and Kesner (1986)")


@dataclass(frozen=True, slots=True)
class CountRow:
    """One way to count: its name, its sum, who published it."""

    name: str
    total: str
    source: str


@dataclass(frozen=True, slots=True)
class OtherCountWords:
    """What the fold shows: a table of each, headed by since when and of how many days."""

    tables: tuple[tuple[str, tuple[CountRow, ...]], ...]


def other_count_words(
    counts: OtherCounts | None, today: date, units: UnitSystem
) -> OtherCountWords | None:
    """Return the rows, ``None`` where nothing was observed."""
    if counts is None:
        return None
    named = {
        "limit": format_temperature(LIMIT_C, units),
        "floor": format_temperature(FLOOR_C, units),
        "base": format_temperature(BASE_C, units),
        "upper": format_temperature(UPPER_C, units),
    }
    scale = F_PER_C if units is UnitSystem.US else 1.0
    chill = tuple(
        CountRow(name.format(**named), _span(counts.chill[way]), source)
        for way, (name, source) in CHILL.items()
    )
    warmth = tuple(
        CountRow(
            name.format(**named), f"{scale * counts.degree_days[way]:,.0f}", source
        )
        for way, (name, source) in WARMTH.items()
    )
    low, high = counts.degree_hours
    hours = CountRow(
        DEGREE_HOURS[0], _span((scale * low, scale * high)), DEGREE_HOURS[1]
    )
    winter = _since(counts.winter_since, counts.winter_days, today)
    year = _since(counts.year_since, counts.year_days, today)
    return OtherCountWords(
        ((f"Chill {winter}", chill), (f"Warmth {year}", (*warmth, hours)))
    )


def _since(day: date, days: int, today: date) -> str:
    return f"since {short_day(day, today)}, {count_days(days)} observed"


def _span(ends: Span) -> str:
    low, high = (f"{end:,.0f}" for end in ends)
    return low if low == high else f"{low}{DASH}{high}"
