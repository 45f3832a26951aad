"""Which of the nights ahead is too cold for a tree, and by which figure."""

from dataclasses import dataclass
from datetime import date, timedelta

from care.facts import Situation
from care.science.cold_limits import (
    TENDER_POT_C,
    UNVERIFIED_MARGIN_C,
    Limit,
    warmest_limit,
)
from care.science.cold_nights import Night, hours_below, nights_ahead
from care.science.frost import must_protect
from care.science.season import is_tender

# With no course of the night but its minimum, buds get 4 degF instead of 3; ours.
MINIMUM_ONLY_MARGIN_C = 4 / 1.8

Facts = tuple[tuple[str, float | str | bool | date | None], ...]


@dataclass(frozen=True, slots=True)
class Alarm:
    """A night, the limit it is held against, and the margin of the place [degC].

    ``hours`` is how long the night is at or below the limit, ``None`` if unknown.
    """

    limit: Limit
    night: Night
    margin_c: float
    hours: float | None


def first_alarm(
    situation: Situation, nights: int, widen_c: float = 0.0
) -> Alarm | None:
    """Return the first night at or below the tree's warmest limit and its margins.

    Of this morning and the next, for both of which somebody has to act today, the
    colder one.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    nights : int
        How many after today's to look at.
    widen_c : float
        Added to the margins.
    """
    limit = warmest_limit(situation)
    if limit is None:
        return None
    # The course of a night is worth its time only where the night is near the limit.
    widest_c = max(situation.site.frost_margin_c, MINIMUM_ONLY_MARGIN_C)
    alarms = (
        alarm
        for night in nights_ahead(situation, nights)
        if must_protect(night.minimum_c, limit.alarm_c(widest_c), widen_c)
        and _rings(alarm := alarm_of(situation, limit, night), widen_c)
    )
    first = next(alarms, None)
    if first is None or first.night.day > situation.today:
        return first
    tonight = next(alarms, first)
    is_worse = tonight.night.minimum_c < first.night.minimum_c
    is_next = tonight.night.day - first.night.day <= timedelta(days=1)
    return tonight if is_worse and is_next else first


def _rings(alarm: Alarm, widen_c: float) -> bool:
    alarm_c = alarm.limit.alarm_c(alarm.margin_c)
    return must_protect(alarm.night.minimum_c, alarm_c, widen_c)


def alarm_of(situation: Situation, limit: Limit, night: Night) -> Alarm:
    """Return a night held against a limit, whether or not it meets it."""
    hours = hours_below(situation, night, limit.threshold_c)
    return Alarm(limit, night, margin_of(situation, limit, hours), hours)


def margin_of(situation: Situation, limit: Limit, hours: float | None) -> float:
    """Return the margin of the place, wider for buds where no hours are known [degC]."""
    margin_c = situation.site.frost_margin_c
    if limit.hours is not None and hours is None:
        return max(margin_c, MINIMUM_ONLY_MARGIN_C)
    return margin_c


def alarm_facts(situation: Situation, alarm: Alarm) -> Facts:
    """Return the numbers that decided an alarm, by name."""
    limit, night = alarm.limit, alarm.night
    is_tender_pot = situation.tree.in_container and is_tender(situation.tree.species)
    return (
        ("minimum_c", round(night.minimum_c, 1)),
        ("cold_on", night.day),
        ("severity", limit.severity(night.minimum_c).value),
        ("threshold_c", round(limit.threshold_c, 1)),
        ("worst_c", None if limit.worst_c is None else round(limit.worst_c, 1)),
        ("hours_below", None if alarm.hours is None else round(alarm.hours, 1)),
        ("hours_needed", limit.hours),
        ("margin_c", round(alarm.margin_c, 1)),
        ("extra_margin_c", UNVERIFIED_MARGIN_C if limit.is_unverified else 0.0),
        ("alarm_c", round(limit.alarm_c(alarm.margin_c), 1)),
        ("figure", limit.field),
        ("stage", limit.stage),
        ("unverified", limit.is_unverified),
        ("unhardened_c", round(limit.unhardened_c, 1)),
        ("practice_c", round(TENDER_POT_C, 1) if is_tender_pot else None),
        ("is_typed", night.basis == "typed"),
        *night_facts(night),
    )


def night_facts(night: Night) -> Facts:
    """Return where a minimum comes from and what was made of it."""
    return (
        ("basis", night.basis),
        ("told_c", None if night.told_c is None else round(night.told_c, 1)),
        ("pocket_c", round(night.pocket_c, 1)),
        ("evening_c", None if night.evening_c is None else round(night.evening_c, 1)),
    )
