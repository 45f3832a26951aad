"""What pages say of cold is what the cold rule reckons with."""

from datetime import timedelta

import pytest

from care.actions.logbook import observe
from care.planning.cold_ahead import cold_nights, cold_stand
from care.planning.gather import gather
from care.planning.propose import situations
from care.science.cold_alarm import first_alarm
from orchard.actions.weather import type_reading
from orchard.models import WeatherDay
from tests.care.planning.test_gather import NOW
from tests.conftest import TODAY

DAY = timedelta(days=1)
POT = {"in_container": True, "container_litres": 40.0}


@pytest.fixture
def forecast(site):
    def write(days, tmin_c):
        row = type_reading(
            site=site, day=TODAY + days * DAY, values={"tmin_c": tmin_c}, person=None
        )
        WeatherDay.objects.filter(pk=row.pk).update(issued_on=TODAY)

    return write


def stand_of(tree):
    return cold_stand(gather(tree.site, TODAY), tree.pk)


@pytest.mark.parametrize(
    "facts",
    [
        {"species_key": "apple"},
        {"species_key": "orange"},
        {"species_key": "orange", **POT},
        {"species_key": "fig", **POT},
        {"species_key": "fig", "planted_on": TODAY - 9 * DAY},
    ],
)
def test_the_alarm_rings_from_the_temperature_that_is_told(
    site, make_tree, forecast, facts
):
    tree = make_tree(**facts)
    alarm_c = stand_of(tree).alarm_c
    for days, above_c, rings in ((1, 0.6, False), (2, -0.5, True)):
        forecast(days, alarm_c + above_c)
        (situation,) = situations(gather(site, TODAY))
        alarm = first_alarm(situation, 2)
        assert (alarm is not None) is rings
        assert cold_nights(site, TODAY, 2)[-1].minimum_c == pytest.approx(
            alarm_c + above_c
        )


def test_open_flowers_bear_less_than_hardened_wood(site, make_tree):
    apple = make_tree("Apple", species_key="apple")
    plain = stand_of(apple)
    assert plain.hardened_c is None
    observe(
        tree=apple,
        what="bloom_stage",
        person=None,
        on=TODAY,
        now=NOW,
        word="full_bloom",
    )
    flowering = stand_of(apple)
    assert (flowering.figure, flowering.stage) == ("bud_stage", "full_bloom")
    # Penn State: apples in full bloom, a tenth killed at 28 degF.
    assert flowering.bears_c == pytest.approx(-2.2, abs=0.05)
    assert flowering.hardened_c == plain.bears_c


def test_a_citrus_that_had_no_cool_fortnight_bears_less(site, make_tree):
    for days in range(-20, 0):
        type_reading(
            site=site,
            day=TODAY + days * DAY,
            values={"tmin_c": 18.0, "tmax_c": 30.0, "rain_mm": 0.0},
            person=None,
        )
    stand = stand_of(make_tree("Orange", species_key="orange"))
    assert stand.unhardened_c > 0
    assert stand.hardened_c == pytest.approx(stand.bears_c - stand.unhardened_c)


def test_a_tree_that_is_not_there_bears_nothing_known(site):
    assert cold_stand(gather(site, TODAY), 1) is None
