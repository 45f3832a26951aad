"""The job makes what waits, one at a time, and holds no transaction meanwhile."""

from datetime import timedelta

import pytest
from django.db import connection
from django.utils import timezone

from care.actions import looking_back
from care.actions.hindcasts import (
    KEEPS,
    LookState,
    keep_hindcast,
    state_of,
    wish_for_hindcast,
)
from care.actions.looking_back import make_next, record_of, wish_for_grown_old
from care.models import Hindcast
from care.planning.hindcast_record import digest_of
from orchard.actions.weather import import_days, type_reading
from tests.conftest import TODAY

DAY = timedelta(days=1)


def days_of_weather(site, count):
    days = [
        # No two days alike: a sensor that stands still is not believed.
        (
            TODAY - n * DAY,
            {"tmin_c": 8.0 + n % 2, "tmax_c": 18.0 + n % 2, "rain_mm": n % 2},
        )
        for n in range(1, count + 1)
    ]
    import_days(site=site, days=days, label="x", person=None)
    site.refresh_from_db()


def test_nothing_waits(site):
    assert not make_next(timezone.now)


def test_what_waits_is_made_and_kept(site, monkeypatch):
    monkeypatch.setattr("care.planning.hindcast.MOST_MONDAYS", 2)
    days_of_weather(site, 560)
    wish_for_hindcast(site=site, now=timezone.now())
    assert make_next(timezone.now)
    look = Hindcast.objects.get(site=site)
    assert state_of(look, timezone.now()) is LookState.DONE
    assert look.report["mondays"]["count"] == 2
    assert look.report["record"]["last"] == str(TODAY - DAY)
    assert look.digest == digest_of(record_of(site, timezone.now()))
    assert not make_next(timezone.now)


def test_a_short_record_fails_in_words(site):
    days_of_weather(site, 30)
    wish_for_hindcast(site=site, now=timezone.now())
    assert make_next(timezone.now)
    look = Hindcast.objects.get(site=site)
    assert state_of(look, timezone.now()) is LookState.FAILED
    assert "less than a year" in look.error


def test_what_goes_wrong_is_kept_and_raised(site, monkeypatch):
    def broken(_record):
        raise ZeroDivisionError

    monkeypatch.setattr(looking_back, "hindcast", broken)
    days_of_weather(site, 370)
    wish_for_hindcast(site=site, now=timezone.now())
    with pytest.raises(ZeroDivisionError):
        make_next(timezone.now)
    look = Hindcast.objects.get(site=site)
    assert state_of(look, timezone.now()) is LookState.FAILED
    assert "server's log" in look.error


@pytest.mark.django_db(transaction=True)
def test_the_reckoning_holds_no_transaction(site, monkeypatch):
    seen = []

    def reckon(_record):
        seen.append(connection.in_atomic_block)
        return {"record": {"last": str(TODAY)}}

    monkeypatch.setattr(looking_back, "hindcast", reckon)
    days_of_weather(site, 370)
    wish_for_hindcast(site=site, now=timezone.now())
    make_next(timezone.now)
    assert seen == [False]


def test_an_old_report_is_made_anew_where_the_weather_moved(site):
    days_of_weather(site, 5)
    now = timezone.now()
    digest = digest_of(record_of(site, now))
    keep_hindcast(site=site, report={}, digest=digest, now=now)
    later = now + KEEPS
    assert wish_for_grown_old(later) == 0
    type_reading(site=site, day=TODAY - DAY, values={"rain_mm": 9.0}, person=None)
    assert wish_for_grown_old(now) == 0
    assert wish_for_grown_old(later) == 1
    assert state_of(Hindcast.objects.get(), later) is LookState.WISHED
