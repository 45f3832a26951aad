"""Stations that send by themselves: keys, readings, and the days made of them."""

from datetime import UTC, datetime, timedelta

import pytest

from orchard.actions.doubts import settle_doubt
from orchard.actions.places import live_on
from orchard.actions.station_keys import (
    TooManyStationsError,
    key_of_token,
    make_key,
    refuse_reading,
    revoke_key,
    settle_sent_days,
    take_reading,
    thin_readings,
)
from orchard.actions.weather import import_days
from orchard.jobs import keep_station_days
from orchard.models import (
    AuditEntry,
    DoubtedValue,
    SentReading,
    Site,
    SiteSeries,
    StationKey,
    WeatherDay,
)
from orchard.sources.station_push import PushedReading
from tests.conftest import TODAY

HOUR = timedelta(hours=1)
MIDNIGHT = datetime(2025, 7, 2, 7, tzinfo=UTC)  # of the site, in Los Angeles


@pytest.fixture
def key(cast, site):
    return new_key(site, cast)[0]


def new_key(site, cast, name="Roof", height=2.0):
    return make_key(
        site=site, name=name, wind_height_m=height, person=cast.owner, now=MIDNIGHT
    )


def send(key, at, **values):
    reading = PushedReading(at, **values)
    return take_reading(key=key, reading=reading, now=at + timedelta(seconds=4))


def send_day(key, begin=MIDNIGHT, **values):
    """Send every hour of a day and the first one after it."""
    for hour in range(1, 26):
        at = begin + hour * HOUR
        made = {n: v(hour) if callable(v) else v for n, v in values.items()}
        send(key, at, **made)


def revision(site):
    return Site.objects.get(pk=site.pk).revision


def day_row():
    return WeatherDay.objects.get(day=TODAY, issued_on=None)


def test_a_secret_opens_its_key_until_it_is_closed(cast, site):
    key, secret = new_key(site, cast)
    assert secret not in str(StationKey.objects.values())
    assert key_of_token(secret) == key
    assert key_of_token(secret + "x") is None
    assert revoke_key(site=site, key_id=key.pk, person=cast.owner, now=MIDNIGHT)
    assert key_of_token(secret) is None
    assert not revoke_key(site=site, key_id=key.pk, person=cast.owner, now=MIDNIGHT)
    whats = AuditEntry.objects.order_by("at", "pk").values_list("what", flat=True)
    assert {"station_key_made", "station_key_revoked"} <= set(whats)


def test_a_station_is_trusted_after_typed_readings_and_before_files(key):
    assert SiteSeries.objects.get(series=key.series).rank == 1


def test_a_new_key_of_the_same_name_goes_on_with_its_days(cast, site, key):
    again, _ = new_key(site, cast)
    assert again.series == key.series
    assert [each.pk for each in StationKey.objects.filter(revoked_at=None)] == [
        again.pk
    ]


def test_there_is_an_end_to_stations(cast, site):
    for number in range(5):
        new_key(site, cast, name=f"Roof {number}")
    with pytest.raises(TooManyStationsError, match="5 stations send already"):
        new_key(site, cast, name="Roof 5")


def test_another_sites_key_is_not_closed(cast, site, key):
    other = cast.stranger.orchards.get().sites.get()
    by = cast.stranger
    assert not revoke_key(site=other, key_id=key.pk, person=by, now=MIDNIGHT)


def test_a_day_is_stored_once_when_it_is_over(site, key):
    before = revision(site)
    send_day(
        key,
        temp_c=lambda hour: 10.0 + hour % 12,
        rain_day_mm=lambda hour: 0.4 if hour < 25 else 0.0,
        humidity_percent=50.0,
    )
    row = day_row()
    assert (row.tmin_c, row.tmax_c, row.rain_mm) == (10.0, 21.0, 0.4)
    assert row.humidity_percent == 50.0
    assert revision(site) == before + 1
    send(key, MIDNIGHT + 26 * HOUR, temp_c=3.0)
    assert revision(site) == before + 1


def test_the_same_moment_twice_is_one_reading(key):
    assert send(key, MIDNIGHT + HOUR, temp_c=10.0)
    assert not send(key, MIDNIGHT + HOUR, temp_c=99.0)
    assert SentReading.objects.get().temp_c == 10.0


def test_of_a_station_in_a_hurry_one_reading_a_minute_is_kept(key):
    begin = MIDNIGHT + HOUR
    kept = [
        send(key, begin + timedelta(seconds=20 * number), temp_c=10.0)
        for number in range(7)
    ]
    assert kept == [True, False, False, True, False, False, True]
    key.refresh_from_db()
    assert key.heard_at == begin + timedelta(seconds=124)


