"""What a member offers and as what they help, in words."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.translation import gettext, gettext_noop

from orchard.actions.offers import WISH_WORDS, Wish
from orchard.languages import day_and_month, day_of_year, weekday_name
from orchard.models import Helping, Offered, skill_words, wishes_between

DAY = timedelta(days=1)
DAYS_COUNTED = 28
NOTHING_OFFERED = gettext_noop("Has said nothing about days yet.")


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
            start = str(self.first.day) if is_one_month else day_and_month(self.first)
        return gettext("{first} to {last}").format(
            first=start, last=day_words(self.last)
        )


def day_words(day: date) -> str:
    """Return such as ``5 July 2025``."""
    return day_of_year(day)


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
        return (gettext(NOTHING_OFFERED),)
    lines = [weekday_words(rows)]
    if wishes:
        number = sum(wish is not None for wish in wishes.values())
        lines.append(
            gettext("{number} of the next {days} days offered").format(
                number=number, days=DAYS_COUNTED
            )
        )
    away = [one.words for one in away_spans(rows, today) if one.first != one.last]
    if away:
        lines.append(gettext("Away {spans}").format(spans=", ".join(away)))
    return tuple(line for line in lines if line)


def weekday_words(rows: Iterable[Offered]) -> str:
    """Return such as ``Gladly Saturday; can come Wednesday``; empty where unsaid."""
    said = {row.weekday: row.wish for row in rows if row.weekday is not None}
    wanted: tuple[Wish, ...] = (1, 0, -1)
    parts = []
    for wish in wanted:
        names = [weekday_name(day) for day in sorted(said) if said[day] == wish]
        if names:
            words = gettext("{wish} {days}")
            parts.append(
                words.format(wish=gettext(WISH_WORDS[wish]), days=", ".join(names))
            )
    if not parts:
        return gettext("No weekday, only days they name") if said else ""
    return _capital("; ".join(parts))


def helper_words(helping: Helping, mentors: Sequence[str]) -> tuple[str, ...]:
    """Return lines on as what somebody helps; none where nothing was said."""
    lines = []
    if helping.skills:
        lines.append(
            _capital(", ".join(skill_words(each).lower() for each in helping.skills))
        )
    if helping.is_under_18:
        lines.append(gettext("Under 18: beside two grown-ups, one of them a mentor"))
    if helping.is_learner:
        lines.append(
            gettext("Learner, beside {names}").format(
                names=gettext(" or ").join(mentors)
            )
            if mentors
            else gettext("Learner without a mentor: gets no place yet")
        )
    return (*lines, *limit_words(helping))


def limit_words(helping: Helping) -> tuple[str, ...]:
    """Return the limits somebody set, in one line or none."""
    week, season = helping.most_a_week, helping.most_a_season
    if week is not None and season is not None:
        words = gettext("At most {week} a week and {season} a season")
    elif week is not None:
        words = gettext("At most {week} a week")
    elif season is not None:
        words = gettext("At most {season} a season")
    else:
        return ()
    return (words.format(week=week, season=season),)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
