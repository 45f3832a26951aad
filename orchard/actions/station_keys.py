"""Stations that send by themselves: their keys, their readings, the days of these.

When a day is stored: the day that is over, once, when the first reading of the next
one comes (again only where late readings change it). Of today only the rain so far is
stored, and only when it has grown by a step, for that alone postpones work: a reading
every few minutes must not make the plan anew each time. The step grows with the rain,
so that the wettest day makes the plan anew some twenty times.
"""

import base64
import secrets
from collections.abc import Iterable
from dataclasses import asdict
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from django.db import transaction
from django.utils.translation import gettext

from orchard.actions.audit import note
from orchard.actions.doubts import find_doubts, set_aside
from orchard.actions.people import hash_of
from orchard.actions.places import raise_revision
from orchard.models import (
    Person,
    SentReading,
    Site,
    SiteSeries,
    StationKey,
    WeatherBatch,
    WeatherDay,
    WeatherSeries,
)
from orchard.sources.quality import CHECKED, DoubtedDay
from orchard.sources.sent_days import (
    AROUND,
    DoubtedReading,
    rain_so_far_mm,
    sent_day,
    span_of,
)
from orchard.sources.station_push import PushedReading

SECRET_BYTES = 16
#: After what people type (0) and before every file and service (10 and up).
RANKS = range(1, 10)
MOST_OPEN = 5
KEPT_DAYS = 60
#: A day is closed by the first reading after it; a silent station's by a job.
SETTLED_FOR = timedelta(days=3)
LEAST_APART = timedelta(seconds=50)
LEAST_STEP_MM, STEP_SHARE = 1.0, 0.2
SAME = 1e-6
LONGEST_REFUSAL = 240


class TooManyStationsError(ValueError):
    """A site has as many stations as it may; the message says what to do."""


@transaction.atomic
def make_key(
    *, site: Site, name: str, wind_height_m: float, person: Person, now: datetime
) -> tuple[StationKey, str]:
    """Return a new key and its secret, which is shown now and never again.

    A station of the same name as an earlier one goes on with its days, and the earlier
    key is closed.

    Raises
    ------
    TooManyStationsError
        Where no more stations can be kept apart.
    """
    Site.objects.select_for_update().get(pk=site.pk)
    site.station_keys.filter(name=name, revoked_at=None).update(revoked_at=now)
    if site.station_keys.filter(revoked_at=None).count() >= MOST_OPEN:
        message = gettext(
            "{most} stations send already. Close one of their keys first."
        ).format(most=MOST_OPEN)
        raise TooManyStationsError(message)
    secret = base64.b32encode(secrets.token_bytes(SECRET_BYTES)).decode()
    secret = secret.rstrip("=").lower()
    key = StationKey.objects.create(
        site=site,
        series=_series_named(site, name),
        name=name,
        wind_height_m=wind_height_m,
        token_hash=hash_of(secret),
        made_by=person,
        made_at=now,
    )
    note(
        orchard=site.orchard,
        person=person,
        what="station_key_made",
        subject=name,
        after={"wind_height_m": wind_height_m},
        now=now,
    )
    return key, secret


def _series_named(site: Site, name: str) -> WeatherSeries:
    kind = WeatherSeries.Kind.SENT
    series = site.private_series.filter(kind=kind, name=name).order_by("id").first()
    if series is not None:
        return series
    taken = set(site.readings.values_list("rank", flat=True))
    rank = next((rank for rank in RANKS if rank not in taken), None)
    if rank is None:
        message = gettext(
            "Give it the name of an earlier station: there are nine already."
        )
        raise TooManyStationsError(message)
    series = WeatherSeries.objects.create(owner=site, kind=kind, name=name)
    SiteSeries.objects.create(site=site, series=series, rank=rank)
    return series


@transaction.atomic
def revoke_key(*, site: Site, key_id: int, person: Person, now: datetime) -> bool:
    """Close one of a site's keys; whether there was one to close. Its days stay."""
    rows = StationKey.objects.filter(pk=key_id, site=site)
    if not rows.filter(revoked_at=None).update(revoked_at=now):
        return False
    note(
        orchard=site.orchard,
        person=person,
        what="station_key_revoked",
        subject=rows.get().name,
        now=now,
    )
    return True


def key_of_token(token: str) -> StationKey | None:
    """Return the open key behind a secret; unknown and closed are the same."""
    return (
        StationKey.objects.filter(token_hash=hash_of(token), revoked_at=None)
        .select_related("site", "series")
        .first()
    )


def refuse_reading(*, key: StationKey, why: str, now: datetime) -> None:
    """Keep why a reading was not taken, for the people who look after the station."""
    StationKey.objects.filter(pk=key.pk).update(
        refused_at=now, refusal=why[:LONGEST_REFUSAL]
    )


@transaction.atomic
def take_reading(*, key: StationKey, reading: PushedReading, now: datetime) -> bool:
    """Keep a reading and derive the days it completes; whether it was kept.

    The same moment sent twice is kept once, as it came first. Of a station that sends
    every few seconds one reading a minute is kept: no day is told better by more.
    """
    locked = StationKey.objects.select_for_update().get(pk=key.pk)
    locked.heard_at = now
    locked.save(update_fields=["heard_at"])
    last = (
        SentReading.objects.filter(key=key, at__lte=reading.at)
        .order_by("-at")
        .values_list("at", flat=True)
        .first()
    )
    if last is not None and reading.at - last < LEAST_APART:
        return False
    SentReading.objects.create(key=key, received_at=now, **asdict(reading))
    zone = ZoneInfo(key.site.time_zone)
    day, today = _day_of(reading.at, zone), _day_of(now, zone)
    over = {day} | ({_day_of(last, zone)} if last else set())
    changed = [
        _store_day(key, one, zone, now)
        for one in sorted(over)
        if one < today and now - span_of(one, zone)[1] <= SETTLED_FOR
    ]
    has_rain = reading.rain_day_mm is not None or reading.rain_hour_mm is not None
    if day == today and has_rain:
        changed.append(_store_rain_so_far(key, today, zone))
    if any(changed):
        raise_revision(key.site)
    return True


