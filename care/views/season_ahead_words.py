"""What the season is likely to bring, in words: bloom, first fruit, frost, hot days."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext, gettext_noop, ngettext

from care.planning.cold_by_species import SpeciesCold
from care.planning.ensemble import (
    ChillAhead,
    FrostAhead,
    HeatAhead,
    LikelyDay,
    Members,
    StageAhead,
)
from care.views.days import DASH, short_day
from care.views.likely_words import capitalised, likely_day_words, members_words
from care.views.winter_words import span_words
from orchard.units import UnitSystem, format_temperature

FROSTS = {
    "first": gettext_noop("first frost of autumn"),
    "last": gettext_noop("last frost of spring"),
}
NIGHTS = {
    "first": gettext_noop("first of autumn"),
    "last": gettext_noop("last of spring"),
}
HOT_C = 30.0  # of a hot day: American Horticultural Society, heat zones


@dataclass(frozen=True, slots=True)
class AheadRow:
    """One species: when it blooms and when its first fruit is ripe."""

    name: str
    bloom: str
    picking: str


def ahead_rows(stages: Iterable[StageAhead], today: date) -> list[AheadRow]:
    """Return a row for each species of which anything is known, first bloom first."""
    known = [stage for stage in stages if stage.full_bloom or stage.harvest_begins]
    return [
        AheadRow(
            stage.species,
            capitalised(likely_day_words(stage.full_bloom, today)),
            capitalised(likely_day_words(stage.harvest_begins, today)),
        )
        for stage in sorted(known, key=_soonest)
    ]


def _soonest(stage: StageAhead) -> tuple[date, str]:
    days = (
        likely.middle
        for likely in (stage.full_bloom, stage.harvest_begins)
        if likely is not None and likely.middle is not None
    )
    return next(days, date.max), stage.species


def bloom_lead(stages: Iterable[StageAhead], today: date) -> str:
    """Return which species blooms next and which last; nothing if none does."""
    coming = [
        (stage.full_bloom.middle, stage.species, stage.full_bloom)
        for stage in stages
        if stage.full_bloom is not None
        and stage.full_bloom.middle is not None
        and stage.full_bloom.middle >= today
    ]
    if not coming:
        return ""
    (_, first, day), *_ = ordered = sorted(coming, key=lambda row: row[:2])
    if len(ordered) == 1:
        return f"{first} {likely_day_words(day, today)}."
    _, last, last_day = ordered[-1]
    return gettext("{first} first, {first_day}; {inside} last, {last_day}.").format(
        first=first,
        first_day=likely_day_words(day, today),
        inside=_inside(last),
        last_day=likely_day_words(last_day, today),
    )


def _inside(name: str) -> str:
    """Return a name as it stands inside a sentence."""
    return f"{name[0].lower()}{name[1:]}"


def frost_ahead_words(frost: FrostAhead | None, today: date) -> str:
    """Return the last frost of spring and the first of autumn, the nearer one first.

    Beyond the next to come only what is likely is told: it may lie at the end of what
    is looked at.
    """
    known = _halves(frost)
    if not known:
        return ""
    if all(day.low is None for _name, day in known):
        return gettext("No frost likely by {until}.").format(
            until=short_day(known[-1][1].until, today)
        )
    nearest = next((half for half in known if not half[1].is_firm), None)
    told = [half for half in known if half[1].high is not None or half is nearest]
    words = (f"{gettext(FROSTS[name])} {_when(day, today)}" for name, day in told)
    return f"{capitalised('; '.join(words))}."


def _when(day: LikelyDay, today: date) -> str:
    return likely_day_words(day, today, since="came on")


def _halves(frost: FrostAhead | None) -> list[tuple[str, LikelyDay]]:
    """Return the known halves of the year, the nearer one first."""
    if frost is None:
        return []
    halves = [("first", frost.first_autumn), ("last", frost.last_spring)]
    known = [(name, day) for name, day in halves if day is not None]
    return sorted(known, key=lambda half: half[1].until)


@dataclass(frozen=True, slots=True)
class ColdRow:
    """One species, in pots or in the ground: what hurts it, and when that may come."""

    name: str
    bears: str
    nights: str


def cold_rows(
    kinds: Iterable[SpeciesCold], today: date, units: UnitSystem
) -> list[ColdRow]:
    """Return what cold the species of an orchard bear now, in words."""
    return [
        ColdRow(_named(kind), _bears(kind, units), _nights(kind.ahead, today))
        for kind in kinds
    ]


def _named(kind: SpeciesCold) -> str:
    return (
        gettext("{species}, in a pot").format(species=kind.species)
        if kind.in_container
        else kind.species
    )


def _nights(ahead: FrostAhead | None, today: date) -> str:
    known = _halves(ahead)
    coming = [(name, day) for name, day in known if day.low is not None]
    if known and not coming:
        return gettext("None likely by {until}").format(
            until=short_day(known[-1][1].until, today)
        )
    words = (f"{gettext(NIGHTS[name])} {_when(day, today)}" for name, day in coming)
    return capitalised("; ".join(words))


def _bears(kind: SpeciesCold, units: UnitSystem) -> str:
    words = format_temperature(kind.bears_c, units)
    if kind.has_buds:
        words += gettext(", open buds and flowers")
    elif kind.in_container:
        words += gettext(", then the pot comes in")
    return (
        gettext("{words}, unverified").format(words=words)
        if kind.is_unverified
        else words
    )


def winter_ahead_words(ahead: ChillAhead | None, today: date) -> str:
    """Return the chill that a winter likely ends with; nothing of one that is over."""
    if ahead is None or ahead.hours.is_firm:
        return ""
    span = span_words(ahead.hours.low, ahead.hours.high)
    end, words = short_day(ahead.hours.until, today), members_words(ahead.hours.members)
    if not words:
        return gettext("Likely {span} by {end}.").format(span=span, end=end)
    return gettext("Likely {span} by {end}, {words}.").format(
        span=span, end=end, words=words
    )


def mildness_words(frost: FrostAhead | None) -> str:
    """Return what to think of frosts in years that were made up."""
    days = () if frost is None else (frost.last_spring, frost.first_autumn)
    if not any(day.members.is_generated for day in days if day is not None):
        return ""
    return gettext(
        "Generated years are a little too mild: reckon with frost later in spring, "
        "and sooner in autumn, than these days say."
    )


def hot_days_words(heat: HeatAhead | None, today: date, units: UnitSystem) -> str:
    """Return how many hot days are likely to come; nothing where hardly any is."""
    if heat is None or heat.hot_days.high < 1:
        return ""
    low, high = round(heat.hot_days.low), round(heat.hot_days.high)
    span = f"{low}" if low == high else f"{low}{DASH}{high}"
    limit = format_temperature(HOT_C, units)
    end = short_day(heat.hot_days.until, today)
    words = ngettext(
        "Likely {span} more day above {limit} by {end}.",
        "Likely {span} more days above {limit} by {end}.",
        high,
    )
    return words.format(span=span, limit=limit, end=end)


def courses_words(members: Members | None) -> str:
    """Return what the likely days rest on, in a sentence; nothing without courses."""
    if members is None or not members_words(members):
        return ""
    words = members_words(members)
    coarse = (
        (" " + gettext("With fewer than ten past years this is coarse."))
        if members.is_coarse
        else ""
    )
    return (
        gettext(
            "Likely days: 8 of 10 courses that the weather may take keep to them, "
            "{words}."
        ).format(words=words)
        + f"{coarse}"
    )
