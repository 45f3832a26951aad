"""What members offer of themselves: weekdays, single days, absences, limits."""

from collections.abc import Collection, Mapping
from datetime import date, datetime, timedelta

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.db.models import F
from django.utils.translation import gettext_noop

from orchard.access import NOBODY_TO_ASK, May, may
from orchard.actions.audit import changed, note
from orchard.models import Helping, Membership, Offered, Site

Wish = int | None
WISH_WORDS: dict[Wish, str] = {
    1: gettext_noop("gladly"),
    0: gettext_noop("can come"),
    -1: gettext_noop("rather not"),
    None: gettext_noop("not"),
}
WEEKDAY_NAMES = (
    "Monday",
    "Tuesday",
    "Wednesday",
    "Thursday",
    "Friday",
    "Saturday",
    "Sunday",
)


@transaction.atomic
def offer_weekdays(
    *, membership: Membership, wishes: Mapping[int, Wish], now: datetime
) -> bool:
    """Say on which weekdays (Monday is 0) one can come; whether that is news.

    Weekdays that are left out are days one cannot come; without any, one's weekdays
    are forgotten and nothing is known of them.

    Raises
    ------
    PermissionDenied
        The member may not tick, or is none any more.
    """
    member = _oneself(membership)
    before = _weekdays(member)
    after = {day: wishes.get(day) for day in range(7)} if wishes else {}
    if before == after:
        return False
    member.offered.exclude(weekday=None).delete()
    Offered.objects.bulk_create(
        Offered(membership=member, weekday=day, wish=wish)
        for day, wish in after.items()
    )
    was, became = _weekday_words(before), _weekday_words(after)
    _note(member, "weekdays_offered", *_both(was, became), now)
    return True


@transaction.atomic
def offer_days(
    *,
    membership: Membership,
    wishes: Mapping[date, Wish],
    unsaid: Collection[date] = (),
    now: datetime,
) -> bool:
    """Say of single days whether one can come; whether that is news.

    Of ``unsaid`` days one's weekdays tell again.

    Raises
    ------
    PermissionDenied
        The member may not tick, or is none any more.
    """
    member = _oneself(membership)
    before = _days(member, [*wishes, *unsaid])
    after = {day: wish for day, wish in wishes.items() if day not in unsaid}
    if before == after:
        return False
    _write_days(member, before, after)
    _note(member, "days_offered", *_both(_day_words(before), _day_words(after)), now)
    return True


@transaction.atomic
def say_away(*, membership: Membership, first: date, last: date, now: datetime) -> bool:
    """Say that one is away from a first day to a last; whether that is news.

    Raises
    ------
    PermissionDenied
        The member may not tick, or is none any more.
    """
    member = _oneself(membership)
    after: dict[date, Wish] = dict.fromkeys(_span(first, last))
    before = _days(member, after)
    if before == after:
        return False
    _write_days(member, before, after)
    _note(member, "away_said", {}, {"from": first, "until": last}, now)
    return True


@transaction.atomic
def take_back_away(
    *, membership: Membership, first: date, last: date, now: datetime
) -> bool:
    """Say that one is not away after all; whether any day was taken back.

    Raises
    ------
    PermissionDenied
        The member may not tick, or is none any more.
    """
    member = _oneself(membership)
    gone, _ = member.offered.filter(day__range=(first, last), wish=None).delete()
    if gone:
        _note(member, "away_taken_back", {"from": first, "until": last}, {}, now)
    return bool(gone)


@transaction.atomic
def limit_help(
    *,
    membership: Membership,
    most_a_week: int | None,
    most_a_season: int | None,
    now: datetime,
) -> bool:
    """Say how many shifts are enough, in a week and in a season; whether it is news.

    Raises
    ------
    PermissionDenied
        The member may not tick, or is none any more.
    """
    member = _oneself(membership)
    helping, _ = Helping.objects.get_or_create(membership=member)
    after: dict[str, object] = {
        "most_a_week": most_a_week,
        "most_a_season": most_a_season,
    }
    was, became = changed({name: getattr(helping, name) for name in after}, after)
    if not became:
        return False
    for name, value in after.items():
        setattr(helping, name, value)
    helping.save(update_fields=list(after))
    note(
        orchard=member.orchard,
        person=member.person,
        what="help_limited",
        subject=member.person.shown_name,
        before=was,
        after=became,
        now=now,
    )
    return True


def _oneself(membership: Membership) -> Membership:
    """Return the member's row, locked, as it is now.

    Raises
    ------
    PermissionDenied
        They may not tick, or are no member any more.
    """
    row = Membership.objects.select_for_update().filter(pk=membership.pk).first()
    if row is None or not may(row.role, May.TICK):
        raise PermissionDenied(NOBODY_TO_ASK)
    return row


def _weekdays(member: Membership) -> dict[int, Wish]:
    rows = member.offered.exclude(weekday=None)
    return {row.weekday: row.wish for row in rows if row.weekday is not None}


def _days(member: Membership, days: Collection[date]) -> dict[date, Wish]:
    if not days:
        return {}
    rows = member.offered.filter(day__range=(min(days), max(days)))
    return {
        row.day: row.wish for row in rows if row.day is not None and row.day in days
    }


def _write_days(
    member: Membership, before: Mapping[date, Wish], after: Mapping[date, Wish]
) -> None:
    """Put what is said of days in the place of what was."""
    member.offered.filter(day__in=list(before)).delete()
    Offered.objects.bulk_create(
        Offered(membership=member, day=day, wish=wish) for day, wish in after.items()
    )


def _span(first: date, last: date) -> list[date]:
    return [first + timedelta(days=n) for n in range((last - first).days + 1)]


def _weekday_words(wishes: Mapping[int, Wish]) -> dict[str, object]:
    return {WEEKDAY_NAMES[day]: WISH_WORDS[wish] for day, wish in wishes.items()}


def _day_words(wishes: Mapping[date, Wish]) -> dict[str, object]:
    return {day.isoformat(): WISH_WORDS[wish] for day, wish in sorted(wishes.items())}


def _both(
    before: Mapping[str, object], after: Mapping[str, object]
) -> tuple[dict[str, object], dict[str, object]]:
    """Return both sides of what differs; what one side does not say, it leaves out."""
    names = {**before, **after}
    differing = [name for name in names if before.get(name) != after.get(name)]
    return (
        {name: before[name] for name in differing if name in before},
        {name: after[name] for name in differing if name in after},
    )


def _note(
    member: Membership,
    what: str,
    before: Mapping[str, object],
    after: Mapping[str, object],
    now: datetime,
) -> None:
    """Write a changed offer into the trail; rounds of every site may now move."""
    note(
        orchard=member.orchard,
        person=member.person,
        what=what,
        subject=member.person.shown_name,
        before=before,
        after=after,
        now=now,
    )
    sites = Site.objects.filter(orchard=member.orchard_id)
    sites.update(revision=F("revision") + 1)
