"""Pots brought in tonight: how heavy, where to, and when they likely go out again."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import Place, Situation, Stay
from care.rules.cold import propose
from care.science.cold_nights import Night
from care.science.cold_spells import thaw_after_sunrise_h
from tests.care.rules.cases import MILD, minima, morning, orange, species, tree

SPRING = date(2014, 5, 3)
WINTER = date(2014, 12, 12)


def pot(*stays: Stay, kind=None, **changes):
    facts = {"in_container": True, "container_litres": 50.0, "stays": stays}
    return tree(kind or orange(), **{**facts, **changes})


def bring_in(today, its_tree, lows):
    weather = minima(today, [8.0, *lows], "f" * (len(lows) + 1))
    (task,) = propose(morning(today, its_tree, weather=weather))
    assert task.action == "move_in"
    return task


def test_it_says_how_heavy_a_wet_pot_is_and_who_carries_it():
    task = bring_in(SPRING, pot(), [1.0, 9.0])
    # 50 L of wet mix at 0.9 kg a litre, a sixth more for pot and plant.
    assert task.reason.fact("wet_kg") == 52
    assert task.reason.fact("carried_by") == "dolly"
    assert "two_people_lift" in task.cautions
    assert {"niosh_lifting", "hse_l23"} <= set(task.sources)


def test_a_pot_of_unknown_size_has_no_weight_and_takes_two():
    task = bring_in(SPRING, pot(container_litres=None), [1.0])
    assert task.reason.fact("wet_kg") is None
    assert task.reason.fact("carried_by") == "two"


def test_a_pots_width_tells_its_weight_too():
    task = bring_in(SPRING, pot(container_litres=None, container_diameter_m=0.2), [1.0])
    assert task.reason.fact("carried_by") == "one"
    assert "niosh_lifting" not in task.sources


def test_it_goes_back_to_where_it_stood_last():
    stays = (
        Stay(Place.OUTDOORS, date(2014, 4, 1)),
        Stay(Place.INDOORS_HEATED, date(2013, 11, 1)),
    )
    assert bring_in(SPRING, pot(*stays), [1.0]).reason.fact("last_indoors") == (
        "indoors_heated"
    )
    assert bring_in(SPRING, pot(), [1.0]).reason.fact("last_indoors") == ""


def test_outside_the_frost_season_it_goes_out_once_the_nights_ahead_are_warm():
    # Cold tomorrow and on the fourth; three forecast nights in a row are warm from the
    # morning of the eighth on, as the rule that takes it out will ask.
    lows = [1.0, 9.0, 9.0, 2.0, 9.0, 9.0, 9.0]
    task = bring_in(SPRING, pot(), lows)
    assert task.reason.fact("likely_out_on") == date(2014, 5, 8)
    assert task.reason.fact("frosts_until") is None


def test_what_the_plan_says_today_it_asks_for_on_that_day():
    lows = [1.0, 9.0, 9.0, 2.0, 9.0, 9.0, 9.0]
    weather = minima(SPRING, [8.0, *lows], "f" * 8)
    day = bring_in(SPRING, pot(), lows).reason.fact("likely_out_on")
    indoors = pot(Stay(Place.INDOORS_UNHEATED, SPRING))
    asked = [
        SPRING + timedelta(days=ahead)
        for ahead in range(1, 8)
        if propose(morning(SPRING + timedelta(days=ahead), indoors, weather=weather))
    ]
    assert asked[0] == day


def test_a_short_forecast_promises_nothing():
    assert bring_in(SPRING, pot(), [1.0, 9.0]).reason.fact("likely_out_on") is None


def test_in_the_frost_season_it_stays_in_until_the_frosts_end():
    task = bring_in(WINTER, pot(), [1.0, *[12.0] * 9])
    assert task.reason.fact("likely_out_on") is None
    assert task.reason.fact("frosts_until") == date(2015, 3, 20)


def test_a_leaf_shedder_from_a_heated_room_goes_out_in_winter_too():
    kind = species(move_in_temp_c=0.0)
    stays = (
        Stay(Place.INDOORS_HEATED, date(2014, 12, 1)),
        Stay(Place.OUTDOORS, date(2014, 12, 5)),
    )
    task = bring_in(WINTER, pot(*stays, kind=kind), [-1.0, *[12.0] * 9])
    assert task.reason.fact("likely_out_on") == WINTER + timedelta(days=2)
    assert task.reason.fact("frosts_until") is None


def at(minimum_c, maximum_c, *, origin="ff", latitude_deg=47.6, day=WINTER):
    weather = minima(day, [5.0, minimum_c], origin, tmax_c=maximum_c)
    site = replace(MILD, latitude_deg=latitude_deg)
    situation = Situation(today=day, tree=tree(), site=site, weather=weather)
    night = Night(day + timedelta(days=1), minimum_c, "forecast")
    return thaw_after_sunrise_h(situation, night)


def test_it_thaws_where_the_sine_of_the_day_meets_zero():
    # Linvill (1990): half-way from low to high is a sixth of pi, so a sixth of the
    # day's length and four hours: here (8.4 + 4) / 6 = 2.1 h after sunrise.
    assert at(-4.0, 4.0) == pytest.approx(2.1, abs=0.05)
    assert at(-4.0, 8.0) < at(-4.0, 4.0) < at(-6.0, 4.0)


def test_a_night_above_freezing_needs_no_thaw():
    assert at(1.0, 9.0) == 0.0


@pytest.mark.parametrize(
    "case",
    [
        {"maximum_c": 0.0},
        {"maximum_c": np.nan},
        {"maximum_c": 4.0, "origin": "fn"},
        {"maximum_c": 4.0, "latitude_deg": 75.0},  # no sunrise in December
    ],
)
def test_nobody_says_when_it_thaws_where_nobody_knows(case):
    assert at(-4.0, **case) is None


def test_without_weather_or_beyond_it_no_thaw_is_told():
    night = Night(date(2015, 1, 1), -3.0, "typed")
    facts = {"today": WINTER, "tree": tree(), "site": MILD}
    assert thaw_after_sunrise_h(Situation(**facts, weather=None), night) is None
    weather = minima(WINTER, [5.0], "f")
    assert thaw_after_sunrise_h(Situation(**facts, weather=weather), night) is None


def test_a_cover_says_when_it_comes_off():
    weather = minima(WINTER, [5.0, -6.0], "ff", tmax_c=6.0)
    (task,) = propose(morning(WINTER, tree(orange(), height_m=2.0), weather=weather))
    assert task.action == "cover"
    assert task.reason.fact("thaw_after_sunrise_h") == pytest.approx(2.1, abs=0.05)
