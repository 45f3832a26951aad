"""When to plant, in words: now, wait and why, or never outdoors."""

from dataclasses import dataclass
from datetime import date, timedelta

from care.facts import TreeFacts
from care.planning.when_to_plant import (
    PlantingSpan,
    PlantingTime,
    PlantingYear,
    Verdict,
)
from care.views.days import day_range, short_day
from care.views.planting_reasons import TIMES
from orchard.units import UnitSystem, format_quantity

# What is waited for, by the code of the time to come.
WAITS = {
    "planting_bare_root_in_spring": "the ground must thaw first, and buds not break yet",
    "planting_bare_root_in_dormancy": "without soil its roots live only while it is bare",
    "planting_hardy_in_spring": "winter must be over; it then roots before the heat",
    "planting_hardy_in_autumn": "the heat must be over; the soil is still warm then",
    "planting_autumn_of_dry_summer": "the summer is dry; it roots with the first rains",
    "planting_while_bare": "a bare tree bears the move best",
    "planting_tender_after_frost": "a late frost would kill it",
    "planting_before_rains": "the weeks before the rains are best for its roots",
    "planting_in_first_rains": "the rains water it in",
    "planting_pot_in_mild_weather": "its pot must not freeze, nor stand in great heat",
    "planting_pot_after_cold_nights": "nights are too cold for it yet",
}
# Why such days suit, by their code; the others stand with the tasks.
SUITS = TIMES | {
    "planting_while_bare": ", while it is bare",
    "planting_pot_in_mild_weather": ", while nights do not freeze its pot",
    "planting_pot_after_cold_nights": ", while nine nights in ten are warm enough; "
    "then it comes indoors",
}
COMMON_YEAR = 2001  # has no 29 February
SOURCES = (
    *("uf_tropical_timing", "noaa_freeze_dates", "uf_establishment"),
    "common_practice",
)
AT_ANY_TIME = "planting_at_any_time"
RISKS_FROST = "planting_tender_after_frost"


@dataclass(frozen=True, slots=True)
class SpanLine:
    """Days to plant in, why they suit, and whether winter leaves it time enough."""

    days: str
    why: str
    growth: str
    is_current: bool


@dataclass(frozen=True, slots=True)
class TimeWords:
    """The answer in a few words, what follows from it, and all its days, best first.

    ``growth`` is how long it has before winter if the answer is followed.
    """

    answer: str
    why: str
    lines: tuple[SpanLine, ...]
    growth: str
    is_alarm: bool


def time_words(
    time: PlantingTime, tree: TreeFacts, year: PlantingYear, units: UnitSystem
) -> TimeWords:
    """Return when to plant a tree, as a person is told it."""
    if time.verdict is Verdict.NEVER:
        why = _never(time, tree, year, units)
        return TimeWords("Never outdoors here", why, (), "", is_alarm=True)
    lines = tuple(_line(span, time, year.today, tree) for span in time.spans)
    if time.current is None:
        answer, why = _wait(time, year.today)
    else:
        answer, why = _now(time, time.current, year.today)
    then = time.current or time.next
    growth = "" if then is None else growth_words(then, tree)
    return TimeWords(answer, why, lines, growth, is_alarm=False)


def outside_words(time: PlantingTime, on: date, today: date) -> str:
    """Return what to say of a day that is not the tree's time, or nothing."""
    if time.verdict is Verdict.NEVER:
        return "It would not live outdoors here."
    if time.holds(on) is not None:
        return ""
    near = min(time.spans, key=lambda span: _distance(span, on))
    return f"That is not its time: better {day_range(*_ends(near), today)}."


def basis_words(year: PlantingYear) -> str:
    """Return what the times were reckoned from."""
    if not year.is_told:
        return (
            "No weather is known of this place, so the times follow the calendar and "
            "the frost dates in its settings."
        )
    frost = year.site.safe_last_frost
    late = (
        f" After {frost.day} {date(COMMON_YEAR, frost.month, 1):%B} a frost still comes one "
        "year in ten."
        if frost
        else ""
    )
    hot = year.site.hottest_from
    heat = (
        f" Its six hottest weeks begin about {hot.day} {date(COMMON_YEAR, hot.month, 1):%B}."
        if hot
        else ""
    )
    rains = year.rains
    wet = (
        f" Its rains usually last from about {_of_year(rains.usual_start)} to "
        f"{_of_year(rains.usual_end)}."
        if rains and rains.usual_start and rains.usual_end
        else ""
    )
    source = "usual months typed for" if year.is_typed else "weather of"
    return f"Reckoned from the {source} this place.{late}{heat}{wet}"


