"""When a service is asked again, by whom, and what its answers leave behind."""

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given, strategies as st

from orchard.actions.arriving_weather import (
    LEASE,
    due_fetches,
    jitter,
    keep_answer,
    keep_failure,
    keep_unchanged,
    make_due,
    next_time,
    take_lease,
    wait_after,
)
from orchard.actions.weather_services import choose_source, leave_source, wished_wait
from orchard.models import OfficialWarning, SeriesFetch, Site, WeatherDay
from orchard.sources.arriving import Answer, ForecastDay, IssuedWarning
from orchard.sources.problems import SourceError

TODAY = date(2026, 3, 1)
NOW = datetime(2026, 3, 1, 20, 0, tzinfo=UTC)
HOUR = timedelta(hours=1)


@pytest.fixture
def here(site):
    site.own_today = None
    site.save(update_fields=["own_today"])
    choose_source(site=site, key="us")
    return site


def the_fetch():
    return SeriesFetch.objects.get()


def lease(now=NOW):
    return take_lease(the_fetch().pk, now)


def due(now=NOW):
    return [key for _, key in due_fetches(now)]


def an_answer(tmin_c=2.0, **values):
    return Answer(days=(ForecastDay(TODAY, tmin_c=tmin_c, tmax_c=9.0),), **values)


def keep(fetch, answer, now=NOW, **values):
    usual = {
        "memory": {},
        "today": TODAY,
        "fresh_until": None,
        "interval": HOUR,
    }
    return keep_answer(fetch=fetch, answer=answer, now=now, **{**usual, **values})


def fail(fetch, now=NOW, **values):
    return keep_failure(
        fetch=fetch, now=now, **{"words": "Nobody there.", "memory": {}, **values}
    )


def revision(site):
    return Site.objects.values_list("revision", flat=True).get(pk=site.pk)


def test_what_was_never_asked_is_due(here):
    assert due() == ["us"]


def test_what_nobody_reads_is_not_asked(here):
    leave_source(site=here)
    assert due() == []


def test_a_demonstration_is_never_asked_for(here):
    Site.objects.filter(pk=here.pk).update(own_today=TODAY)
    assert due() == []


def test_one_worker_has_the_lease_and_another_gets_it_when_it_ran_out(here):
    assert lease() is not None
    assert lease() is None
    assert due() == []
    assert lease(NOW + LEASE) is not None


def test_a_worker_that_comes_too_late_keeps_nothing(here):
    late = lease()
    later = NOW + LEASE
    assert lease(later) is not None
    assert not keep(late, an_answer(), now=later).is_kept
    assert not fail(late, now=later).is_kept
    assert not keep_unchanged(
        fetch=late, memory={}, fresh_until=None, interval=HOUR, now=later
    ).is_kept
    assert not WeatherDay.objects.exists()
    assert the_fetch().failures == 0


def test_a_good_answer_is_kept_and_its_readers_are_planned_anew(here):
    before = revision(here)
    kept = keep(lease(), an_answer(remarks=("Far away.",)), remarks=["Old way."])
    assert (kept.is_kept, kept.is_new) == (True, True)
    assert revision(here) == before + 1
    fetch = the_fetch()
    assert (fetch.fetched_at, fetch.lease_until) == (NOW, None)
    assert fetch.remark == "Old way. Far away."
    assert NOW + HOUR <= fetch.wait_until <= NOW + 1.4 * HOUR


def test_the_same_answer_again_makes_nobody_plan(here):
    keep(lease(), an_answer())
    before = revision(here)
    later = NOW + 2 * HOUR
    assert not keep(lease(later), an_answer(), now=later).is_new
    assert revision(here) == before


def test_warnings_alone_count_too(here):
    keep(lease(), an_answer())
    warned = IssuedWarning(
        "urn:1", "Freeze Warning", NOW, NOW, NOW + 9 * HOUR, NOW + 9 * HOUR
    )
    later = NOW + 2 * HOUR
    assert keep(lease(later), Answer(days=(), warnings=(warned,)), now=later).is_new
    assert WeatherDay.objects.get().tmin_c == 2.0
    assert OfficialWarning.objects.get().event == "Freeze Warning"