def _day_of(at: datetime, zone: ZoneInfo) -> date:
    """Return the local day a reading belongs to; midnight's closes its day."""
    return (at.astimezone(zone) - timedelta(microseconds=1)).date()


def _readings(key: StationKey, day: date, zone: ZoneInfo) -> list[PushedReading]:
    begin, end = span_of(day, zone)
    names = PushedReading.__dataclass_fields__
    rows = SentReading.objects.filter(
        key__series=key.series_id, at__range=(begin - AROUND, end + AROUND)
    ).order_by("at", "id")
    return [PushedReading(**row) for row in rows.values(*names)]


def _batch(series: WeatherSeries) -> WeatherBatch:
    batch, _ = WeatherBatch.objects.get_or_create(series=series, label="sent")
    return batch


def _store_day(key: StationKey, day: date, zone: ZoneInfo, now: datetime) -> bool:
    """Write a day that is over; whether any value of it changed."""
    made = sent_day(_readings(key, day, zone), day, zone, key.wind_height_m)
    batch = _batch(key.series)
    within = [
        DoubtedDay(day, one.variable, one.value, one.why)
        for one in _one_each(made.doubts)
    ]
    left_out = _ask(key, batch, within, now)
    # What is not left out of these, a person has said is right.
    values = made.values | {
        one.variable: one.value for one in within if one.variable not in left_out
    }
    whole = [
        one
        for one in find_doubts(key.site, key.series, [(day, values)])
        if one.variable not in left_out
    ]
    unused = _ask(key, batch, whole, now)
    values = {name: None if name in unused else v for name, v in values.items()}
    is_partial_gone = bool(batch.days.filter(day=day, issued_on=day).delete()[0])
    return _write(batch, day, values) or is_partial_gone


def _ask(
    key: StationKey, batch: WeatherBatch, doubts: list[DoubtedDay], now: datetime
) -> set[str]:
    """Set doubts aside that do not wait already; return what is not to be used."""
    waiting = set(
        batch.doubts.filter(
            day__in={one.day for one in doubts}, settled_at=None
        ).values_list("variable", flat=True)
    )
    fresh = [one for one in doubts if one.variable not in waiting]
    left_out = set_aside(series=key.series, batch=batch, doubts=fresh, now=now)
    return {name for _, name in left_out} | {
        one.variable for one in doubts if one.variable in waiting
    }


def _one_each(doubts: Iterable[DoubtedReading]) -> list[DoubtedReading]:
    return list({one.variable: one for one in doubts}.values())


def _write(batch: WeatherBatch, day: date, values: dict[str, float | None]) -> bool:
    """Write a day's values where they differ from the stored ones; whether they did."""
    row = batch.days.filter(day=day, issued_on=None).first()
    if row is None:
        if all(value is None for value in values.values()):
            return False
        WeatherDay.objects.create(batch=batch, day=day, **values)
        return True
    changed = [
        name
        for name in CHECKED.keys() & values.keys()
        if _differ(getattr(row, name), values[name])
    ]
    for name in changed:
        setattr(row, name, values[name])
    if changed:
        row.save(update_fields=changed)
    return bool(changed)


def _differ(before: float | None, after: float | None) -> bool:
    if before is None or after is None:
        return before is not after
    return abs(before - after) > SAME


def _store_rain_so_far(key: StationKey, today: date, zone: ZoneInfo) -> bool:
    """Write today's rain so far once it has grown by a step; whether it did.

    It stands as known on the day itself, so that a look back at this morning does not
    see it, and a forecast of more rain is not lowered by it.
    """
    so_far = rain_so_far_mm(_readings(key, today, zone), today, zone)
    batch = _batch(key.series)
    rows = batch.days.filter(day=today, issued_on=today)
    stored = rows.values_list("rain_mm", flat=True).first() or 0.0
    if so_far - stored < max(LEAST_STEP_MM, STEP_SHARE * stored):
        return False
    if so_far > CHECKED["rain_mm"][1]:
        return False  # the day's end sets it aside and asks
    WeatherDay.objects.update_or_create(
        batch=batch, day=today, issued_on=today, defaults={"rain_mm": so_far}
    )
    return True


def settle_sent_days(*, now: datetime) -> int:
    """Store yesterday of stations that have fallen silent; return how many changed."""
    changed = 0
    keys = StationKey.objects.filter(heard_at__gte=now - SETTLED_FOR)
    for key in keys.select_related("site", "series"):
        zone = ZoneInfo(key.site.time_zone)
        with transaction.atomic():
            StationKey.objects.select_for_update().get(pk=key.pk)
            yesterday = _day_of(now, zone) - timedelta(days=1)
            is_changed = _store_day(key, yesterday, zone, now)
            if is_changed:
                raise_revision(key.site)
        changed += is_changed
    return changed


@transaction.atomic
def thin_readings(*, now: datetime) -> int:
    """Delete single readings after sixty days; the days made of them stay."""
    old = SentReading.objects.filter(at__lt=now - timedelta(days=KEPT_DAYS))
    return old.delete()[0]