def _of_year(number: int) -> str:
    """Return a day of the year, from 1, such as ``2 November``."""
    day = date(COMMON_YEAR, 1, 1) + timedelta(days=number - 1)
    return f"{day.day} {day:%B}"


def _never(
    time: PlantingTime, tree: TreeFacts, year: PlantingYear, units: UnitSystem
) -> str:
    species = tree.species
    if time.why_never == "nights_too_cold":
        limit_c = species.move_in_temp_c
        above = "" if limit_c is None else f" above {_degrees(limit_c, units)}"
        return f"Nights here do not stay{above} for long enough: its pot stays indoors."
    coldest_c, bears_c = year.place.coldest_c, species.damage_temp_mature_c
    pot = (
        " In a pot that comes indoors it can live."
        if species.container_ok in ("good", "fair")
        else ""
    )
    return (
        f"A usual winter's coldest night is {_degrees(coldest_c or 0.0, units)}; a grown "
        f"one is hurt at {_degrees(bears_c or 0.0, units)}, and no cover makes up for "
        f"that.{pot}"
    )


def _wait(time: PlantingTime, today: date) -> tuple[str, str]:
    span = time.next
    if span is None:  # a time to wait for is why there is something to wait
        message = "nothing to wait for"
        raise ValueError(message)
    why = WAITS.get(span.code, "")
    until = f"Plant it then until {short_day(span.window.end, today)}."
    return (
        f"Wait until {short_day(span.window.start, today)}",
        f"{why[:1].upper()}{why[1:]}. {until}" if why else until,
    )


def _now(time: PlantingTime, span: PlantingSpan, today: date) -> tuple[str, str]:
    if span.code == AT_ANY_TIME:
        return "Plant now, or at any time", "No frost and no heat forbid it here."
    answer = f"Plant now, until {short_day(span.window.end, today)}"
    better = time.better
    if better is None:
        return answer, ""
    days = day_range(*_ends(better), today)
    why = SUITS.get(better.code, "")
    if better.code == span.code:
        why = ": it then has longer to root before winter"
    return answer, f"Better still: {days}{why}."


def _line(
    span: PlantingSpan, time: PlantingTime, today: date, tree: TreeFacts
) -> SpanLine:
    is_always = span.code == AT_ANY_TIME
    days = "At any time" if is_always else day_range(*_ends(span), today)
    why = "" if is_always else SUITS.get(span.code, "").removeprefix(", ")
    return SpanLine(days, why, growth_words(span, tree), span is time.current)


def growth_words(span: PlantingSpan, tree: TreeFacts) -> str:
    """Return how long it grows before winter beside how long it needs, or nothing."""
    left, needed = span.months_left, span.months_needed
    if left is None or needed is None:
        return ""
    low, high = (max(round(months), 1) for months in needed)
    needs = f"{low}" if low == high else f"{low} to {high}"
    has = f"It grows about {round(left)} months before winter and needs {needs}"
    if not span.is_short:
        return f"{has} of regular water to be settled."
    care = (
        "cover it in its first winter"
        if span.code == RISKS_FROST
        else "mulch it and water on in its second year"
    )
    thinner = "" if tree.caliper_mm is None else "; a thinner trunk needs less"
    return f"{has}: too short to settle. Then {care}{thinner}."


def _degrees(celsius: float, units: UnitSystem) -> str:
    return format_quantity(celsius, "°C", units)


def _ends(span: PlantingSpan) -> tuple[date, date]:
    return span.window.start, span.window.end


def _distance(span: PlantingSpan, on: date) -> int:
    return max((span.window.start - on).days, (on - span.window.end).days)
