"""The look back at earlier plans in words."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.utils.translation import gettext, gettext_noop, ngettext

from care.charts.coverage_chart import CoverageChart, coverage_chart
from care.views.days import short_day
from orchard.languages import localised

AIM = 0.8
GOOD_FROM, GOOD_TO = 0.7, 0.9  # around it nobody can say more from a few years; ours
TENS = 10  # from which on tenths say nothing
DASH = "\N{EN DASH}"

KIND_NAMES = {
    "watering_pot": gettext_noop("Next watering of a fig in a large pot"),
    "watering_new": gettext_noop("Next watering of a tree planted that spring"),
    "watering_grown": gettext_noop("Next watering of a grown apple"),
    "full_bloom": gettext_noop("Full bloom of apple"),
    "harvest": gettext_noop("First ripe apples"),
    "last_spring_frost": gettext_noop("Last frost of spring"),
    "first_autumn_frost": gettext_noop("First frost of autumn"),
    "enough_chill": gettext_noop("Enough chill for apple"),
    "chill_portions": gettext_noop("Chill portions of the winter"),
}


@dataclass(frozen=True, slots=True)
class KindRow:
    """One kind of thing told, as the table shows it."""

    name: str
    ranges: str
    held: str
    off: str
    lean: str
    width: str


@dataclass(frozen=True, slots=True)
class LeadRow:
    """What was told so far ahead."""

    name: str
    ranges: int
    held: str
    off: str
    width: str


@dataclass(frozen=True, slots=True)
class ChanceRow:
    """Chances told within one bin, and how often it came."""

    told: str
    times: int
    came: str


@dataclass(frozen=True, slots=True)
class LookWords:
    """A whole report, ready for the page."""

    headline: str
    verdict: str
    unlike: tuple[str, ...]
    chart: CoverageChart | None
    kinds: tuple[KindRow, ...]
    leads: tuple[LeadRow, ...]
    chances: tuple[ChanceRow, ...]
    others: tuple[str, ...]
    mondays: str
    record: str
    without_past: str


def look_words(report: Mapping[str, Any], today: date) -> LookWords:
    """Return a kept report in words."""
    leads = [
        (lead_words(name), row["coverage_p10_p90"], row["count"])
        for name, row in report["by_lead_days"].items()
        if row["count"]
    ]
    kinds = [(k, report["by_kind"][k]) for k in KIND_NAMES if k in report["by_kind"]]
    mondays, record = report["mondays"], report["record"]
    return LookWords(
        headline=_headline(report["coverage_p10_p90"]),
        verdict=_verdict(report["coverage_p10_p90"]),
        unlike=_unlike(kinds),
        chart=coverage_chart(leads, AIM),
        kinds=tuple(_kind(kind, row) for kind, row in kinds if row["count"]),
        leads=tuple(
            LeadRow(
                lead_words(name),
                row["count"],
                in_hundred(row["coverage_p10_p90"]),
                _days(row["mean_absolute_error_days"]),
                _days(row["mean_width_days"]),
            )
            for name, row in report["by_lead_days"].items()
            if row["count"]
        ),
        chances=tuple(
            ChanceRow(
                gettext("{low} to {high} in ten").format(
                    low=round(10 * row["from"]), high=round(10 * row["to"])
                ),
                row["count"],
                in_hundred(row["came"]),
            )
            for row in report["chances"]["bins"]
        ),
        others=tuple(words for kind, row in kinds for words in _others(kind, row)),
        mondays=_mondays(mondays, today),
        record=_span(record["first"], record["last"], today),
        without_past=_without_past(report["without_past_years"]),
    )


def in_hundred(share: float | None) -> str:
    """Return such as ``82 in 100``; a dash for nothing to tell of."""
    return (
        DASH
        if share is None
        else gettext("{share} in 100").format(share=round(100 * share))
    )


def lead_words(name: str) -> str:
    """Return a span of days ahead as people say it."""
    first, _, last = name.partition("-")
    if not last:
        days = int(first.rstrip("+")) - 1
        return gettext("over {days}").format(days=days)
    return gettext("{first} to {last}").format(first=first, last=last)


def _headline(coverage: float | None) -> str:
    if coverage is None:
        return gettext(
            "No range was told on any Monday, so there is nothing to compare."
        )
    held = round(100 * coverage)
    return gettext(
        "Of 100 ranges told on a Monday, {held} held what then happened. They are "
        "made so that {aim} should."
    ).format(held=held, aim=round(100 * AIM))


def _verdict(coverage: float | None) -> str:
    if coverage is None:
        return ""
    if coverage < GOOD_FROM:
        return gettext("The ranges were too narrow: leave more room than they say.")
    if coverage > GOOD_TO:
        return gettext(
            "The ranges were wider than they need to be: they err on the safe side."
        )
    return gettext(
        "That is about what they aim at: the ranges can be trusted, all in all."
    )


def _unlike(kinds: Sequence[tuple[str, Mapping[str, Any]]]) -> tuple[str, ...]:
    """Return which kinds were worse, and which more cautious, than all in all."""
    held = [
        (name[0].lower() + name[1:], row["coverage_p10_p90"])
        for name, row in ((gettext(KIND_NAMES[kind]), row) for kind, row in kinds)
    ]
    narrow = [name for name, share in held if share is not None and share < GOOD_FROM]
    wide = [name for name, share in held if share is not None and share > GOOD_TO]
    lines = (
        (narrow, gettext("Too narrow, leave more room")),
        (wide, gettext("Wider than need be, on the safe side")),
    )
    return tuple(f"{words}: {'; '.join(names)}." for names, words in lines if names)


def _days(value: float | None) -> str:
    if value is None:
        return DASH
    return f"{value:.0f}" if value >= TENS else localised(f"{value:.1f}")


def _kind(kind: str, row: Mapping[str, Any]) -> KindRow:
    unit = "portions" if "mean_error_portions" in row else "days"
    lean = row[f"mean_error_{unit}"]
    return KindRow(
        name=gettext(KIND_NAMES[kind]),
        ranges=_of_cases(row["count"], row["cases"]),
        held=in_hundred(row["coverage_p10_p90"]),
        off=_with_unit(row[f"mean_absolute_error_{unit}"], unit),
        lean=_lean(lean, unit),
        width=_with_unit(row[f"mean_width_{unit}"], unit),
    )


def _of_cases(ranges: int, cases: int) -> str:
    """Return how many ranges there were, and of how many different things."""
    words = ngettext("{ranges}, of {cases} case", "{ranges}, of {cases} cases", cases)
    return words.format(ranges=ranges, cases=cases)


def _with_unit(value: float | None, unit: str) -> str:
    if value is None:
        return DASH
    words = _days(value)
    many = 1 if words == "1" else 2
    if unit == "days":
        return ngettext("{number} day", "{number} days", many).format(number=words)
    told = ngettext("{number} portion", "{number} portions", many)
    return told.format(number=words)


def _lean(value: float | None, unit: str) -> str:
    """Return which way the middle of the ranges leaned."""
    late, early = (
        (gettext("too late"), gettext("too early"))
        if unit == "days"
        else (gettext("above"), gettext("below"))
    )
    if value is None:
        return DASH
    if abs(value) < 0.5:  # noqa: PLR2004 (rounds to nothing)
        return gettext("neither")
    return f"{_with_unit(abs(value), unit)} {late if value > 0 else early}"


def _others(kind: str, row: Mapping[str, Any]) -> list[str]:
    """Return how often what was told without a range was right."""
    words = {
        "that_day": gettext("told for that very day"),
        "nothing": gettext("told that it would not come soon"),
    }
    return [
        gettext("{kind}: {words} {told} times, right {in_hundred}.").format(
            kind=gettext(KIND_NAMES[kind]),
            words=words[sort],
            told=told["count"],
            in_hundred=in_hundred(told["right"]),
        )
        for sort, told in ((sort, row.get(sort)) for sort in words)
        if told
    ]


def _span(first: str, last: str, today: date) -> str:
    begin, end = date.fromisoformat(first), date.fromisoformat(last)
    return gettext("{begin} to {end}").format(
        begin=short_day(begin, today), end=short_day(end, today)
    )


def _mondays(mondays: Mapping[str, Any], today: date) -> str:
    if not mondays["count"]:
        return gettext("No Monday could be told of.")
    span = _span(mondays["first"], mondays["last"], today)
    counted, count = mondays["with_past_years"], mondays["count"]
    if counted == count:
        return gettext("{count} Mondays, {span}.").format(count=count, span=span)
    return gettext(
        "{counted} of {count} Mondays, {span}: the others told nothing or knew no "
        "past year."
    ).format(counted=counted, count=count, span=span)


def _without_past(row: Mapping[str, Any]) -> str:
    if not row["count"]:
        return ""
    return gettext(
        "{mondays} of the first Mondays knew no past year, only made-up ones. They are "
        "not counted above: of {count} ranges told on them {in_hundred} held."
    ).format(
        mondays=row["mondays"],
        count=row["count"],
        in_hundred=in_hundred(row["coverage_p10_p90"]),
    )
