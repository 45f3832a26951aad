"""Chill and warmth by other ways to count, as rows of a table."""

from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext, gettext_noop

from care.planning.other_counts import UPPER_C, OtherCounts, Span
from care.planning.warmth import BASE_C
from care.views.days import DASH, count_days, short_day
from care.views.warmth_words import F_PER_C
from orchard.languages import whole
from orchard.units import UnitSystem, format_temperature

#: Each way -> its name and source, in the order shown.
CHILL = {
    "hours_below": (gettext_noop("Hours below {limit}"), "Weinberger (1950)"),
    "hours_between": (
        gettext_noop("Hours from {floor} to {limit}"),
        "Weinberger (1950), bounded",
    ),
    "utah": (gettext_noop("Utah units"), "Richardson, Seeley and Walker (1974)"),
    "positive_utah": (
        gettext_noop("Positive Utah units"),
        "Linsley-Noakes, Louw and Allan (1995)",
    ),
    "portions": (gettext_noop("Chill portions"), "Fishman, Erez and Couvillon (1987)"),
}
WARMTH = {
    ("average", None): (
        gettext_noop("Degree days, mean of low and high"),
        "Arnold (1960)",
    ),
    ("modified", UPPER_C): (
        gettext_noop("Degree days, low and high first clipped to {base} and {upper}"),
        "the method of maize, 50/86 in °F",
    ),
    ("single_sine", None): (
        gettext_noop("Degree days, one sine a day"),
        "Baskerville and Emin (1969)",
    ),
    ("single_sine", UPPER_C): (
        gettext_noop("Degree days, one sine a day, cut off at {upper}"),
        "Baskerville and Emin (1969)",
    ),
}
LIMIT_C, FLOOR_C = 7.2, 0.0
DEGREE_HOURS = (
    gettext_noop("Growing degree hours"),
    "Anderson, Richardson and Kesner (1986)",
)


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
        CountRow(gettext(name).format(**named), _span(counts.chill[way]), source)
        for way, (name, source) in CHILL.items()
    )
    warmth = tuple(
        CountRow(
            gettext(name).format(**named),
            whole(scale * counts.degree_days[way]),
            source,
        )
        for way, (name, source) in WARMTH.items()
    )
    low, high = counts.degree_hours
    hours = CountRow(
        gettext(DEGREE_HOURS[0]), _span((scale * low, scale * high)), DEGREE_HOURS[1]
    )
    winter = _since(counts.winter_since, counts.winter_days, today)
    year = _since(counts.year_since, counts.year_days, today)
    return OtherCountWords(
        (
            (gettext("Chill {winter}").format(winter=winter), chill),
            (gettext("Warmth {year}").format(year=year), (*warmth, hours)),
        )
    )


def _since(day: date, days: int, today: date) -> str:
    return gettext("since {day}, {days} observed").format(
        day=short_day(day, today), days=count_days(days)
    )


def _span(ends: Span) -> str:
    low, high = (whole(end) for end in ends)
    return low if low == high else f"{low}{DASH}{high}"
