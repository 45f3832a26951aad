"""What a member offers and as what they help, in words."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from orchard.actions.offers import WEEKDAY_NAMES, WISH_WORDS, Wish
from orchard.models import Helping, Offered, skill_words, wishes_between

DAY = timedelta(days=1)
DAYS_COUNTED = 28
NOTHING_OFFERED = "Has said nothing about days yet."


@dataclass(frozen=True, slots=True)
class Away:
    """Days in a row that somebody named as days they cannot come."""

    first: date
    last: date

    @property
    def words(self) -> str:
        """The span as people say it."""
        if self.first == self.last:
            return day_words(self.first)
        start = day_words(self.first)
        if self.first.year == self.last.year:
            is_one_month = self.first.month == self.last.month
            start = start.rsplit(" ", 2 if is_one_month else 1)[0]
        return f"{start} to {day_words(self.last)}"


def day_words(day: date) -> str:
    """Return such as ``5 July 2025``."""
    return f"{day.day} {day:%B %Y}"


def away_spans(rows: Iterable[Offered], today: date) -> tuple[Away, ...]:
    """Return the spans from ``today`` on that somebody named as days away."""
    days = sorted(
        row.day
        for row in rows
        if row.day is not None and row.wish is None and row.day >= today
    )
    spans: list[Away] = []
    for day in days:
        if spans and day - spans[-1].last == DAY:
            spans[-1] = Away(spans[-1].first, day)
        else:
            spans.append(Away(day, day))
    return tuple(spans)


def offer_lines(rows: Sequence[Offered], today: date) -> tuple[str, ...]:
    """Return lines on what somebody offers from ``today`` on."""
    wishes = wishes_between(rows, today, today + (DAYS_COUNTED - 1) * DAY)
    if not wishes and not away_spans(rows, today):
        return (NOTHING_OFFERED,)
    lines = [weekday_words(rows)]
    if wishes:
        number = sum(wish is not None for wish in wishes.values())
        lines.append(f"{number} of the next {DAYS_COUNTED} days offered")
    away = [one.words for one in away_spans(rows, today) if one.first != one.last]
    if away:
        lines.append(f"Away {', '.join(away)}")
    return tuple(line for line in lines if line)


def weekday_words(rows: Iterable[Offered]) -> str:
    """Return such as ``Gladly Saturday; can come Wednesday``; empty where unsaid."""
    said = {row.weekday: row.wish for row in rows if row.weekday is not None}
    wanted: tuple[Wish, ...] = (1, 0, -1)
    parts = []
    for wish in wanted:
        names = [WEEKDAY_NAMES[day] for day in sorted(said) if said[day] == wish]
        if names:
            parts.append(f"{WISH_WORDS[wish]} {', '.join(names)}")
    if not parts:
        return "No weekday, only days they name" if said else ""
    return _capital("; ".join(parts))


def helper_words(helping: Helping, mentors: Sequence[str]) -> tuple[str, ...]:
    """Return lines on as what somebody helps; none where nothing was said."""
    lines = []
    if helping.skills:
        lines.append(
            _capital(", ".join(skill_words(each).lower() for each in helping.skills))
        )
    if helping.is_under_18:
        lines.append("Under 18: beside two grown-ups, one of them a mentor")
    if helping.is_learner:
        lines.append(
            f"Learner, beside {' or '.join(mentors)}"
            if mentors
            else "Learner without a mentor: gets no place yet"
        )
    return (*lines, *limit_words(helping))


def limit_words(helping: Helping) -> tuple[str, ...]:
    """Return the limits somebody set, in one line or none."""
    limits = (
        (helping.most_a_week, "a week"),
        (helping.most_a_season, "a season"),
    )
    said = [f"{most} {span}" for most, span in limits if most is not None]
    return (f"At most {' and '.join(said)}",) if said else ()


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
