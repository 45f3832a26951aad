"""Weather that arrives by itself: who asks when, under a lease, and what came of it.

A worker takes the lease of one series, asks its service outside any transaction, and
keeps the answer in one. A worker that dies lets its lease run out; one that comes too
late keeps nothing. When nothing good comes, the last good answer stays.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from hashlib import sha256

from django.db import transaction
from django.db.models import F, Q, QuerySet

from orchard.actions.arriving_days import keep_days, keep_warnings
from orchard.actions.places import raise_revision
from orchard.actions.silent_forecasts import tell_silent
from orchard.actions.weather_services import NOT_BEFORE, is_from_service, wished_wait
from orchard.models import SeriesFetch, Site, WeatherSeries
from orchard.sources.arriving import Answer
from orchard.sources.registry import SERVICES

# All of these are common practice, no source.
#: Several questions of ten seconds, and time to spare.
LEASE = timedelta(minutes=5)
FIRST_WAIT = timedelta(minutes=10)
LONGEST_WAIT = timedelta(hours=6)
#: A service that failed so often in a row is left alone for long.
FAILURES_IN_A_ROW = 8
LONG_PAUSE = timedelta(hours=12)
#: What asking again will not change is asked again once a day.
LASTING_WAIT = timedelta(days=1)
JITTER = timedelta(minutes=17)
STALE = timedelta(days=2)
#: Asked for in one round; the next one is ten minutes later.
MOST_AT_ONCE = 200


@dataclass(frozen=True, slots=True)
class Kept:
    """What came of one question; ``is_kept`` is false where another worker was faster.

    ``is_new`` says whether anything is different now.
    """

    is_kept: bool
    is_new: bool = False


LOST = Kept(is_kept=False)


def _is_free(now: datetime) -> Q:
    return Q(lease_until=None) | Q(lease_until__lte=now)


def _is_due(now: datetime) -> Q:
    return _is_free(now) & (Q(wait_until=None) | Q(wait_until__lte=now))


def asked_fetches() -> QuerySet[SeriesFetch]:
    """Return those that are asked for at all: a site reads them and lives today."""
    live = WeatherSeries.objects.filter(
        is_from_service(),
        source__in=[service.key for service in SERVICES],
        readers__site__own_today=None,
        readers__isnull=False,
    )
    return SeriesFetch.objects.filter(series__in=live)


def due_fetches(now: datetime) -> list[tuple[int, str]]:
    """Return which are due and of which service, those asked longest ago first."""
    due = asked_fetches().filter(_is_due(now))
    ordered = due.order_by(F("asked_at").asc(nulls_first=True), "id")
    return list(ordered.values_list("pk", "series__source")[:MOST_AT_ONCE])


@transaction.atomic
def make_due(*, now: datetime) -> int:
    """Have everything asked for at once, but what services want to be left alone for.

    Returns
    -------
    int
        How many are due now that were not.
    """
    made = 0
    for fetch in asked_fetches().filter(wait_until__gt=now):
        wished = wished_wait(fetch)
        if wished is None or wished <= now:
            made += SeriesFetch.objects.filter(pk=fetch.pk).update(wait_until=None)
    return made


def take_lease(fetch_id: int, now: datetime) -> SeriesFetch | None:
    """Take a due fetch for this worker alone, until the lease runs out.

    Of two workers at once the database lets one succeed.
    """
    taken = SeriesFetch.objects.filter(_is_due(now), pk=fetch_id).update(
        lease_until=now + LEASE, asked_at=now
    )
    if not taken:
        return None
    return SeriesFetch.objects.select_related("series").get(pk=fetch_id)


def _still_ours(fetch: SeriesFetch) -> SeriesFetch | None:
    """Return the locked row, unless the lease ran out and somebody else took it."""
    return (
        SeriesFetch.objects.select_for_update(of=("self",))
        .select_related("series")
        .filter(pk=fetch.pk, lease_until=fetch.lease_until)
        .first()
    )


@transaction.atomic
def keep_answer(
    *,
    fetch: SeriesFetch,
    answer: Answer,
    today: date,
    memory: Mapping[str, object],
    remarks: Sequence[str] = (),
    fresh_until: datetime | None,
    interval: timedelta,
    now: datetime,
) -> Kept:
    """Keep a good answer whole, and have the plans of its readers made anew.

    Parameters
    ----------
    today : date
        The day of the series' place, on which the answer was asked for.
    memory : mapping
        What is sent back to the service the next time.
    fresh_until : datetime or None
        Before which the service wants no other question.
    interval : timedelta
        The least time until the next one.

    Raises
    ------
    SourceError
        A value cannot be; nothing is kept.
    """
    held = _still_ours(fetch)
    if held is None:
        return LOST
    is_new = False
    if answer.days:  # none are said to have changed where there are only warnings
        is_new = keep_days(series=held.series, days=answer.days, today=today)
    if answer.warnings is not None:
        is_new |= keep_warnings(series=held.series, warnings=answer.warnings, now=now)
    if is_new:
        for site in Site.objects.filter(readings__series=held.series):
            raise_revision(site)
    told = [*remarks, *answer.remarks, *_stale(answer, now)]
    held.remark = " ".join(dict.fromkeys(told))[:240]
    _release(held, memory, fresh_until, interval, now)
    return Kept(is_kept=True, is_new=is_new)


def _stale(answer: Answer, now: datetime) -> list[str]:
    if answer.issued_at is None or now - answer.issued_at < STALE:
        return []
    days = (now - answer.issued_at).days
    return [f"The service's newest forecast is {days} days old."]


@transaction.atomic
def keep_unchanged(
    *,
    fetch: SeriesFetch,
    memory: Mapping[str, object],
    fresh_until: datetime | None,
    interval: timedelta,
    now: datetime,
) -> Kept:
    """Note that the service has nothing newer: what is known is as good as fetched."""
    held = _still_ours(fetch)
    if held is None:
        return LOST
    _release(held, memory, fresh_until, interval, now)
    return Kept(is_kept=True)


def _release(
    held: SeriesFetch,
    memory: Mapping[str, object],
    fresh_until: datetime | None,
    interval: timedelta,
    now: datetime,
) -> None:
    held.remembered = dict(memory)
    if fresh_until is not None and fresh_until > now:
        held.remembered[NOT_BEFORE] = fresh_until.isoformat()
    held.fetched_at = now
    held.wait_until = next_time(
        held.series_id, now=now, interval=interval, fresh_until=fresh_until
    )
    held.lease_until, held.failures, held.error = None, 0, ""
    held.save()


@transaction.atomic
def keep_failure(
    *,
    fetch: SeriesFetch,
    words: str,
    memory: Mapping[str, object],
    wait: timedelta | None = None,
    is_lasting: bool = False,
    now: datetime,
) -> Kept:
    """Keep what went wrong and wait; every day that is known stays.

    Parameters
    ----------
    words : str
        For people.
    wait : timedelta, optional
        How long the service asks to be left alone; then every place it serves waits.
    is_lasting : bool
        Asking again will not help.
    """
    held = _still_ours(fetch)
    if held is None:
        return LOST
    held.remembered = dict(memory)
    held.failures = min(held.failures + 1, 1000)
    held.error = words[:240]
    pause = max(wait_after(held.failures, is_lasting=is_lasting), wait or timedelta(0))
    held.wait_until = now + pause + jitter(held.series_id, now.date())
    held.lease_until = None
    held.save()
    if _is_worth_telling(held.failures, is_lasting=is_lasting):
        tell_silent(fetch=held, now=now)
    if wait is not None:
        _rest(held.series.source, now + wait)
    return Kept(is_kept=True)


def _is_worth_telling(failures: int, *, is_lasting: bool) -> bool:
    """Whether people should hear of it: most silences end before anybody notices."""
    is_refused_again = is_lasting and failures > 1
    return is_refused_again or failures == FAILURES_IN_A_ROW


def _rest(source: str, until: datetime) -> None:
    """Leave a service alone that asked for it, whichever place it is asked about."""
    theirs = SeriesFetch.objects.select_for_update(of=("self",)).filter(
        series__source=source
    )
    for fetch in theirs.order_by("pk"):
        fetch.remembered[NOT_BEFORE] = until.isoformat()
        fetch.wait_until = max(fetch.wait_until or until, until)
        fetch.save(update_fields=["remembered", "wait_until"])


def wait_after(failures: int, *, is_lasting: bool = False) -> timedelta:
    """Return how long to wait after so many failures in a row.

    Twice as long each time up to six hours; from the eighth on half a day.
    """
    if is_lasting:
        return LASTING_WAIT
    if failures >= FAILURES_IN_A_ROW:
        return LONG_PAUSE
    return min(FIRST_WAIT * (1 << (failures - 1)), LONGEST_WAIT)


def next_time(
    series_id: int,
    *,
    now: datetime,
    interval: timedelta,
    fresh_until: datetime | None,
) -> datetime:
    """Return when to ask again: not before the answer is old, and never on the hour.

    Each series asks at minutes of its own, another each day, so that not every server
    in the world asks at the same one.
    """
    at = max(now + interval, fresh_until or now) + jitter(series_id, now.date())
    return at + timedelta(minutes=3) if at.minute == 0 else at


def jitter(series_id: int, day: date) -> timedelta:
    """Return a delay of up to 17 minutes, the same for a series all day."""
    digest = sha256(f"{series_id}/{day}".encode()).digest()
    return JITTER * (int.from_bytes(digest[:2], "big") / 0x1_0000)