def test_warnings_that_could_not_be_asked_for_are_not_withdrawn(here):
    warned = IssuedWarning(
        "urn:1", "Freeze Warning", NOW, NOW, NOW + 9 * HOUR, NOW + 9 * HOUR
    )
    keep(lease(), an_answer(warnings=(warned,)))
    later = NOW + 2 * HOUR
    keep(lease(later), an_answer(warnings=None), now=later)
    assert OfficialWarning.objects.get().withdrawn_at is None


def test_a_strange_answer_leaves_everything_as_it_was(here):
    keep(lease(), an_answer())
    before = (revision(here), list(WeatherDay.objects.values()))
    later = NOW + 2 * HOUR
    strange = an_answer(tmin_c=-99.9)
    with pytest.raises(SourceError):
        keep(lease(later), strange, now=later)
    assert (revision(here), list(WeatherDay.objects.values())) == before


def test_a_forecast_that_is_old_when_it_comes_is_remarked_on(here):
    keep(lease(), an_answer(issued_at=NOW - timedelta(days=3)))
    assert "3 days old" in the_fetch().remark


def test_nothing_newer_is_as_good_as_fetched(here):
    keep_unchanged(
        fetch=lease(),
        memory={"marks": {}},
        fresh_until=NOW + 5 * HOUR,
        interval=HOUR,
        now=NOW,
    )
    fetch = the_fetch()
    assert fetch.fetched_at == NOW
    assert fetch.wait_until >= NOW + 5 * HOUR
    assert wished_wait(fetch) == NOW + 5 * HOUR


def test_after_a_failure_the_last_good_answer_stays(here):
    keep(lease(), an_answer())
    later = NOW + 2 * HOUR
    fail(lease(later), now=later)
    fetch = the_fetch()
    assert (fetch.fetched_at, fetch.failures) == (NOW, 1)
    assert fetch.error == "Nobody there."
    assert later + timedelta(minutes=10) <= fetch.wait_until <= later + HOUR / 2
    assert WeatherDay.objects.count() == 1


def test_a_good_answer_forgets_the_failures(here):
    fail(lease())
    later = NOW + HOUR
    keep(lease(later), an_answer(), now=later)
    assert (the_fetch().failures, the_fetch().error) == (0, "")


def test_waits_double_up_to_six_hours_and_then_the_service_rests():
    minutes = [wait_after(n) // timedelta(minutes=1) for n in range(1, 10)]
    assert minutes == [10, 20, 40, 80, 160, 320, 360, 720, 720]
    assert wait_after(1, is_lasting=True) == timedelta(days=1)


def test_a_service_that_wants_to_be_left_alone_is_for_every_place(here, cast):
    other = Site.objects.get(name="Elsewhere")
    other.latitude_deg, other.longitude_deg = 21.3, -157.9
    other.save()
    choose_source(site=other, key="us")
    first = SeriesFetch.objects.get(series__readers__site=here)
    fail(take_lease(first.pk, NOW), wait=2 * HOUR)
    assert due(NOW + 1.9 * HOUR) == []
    assert make_due(now=NOW + HOUR) == 0
    assert len(due(NOW + 2.4 * HOUR)) == 2


def test_everything_can_be_made_due_but_for_wishes(here):
    keep(lease(), an_answer(), fresh_until=NOW + HOUR)
    assert make_due(now=NOW + HOUR / 2) == 0
    assert make_due(now=NOW + HOUR) == 1
    assert due(NOW + HOUR) == ["us"]


moments = st.integers(0, 366 * 24 * 60).map(lambda n: NOW + timedelta(minutes=n))


@given(st.integers(1, 10**6), moments, st.integers(-600, 6000))
def test_the_next_time_is_never_early_and_never_on_the_hour(series_id, now, minutes):
    fresh_until = now + timedelta(minutes=minutes)
    at = next_time(series_id, now=now, interval=HOUR, fresh_until=fresh_until)
    earliest = max(now + HOUR, fresh_until)
    assert earliest <= at <= earliest + timedelta(minutes=20)
    assert at.minute != 0


@given(st.integers(1, 10**6))
def test_a_series_has_minutes_of_its_own_and_others_each_day(series_id):
    delays = [jitter(series_id, TODAY + timedelta(days=n)) for n in range(20)]
    assert all(timedelta(0) <= delay < timedelta(minutes=17) for delay in delays)
    assert len(set(delays)) > 15
    assert jitter(series_id, TODAY) == delays[0]
