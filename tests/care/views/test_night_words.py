"""How cold the night becomes, and who says so."""

from datetime import UTC, date, datetime

import pytest

from care.planning.cold_ahead import Night
from care.planning.days_ahead import NearDay, NearDays
from care.views.evening_digest import Part, night_words
from care.views.people_words import danger_words, heat_words
from orchard.models import Site
from orchard.units import UnitSystem

TODAY = date(2025, 11, 28)
TOMORROW = date(2025, 11, 29)
METRIC = UnitSystem.METRIC


def said(*night, **facts):
    one = Night(*night, **facts) if night else None
    moment = datetime(2025, 11, 28, 16, tzinfo=UTC)
    return night_words(Part(Site(pk=1), moment, NearDays(TODAY), one), METRIC)


@pytest.mark.parametrize(
    ("night", "facts", "words"),
    [
        (
            (TOMORROW, -3.0, "forecast"),
            {"told_c": -3.0},
            "-3 °C is likely tomorrow morning, by the forecast.",
        ),
        (
            (TOMORROW, -5.0, "forecast"),
            {"told_c": -3.0, "pocket_c": 2.0},
            "-5 °C is likely tomorrow morning, by the forecast (-3 °C) less what this "
            "place is colder on such nights.",
        ),
        (
            (TOMORROW, -4.0, "evening"),
            {"evening_c": -4.0},
            "-4 °C is likely tomorrow morning, by this evening's air and dew point.",
        ),
        ((TODAY, -2.0, "typed"), {}, "-2 °C is likely tonight, as typed in here."),
        ((), {}, ""),
    ],
)
def test_the_night_is_told_with_where_its_cold_comes_from(night, facts, words):
    assert said(*night, **facts) == words


def near(*maxima_c):
    days = (TODAY, TOMORROW, date(2025, 11, 30))
    return NearDays(
        TODAY,
        ahead={
            day: NearDay(tmin_c=15.0, tmax_c=maximum_c)
            for day, maximum_c in zip(days, maxima_c, strict=False)
        },
    )


def test_two_hot_days_are_named_together_in_the_readers_units():
    first, *cautions = heat_words(near(36.0, 39.0), UnitSystem.US)
    # 39 degC are 102.2 degF.
    assert first == "Up to 102 °F today and tomorrow."
    assert any("Put heavy work off" in caution for caution in cautions)


def test_heat_after_tomorrow_and_mild_days_say_nothing():
    assert heat_words(near(20.0, 20.0, 39.0), METRIC) == ()
    assert danger_words(NearDays(TODAY, ahead={TOMORROW: NearDay()}), METRIC) == ()


def test_dry_air_alarms_short_of_the_heat():
    # 34 degC and a night at 15: 3.6 kPa short of saturation without a reading of
    # humidity is not enough; with 15 % of mean humidity it is (FAO-56, Eq. 11 and 19).
    dry = NearDays(TODAY)
    dry.ahead[TOMORROW] = NearDay(tmin_c=15.0, tmax_c=34.0, humidity_percent=15.0)
    assert heat_words(dry, METRIC)[0] == "Up to 34 °C tomorrow."
    assert heat_words(near(20.0, 34.0), METRIC) == ()