def test_rain_so_far_moves_the_plan_by_steps_and_never_by_drops(site, key):
    """30 readings of 0.4 mm: the plan is made anew a few times, not 30."""
    before = revision(site)
    for number in range(1, 31):
        send(key, MIDNIGHT + number * timedelta(minutes=5), rain_day_mm=number * 0.4)
    row = WeatherDay.objects.get()
    assert (row.day, row.issued_on, row.tmin_c) == (TODAY, TODAY, None)
    assert 9.5 < row.rain_mm <= 12.0
    assert revision(site) - before == 8


def test_when_the_day_is_over_its_rain_replaces_the_rain_so_far(key):
    send_day(key, temp_c=15.0, rain_day_mm=lambda hour: float(hour) if hour < 25 else 0)
    assert WeatherDay.objects.get().rain_mm == 24.0


def test_late_readings_change_the_day_they_belong_to(site, key):
    for hour in range(1, 23):
        send(key, MIDNIGHT + hour * HOUR, temp_c=10.0 + hour, rain_day_mm=0.0)
    send(key, MIDNIGHT + 30 * HOUR, temp_c=20.0)
    assert day_row().tmax_c == 32.0
    before, now = revision(site), MIDNIGHT + 31 * HOUR
    late = PushedReading(MIDNIGHT + 22.5 * HOUR, temp_c=34.0)
    assert take_reading(key=key, reading=late, now=now)
    assert day_row().tmax_c == 34.0
    assert revision(site) == before + 1


def test_a_silent_station_leaves_no_dry_day_and_the_job_closes_the_day(key):
    for hour in range(1, 22):
        send(key, MIDNIGHT + hour * HOUR, temp_c=10.0 + hour, rain_day_mm=0.0)
    assert not WeatherDay.objects.exists()
    assert settle_sent_days(now=MIDNIGHT + 26 * HOUR) == 1
    assert (day_row().tmax_c, day_row().rain_mm) == (31.0, None)
    assert settle_sent_days(now=MIDNIGHT + 27 * HOUR) == 0


def test_a_spike_is_left_out_of_its_day_until_a_person_says_it_is_right(
    cast, site, key
):
    send_day(key, temp_c=lambda hour: -11.0 if hour == 9 else 12.0 + hour % 5)
    assert day_row().tmin_c == 12.0
    doubt = DoubtedValue.objects.get()
    assert (doubt.variable, doubt.value, doubt.why) == ("tmin_c", -11.0, "unit")
    settle_doubt(
        site=site,
        doubt_id=doubt.pk,
        is_right=True,
        person=cast.grower,
        now=MIDNIGHT + 26 * HOUR,
    )
    assert day_row().tmin_c == -11.0
    late = PushedReading(MIDNIGHT + 8.5 * HOUR, temp_c=14.0)
    take_reading(key=key, reading=late, now=MIDNIGHT + 27 * HOUR)
    assert day_row().tmin_c == -11.0
    assert DoubtedValue.objects.count() == 1


def test_a_doubt_that_waits_is_asked_once(key):
    send_day(key, temp_c=lambda hour: -11.0 if hour == 9 else 12.0 + hour % 5)
    late = PushedReading(MIDNIGHT + 8.5 * HOUR, temp_c=14.0)
    take_reading(key=key, reading=late, now=MIDNIGHT + 27 * HOUR)
    assert DoubtedValue.objects.count() == 1
    assert day_row().tmin_c == 12.0


def test_a_refusal_is_kept_for_people_to_see(key):
    refuse_reading(key=key, why="x" * 300, now=MIDNIGHT)
    key.refresh_from_db()
    assert (key.refused_at, len(key.refusal)) == (MIDNIGHT, 240)


def test_the_job_closes_days_and_thins_readings(cast, site, monkeypatch):
    key, _ = new_key(site, cast)
    monkeypatch.setattr("django.utils.timezone.now", lambda: MIDNIGHT + 26 * HOUR)
    send(key, MIDNIGHT - timedelta(days=61), temp_c=9.0)
    for hour in range(1, 24):
        send(key, MIDNIGHT + hour * HOUR, temp_c=10.0 + hour)
    assert keep_station_days() == 1
    assert day_row().tmax_c == 33.0
    assert SentReading.objects.count() == 23


def test_a_demonstration_ends_with_its_record_whatever_a_station_sends(site, key):
    last = TODAY + timedelta(days=3)
    import_days(site=site, days=[(last, {"rain_mm": 1.0})], label="x", person=None)
    send_day(key, begin=MIDNIGHT + timedelta(days=8), temp_c=lambda hour: 9.0 + hour)
    assert live_on(site=site, days=30) == last


def test_single_readings_go_after_sixty_days_and_their_days_stay(key):
    send_day(key, temp_c=lambda hour: 10.0 + hour)
    assert thin_readings(now=MIDNIGHT + timedelta(days=61, minutes=30)) == 24
    assert SentReading.objects.count() == 1
    assert day_row().tmin_c == 11.0
