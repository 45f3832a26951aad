"""Values set aside with an import, and what a person says of them."""

from datetime import timedelta

import pytest
from django.utils import timezone

from orchard.actions.doubts import DoubtClashError, settle_doubt
from orchard.actions.weather import import_days, take_back_batch, type_reading
from orchard.models import AuditEntry, DoubtedValue, Site, WeatherDay
from tests.conftest import TODAY

BAD_DAY = TODAY - timedelta(days=40)


def days(**changed):
    return [
        (
            TODAY - timedelta(days=number),
            {
                "tmin_c": 8.0 + number % 3,
                "tmax_c": 20.0 + number % 4,
                "rain_mm": 0.0,
                **(changed if number == 40 else {}),
            },
        )
        for number in range(1, 90)
    ]


def bring(site, cast, **changed):
    return import_days(
        site=site, days=days(**changed), label="s.csv", person=cast.owner
    )


def stored():
    return WeatherDay.objects.filter(day=BAD_DAY).latest("pk")


def settle(site, cast, *, is_right):
    return settle_doubt(
        site=site,
        doubt_id=DoubtedValue.objects.latest("pk").pk,
        is_right=is_right,
        person=cast.grower,
        now=timezone.now(),
    )


def test_a_doubted_value_is_kept_apart_and_the_rest_of_its_day_counts(cast, site):
    bring(site, cast, tmin_c=-25.0)
    doubt = DoubtedValue.objects.get()
    assert (doubt.day, doubt.variable, doubt.value) == (BAD_DAY, "tmin_c", -25.0)
    assert doubt.why == "spike"
    assert (stored().tmin_c, stored().tmax_c) == (None, 20.0)
    note = AuditEntry.objects.get(what="weather_imported")
    assert note.after == {"days": 89, "doubted": 1}


def test_a_value_said_to_be_right_is_used_from_then_on(cast, site):
    bring(site, cast, tmin_c=-25.0)
    before = Site.objects.get(pk=site.pk).revision
    assert settle(site, cast, is_right=True).is_right
    assert stored().tmin_c == -25.0
    assert Site.objects.get(pk=site.pk).revision == before + 1
    note = AuditEntry.objects.get(what="doubt_right")
    assert (note.subject, note.person) == (f"lowest of {BAD_DAY}", cast.grower)
    bring(site, cast, tmin_c=-25.0)
    assert stored().tmin_c == -25.0
    assert DoubtedValue.objects.count() == 1


def test_a_value_said_to_be_wrong_stays_out_and_is_not_asked_again(cast, site):
    bring(site, cast, tmin_c=-25.0)
    before = Site.objects.get(pk=site.pk).revision
    settle(site, cast, is_right=False)
    assert Site.objects.get(pk=site.pk).revision == before
    bring(site, cast, tmin_c=-25.0)
    assert stored().tmin_c is None
    assert DoubtedValue.objects.count() == 1
    bring(site, cast, tmin_c=-30.0)
    assert DoubtedValue.objects.filter(settled_at=None).get().value == -30.0


def test_an_answer_about_a_sensor_that_sticks_holds_while_it_sticks(cast, site):
    """A station without wind cups sends no wind day after day, and is asked once."""
    calm = [(day, {**values, "wind_ms": 0.0}) for day, values in days()]
    import_days(site=site, days=calm, label="first", person=cast.owner)
    assert DoubtedValue.objects.count() == 89
    settle(site, cast, is_right=False)
    assert not DoubtedValue.objects.filter(settled_at=None).exists()
    note = AuditEntry.objects.get(what="doubt_wrong")
    assert note.after == {"wind_ms": 0.0, "days": 89}
    moved = [(day - timedelta(days=200), values) for day, values in calm]
    import_days(site=site, days=moved, label="second", person=cast.owner)
    assert DoubtedValue.objects.count() == 89
    assert not WeatherDay.objects.filter(wind_ms=0.0).exists()


def test_taking_an_import_back_takes_its_doubts_along(cast, site):
    first = bring(site, cast, tmin_c=-25.0)
    second = bring(site, cast, tmin_c=-25.0)
    assert DoubtedValue.objects.count() == 2
    take_back_batch(site=site, batch_id=second.pk)
    assert DoubtedValue.objects.get().batch == first


def test_an_answer_counts_once(cast, site):
    bring(site, cast, tmin_c=-25.0)
    assert settle(site, cast, is_right=False)
    assert settle(site, cast, is_right=True) is None


def test_a_low_above_its_high_cannot_be_said_to_be_right(cast, site):
    bring(site, cast, tmin_c=12.0, tmax_c=11.0)
    high, low = DoubtedValue.objects.order_by("variable")
    assert (high.variable, low.variable) == ("tmax_c", "tmin_c")
    now = timezone.now()
    says = {"site": site, "is_right": True, "person": cast.grower, "now": now}
    settle_doubt(doubt_id=high.pk, **says)
    with pytest.raises(DoubtClashError, match="below its lowest"):
        settle_doubt(doubt_id=low.pk, **says)
    assert DoubtedValue.objects.get(pk=low.pk).settled_at is None


def test_only_a_sites_own_doubts_are_settled(cast, site):
    bring(site, cast, tmin_c=-25.0)
    other = cast.stranger.orchards.get().sites.get()
    assert settle(other, cast, is_right=True) is None


def test_a_station_file_is_held_against_the_gauge_at_the_site(cast, site):
    for number, rain in ((40, 20.0), (42, 15.0)):
        type_reading(
            site=site,
            day=TODAY - timedelta(days=number),
            values={"rain_mm": rain},
            person=cast.grower,
        )
    bring(site, cast)
    assert {doubt.why for doubt in DoubtedValue.objects.all()} == {"dry_gauge"}
    assert DoubtedValue.objects.count() == 2
