"""When to plant, in words: now, wait and why, or never outdoors."""

from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.translation import gettext, gettext_noop

from care.facts import TreeFacts
from care.planning.when_to_plant import (
    PlantingSpan,
    PlantingTime,
    PlantingYear,
    Verdict,
)
from care.views.days import day_range, short_day
from care.views.planting_reasons import TIMES
from orchard.languages import day_and_month
from orchard.units import UnitSystem, format_quantity

# What is waited for, by the code of the time to come.
WAITS = {
    "planting_bare_root_in_spring": gettext_noop(
        "the ground must thaw first, and buds not break yet"
    ),
    "planting_bare_root_in_dormancy": gettext_noop(
        "without soil its roots live only while it is bare"
    ),
    "planting_hardy_in_spring": gettext_noop(
        "winter must be over; it then roots before the heat"
    ),
    "planting_hardy_in_autumn": gettext_noop(
        "the heat must be over; the soil is still warm then"
    ),
    "planting_autumn_of_dry_summer": gettext_noop(
        "the summer is dry; it roots with the first rains"
    ),
    "planting_while_bare": gettext_noop("a bare tree bears the move best"),
    "planting_tender_after_frost": gettext_noop("a late frost would kill it"),
    "planting_before_rains": gettext_noop(
        "the weeks before the rains are best for its roots"
    ),
    "planting_in_first_rains": gettext_noop("the rains water it in"),
    "planting_pot_in_mild_weather": gettext_noop(
        "its pot must not freeze, nor stand in great heat"
    ),
    "planting_pot_after_cold_nights": gettext_noop("nights are too cold for it yet"),
}
# Why such days suit, by their code; the others stand with the tasks.
SUITS = TIMES | {
    "planting_while_bare": gettext_noop(", while it is bare"),
    "planting_pot_in_mild_weather": gettext_noop(
        ", while nights do not freeze its pot"
    ),
    "planting_pot_after_cold_nights": gettext_noop(
        ", while nine nights in ten are warm enough; then it comes indoors"
    ),
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
        return TimeWords(gettext("Never outdoors here"), why, (), "", is_alarm=True)
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
        return gettext("It would not live outdoors here.")
    if time.holds(on) is not None:
        return ""
    near = min(time.spans, key=lambda span: _distance(span, on))
    return gettext("That is not its time: better {days}.").format(
        days=day_range(*_ends(near), today)
    )


def basis_words(year: PlantingYear) -> str:
    """Return what the times were reckoned from."""
    if not year.is_told:
        return gettext(
            "No weather is known of this place, so the times follow the calendar and "
            "the frost dates in its settings."
        )
    frost = year.site.safe_last_frost
    late = (
        " "
        + gettext("After {day} a frost still comes one year in ten.").format(
            day=day_and_month(date(COMMON_YEAR, frost.month, frost.day))
        )
        if frost
        else ""
    )
    hot = year.site.hottest_from
    heat = (
        " "
        + gettext("Its six hottest weeks begin about {day}.").format(
            day=day_and_month(date(COMMON_YEAR, hot.month, hot.day))
        )
        if hot
        else ""
    )
    rains = year.rains
    wet = (
        " "
        + gettext("Its rains usually last from about {start} to {end}.").format(
            start=_of_year(rains.usual_start), end=_of_year(rains.usual_end)
        )
        if rains and rains.usual_start and rains.usual_end
        else ""
    )
    source = (
        gettext("Reckoned from the usual months typed for this place.")
        if year.is_typed
        else gettext("Reckoned from the weather of this place.")
    )
    return f"{source}{late}{heat}{wet}"


def _of_year(number: int) -> str:
    """Return a day of the year, from 1, such as ``2 November``."""
    day = date(COMMON_YEAR, 1, 1) + timedelta(days=number - 1)
    return day_and_month(day)


def _never(
    time: PlantingTime, tree: TreeFacts, year: PlantingYear, units: UnitSystem
) -> str:
    species = tree.species
    if time.why_never == "nights_too_cold":
        limit_c = species.move_in_temp_c
        if limit_c is None:
            return gettext(
                "Nights here do not stay for long enough: its pot stays indoors."
            )
        return gettext(
            "Nights here do not stay above {degrees} for long enough: its pot stays "
            "indoors."
        ).format(degrees=_degrees(limit_c, units))
    coldest_c, bears_c = year.place.coldest_c, species.damage_temp_mature_c
    pot = (
        " " + gettext("In a pot that comes indoors it can live.")
        if species.container_ok in ("good", "fair")
        else ""
    )
    words = gettext(
        "A usual winter's coldest night is {coldest}; a grown one is hurt at {bears}, "
        "and no cover makes up for that."
    ).format(
        coldest=_degrees(coldest_c or 0.0, units), bears=_degrees(bears_c or 0.0, units)
    )
    return f"{words}{pot}"


def _wait(time: PlantingTime, today: date) -> tuple[str, str]:
    span = time.next
    if span is None:  # a time to wait for is why there is something to wait
        message = "nothing to wait for"
        raise ValueError(message)
    why = gettext(WAITS.get(span.code, ""))
    until = gettext("Plant it then until {day}.").format(
        day=short_day(span.window.end, today)
    )
    return (
        gettext("Wait until {day}").format(day=short_day(span.window.start, today)),
        f"{why[:1].upper()}{why[1:]}. {until}" if why else until,
    )


def _now(time: PlantingTime, span: PlantingSpan, today: date) -> tuple[str, str]:
    if span.code == AT_ANY_TIME:
        return gettext("Plant now, or at any time"), gettext(
            "No frost and no heat forbid it here."
        )
    answer = gettext("Plant now, until {day}").format(
        day=short_day(span.window.end, today)
    )
    better = time.better
    if better is None:
        return answer, ""
    days = day_range(*_ends(better), today)
    why = gettext(SUITS.get(better.code, ""))
    if better.code == span.code:
        why = gettext(": it then has longer to root before winter")
    return answer, gettext("Better still: {days}{why}.").format(days=days, why=why)


def _line(
    span: PlantingSpan, time: PlantingTime, today: date, tree: TreeFacts
) -> SpanLine:
    is_always = span.code == AT_ANY_TIME
    days = gettext("At any time") if is_always else day_range(*_ends(span), today)
    why = "" if is_always else gettext(SUITS.get(span.code, "")).removeprefix(", ")
    return SpanLine(days, why, growth_words(span, tree), span is time.current)


def growth_words(span: PlantingSpan, tree: TreeFacts) -> str:
    """Return how long it grows before winter beside how long it needs, or nothing."""
    left, needed = span.months_left, span.months_needed
    if left is None or needed is None:
        return ""
    low, high = (max(round(months), 1) for months in needed)
    needs = (
        f"{low}"
        if low == high
        else gettext("{low} to {high}").format(low=low, high=high)
    )
    if not span.is_short:
        return gettext(
            "It grows about {left} months before winter and needs {needs} of regular "
            "water to be settled."
        ).format(left=round(left), needs=needs)
    has = gettext(
        "It grows about {left} months before winter and needs {needs}: too short to "
        "settle."
    ).format(left=round(left), needs=needs)
    if span.code == RISKS_FROST:
        care = (
            gettext("Then cover it in its first winter.")
            if tree.caliper_mm is None
            else gettext(
                "Then cover it in its first winter; a thinner trunk needs less."
            )
        )
    else:
        care = (
            gettext("Then mulch it and water on in its second year.")
            if tree.caliper_mm is None
            else gettext(
                "Then mulch it and water on in its second year; a thinner trunk needs "
                "less."
            )
        )
    return f"{has} {care}"


def _degrees(celsius: float, units: UnitSystem) -> str:
    return format_quantity(celsius, "°C", units)


def _ends(span: PlantingSpan) -> tuple[date, date]:
    return span.window.start, span.window.end


def _distance(span: PlantingSpan, on: date) -> int:
    return max((span.window.start - on).days, (on - span.window.end).days)
