from datetime import date, timedelta

import pytest
from django.db import IntegrityError, transaction

from orchard.actions.weather import (
    import_days,
    set_normals,
    take_back_batch,
    take_back_reading,
    type_reading,
)
from orchard.models import NormalMonth, Site, WeatherBatch, WeatherDay
from orchard.sources.known_days import days_around, normals_of
from tests.conftest import TODAY

MONTHS = [(month, 5.0, 15.0, 60.0) for month in range(1, 13)]
YESTERDAY = TODAY - timedelta(days=1)


def revision(site):
    return Site.objects.get(pk=site.pk).revision


def day(tmin, tmax, rain):
    return {"tmin_c": tmin, "tmax_c": tmax, "rain_mm": rain}


def known(site, when):
    return next(each for each in days_around(site, TODAY) if each.day == when)


def test_an_import_taken_back_restores_the_days_before_it(cast, site):
    before = revision(site)
    import_days(
        site=site, days=[(YESTERDAY, day(8, 20, 1))], label="a.csv", person=cast.owner
    )
    second = import_days(
        site=site, days=[(YESTERDAY, day(9, 21, 2))], label="b.csv", person=cast.owner
    )
    assert revision(site) == before + 2
    assert known(site, YESTERDAY).rain_mm == 2
    assert take_back_batch(site=site, batch_id=second.pk)
    assert known(site, YESTERDAY).rain_mm == 1
    assert revision(site) == before + 3


def test_only_a_sites_own_import_can_be_taken_back(cast, site):
    batch = import_days(
        site=site, days=[(YESTERDAY, day(8, 20, 1))], label="a", person=None
    )
    other = cast.stranger.orchards.get().sites.get()
    assert not take_back_batch(site=other, batch_id=batch.pk)
    assert WeatherBatch.objects.filter(pk=batch.pk).exists()


def test_an_import_is_stored_whole_or_not_at_all(site):
    before = revision(site)
    days = [(YESTERDAY, day(8, 20, 1)), (YESTERDAY, day(9, 21, 1))]
    with pytest.raises(IntegrityError), transaction.atomic():
        import_days(site=site, days=days, label="a.csv", person=None)
    assert not WeatherDay.objects.exists()
    assert not WeatherBatch.objects.exists()
    assert revision(site) == before


def test_a_typed_reading_beats_the_station_value_by_value(cast, site):
    import_days(
        site=site, days=[(YESTERDAY, day(8, 20, 1))], label="a", person=cast.owner
    )
    before = revision(site)
    type_reading(site=site, day=YESTERDAY, values={"rain_mm": 7.0}, person=cast.grower)
    found = known(site, YESTERDAY)
    assert (found.rain_mm, found.tmin_c, found.origin) == (7.0, 8, "typed")
    assert revision(site) == before + 1


def test_a_second_reading_of_a_day_keeps_what_it_does_not_name(cast, site):
    type_reading(site=site, day=YESTERDAY, values={"rain_mm": 7.0}, person=cast.owner)
    type_reading(site=site, day=YESTERDAY, values={"tmin_c": 3.0}, person=cast.grower)
    row = WeatherDay.objects.get()
    assert (row.rain_mm, row.tmin_c, row.tmax_c) == (7.0, 3.0, None)


def test_a_reading_taken_back_restores_the_station(cast, site):
    import_days(
        site=site, days=[(YESTERDAY, day(8, 20, 1))], label="a", person=cast.owner
    )
    type_reading(site=site, day=YESTERDAY, values={"rain_mm": 7.0}, person=cast.owner)
    assert take_back_reading(site=site, day=YESTERDAY)
    assert known(site, YESTERDAY).rain_mm == 1
    before = revision(site)
    assert not take_back_reading(site=site, day=YESTERDAY)
    assert revision(site) == before


def test_what_is_expected_tonight_is_no_observation(cast, site):
    type_reading(
        site=site,
        day=TODAY,
        values={"tmin_c": -3.0},
        person=cast.owner,
        issued_on=TODAY,
    )
    type_reading(site=site, day=TODAY, values={"tmin_c": 4.0}, person=cast.owner)
    rows = WeatherDay.objects.order_by("issued_on").values_list("issued_on", "tmin_c")
    assert set(rows) == {(None, 4.0), (TODAY, -3.0)}
    assert known(site, TODAY).tmin_c == 4.0
    assert take_back_reading(site=site, day=TODAY, issued_on=TODAY)
    assert WeatherDay.objects.get().tmin_c == 4.0


def test_twelve_normals_replace_twelve(site):
    before = revision(site)
    set_normals(site=site, months=MONTHS)
    set_normals(site=site, months=[(m, 1.0, 2.0, 3.0) for m in range(1, 13)])
    assert NormalMonth.objects.count() == 12
    assert normals_of(site).rain_mm == (3.0,) * 12
    assert revision(site) == before + 2


def test_bad_normals_leave_the_good_ones(site):
    set_normals(site=site, months=MONTHS)
    with pytest.raises(IntegrityError), transaction.atomic():
        set_normals(site=site, months=[(1, 15.0, 5.0, 60.0), *MONTHS[1:]])
    assert normals_of(site).tmin_c == (5.0,) * 12


def test_eleven_months_are_no_normals(site):
    set_normals(site=site, months=MONTHS[:11])
    assert normals_of(site) is None


def test_where_nothing_was_measured_the_usual_stands_and_says_so(site):
    assert {each.origin for each in days_around(site, TODAY)} == {""}
    set_normals(site=site, months=MONTHS)
    days = days_around(site, TODAY, back=3, ahead=2)
    assert [each.day for each in days] == [
        date(2025, 6, 29) + timedelta(days=n) for n in range(6)
    ]
    assert {each.origin for each in days} == {"normal"}
    # Twelve equal months make a flat curve; rain is 60 mm over 30 or 31 days.
    assert [each.tmin_c for each in days] == pytest.approx([5.0] * 6)
    assert all(1.9 < each.rain_mm < 2.1 for each in days)


def test_a_missing_value_is_missing_and_not_zero(site):
    import_days(site=site, days=[(YESTERDAY, day(8, 20, None))], label="a", person=None)
    set_normals(site=site, months=MONTHS)
    found = known(site, YESTERDAY)
    assert (found.origin, found.rain_mm) == ("observed", None)


def test_a_newer_forecast_replaces_an_older_and_both_end_with_the_day(site):
    tomorrow = TODAY + timedelta(days=1)
    for issued, low in ((YESTERDAY, 1.0), (TODAY, 2.0)):
        for when in (YESTERDAY, tomorrow):
            type_reading(
                site=site,
                day=when,
                values={"tmin_c": low},
                person=None,
                issued_on=issued,
            )
    assert known(site, tomorrow).tmin_c == 2.0
    assert known(site, YESTERDAY).origin == ""


def test_one_sites_weather_is_not_anothers(cast, site):
    import_days(site=site, days=[(YESTERDAY, day(8, 20, 1))], label="a", person=None)
    other = cast.stranger.orchards.get().sites.get()
    assert {each.origin for each in days_around(other, TODAY)} == {""}
