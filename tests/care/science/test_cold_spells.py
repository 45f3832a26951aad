"""Cold that has been: last cold mornings, thaws, frozen wood and the growth after it."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import Place, Stage, StageDay, Stay, WorkDone
from care.science.cold_spells import (
    frozen_night,
    growth_after,
    last_cold_morning,
    thaw_day,
)
from tests.care.rules.cases import (
    MILD,
    WARM_SOUTH,
    minima,
    morning,
    orange,
    species,
    tree,
)

TODAY = date(2015, 2, 10)
SINCE = TODAY - timedelta(days=4)


def week(lows, origin):
    return minima(SINCE, lows, origin)


def test_the_last_cold_morning_looks_back_and_to_tomorrow():
    series = week([-2.0, 3.0, -1.0, 4.0, 4.0, -1.5, -9.0], "oooofff")
    situation = morning(TODAY, tree(orange()), weather=series)
    assert last_cold_morning(situation, SINCE, -1.2) == TODAY + timedelta(days=1)
    mild = replace(situation, weather=week([-2.0, 3.0, -1.0, 4.0, 4.0, 4.0], "oooonf"))
    assert last_cold_morning(mild, SINCE, -1.0) == SINCE + timedelta(days=2)
    assert last_cold_morning(mild, SINCE + timedelta(days=3), -1.0) is None
    assert last_cold_morning(mild, SINCE, None) is None
    assert last_cold_morning(morning(TODAY), SINCE, 0.0) is None


def highs(values, origin="f"):
    series = minima(TODAY, np.array(values) - 5, origin)
    return replace(series, tmax_c=np.array(values, dtype=float))


@pytest.mark.parametrize(
    ("series", "days"),
    [
        (None, 0),
        (highs([3.0]), 0),
        (highs([-1.0, 0.0, 2.0]), 2),
        (highs([-1.0, np.nan]), 1),
        (highs([-3.0] * 2), 2),  # past the forecast nobody knows
        (highs([-3.0] * 9, "n"), 0),
        (highs([-3.0] * 9), 7),
    ],
)
def test_the_thaw_is_the_first_day_not_known_to_stay_frozen(series, days):
    assert thaw_day(series, TODAY) == TODAY + timedelta(days=days)


def test_wood_freezes_at_its_own_limit_and_not_within_a_margin():
    # The orange's figure for a grown tree: -3.3
    for lowest, is_hurt in ((-3.2, False), (-3.4, True)):
        series = week([0.0, lowest, 1.0, 2.0], "o")
        found = frozen_night(morning(TODAY, tree(orange()), weather=series))
        assert (found is not None) is is_hurt
    assert (found.day, found.minimum_c) == (SINCE + timedelta(days=1), -3.4)
    assert found.threshold_c == -3.3


def test_a_cover_saves_five_degrees_fahrenheit():
    covered = (WorkDone(1, "cold", "next", SINCE),)
    for lowest, is_hurt in ((-5.0, False), (-7.0, True)):
        series = week([0.0, lowest, 1.0, 2.0], "o")
        situation = morning(TODAY, tree(orange()), weather=series, work=covered)
        assert (frozen_night(situation) is not None) is is_hurt


def test_a_pot_indoors_and_a_night_before_planting_hurt_nothing():
    series = week([0.0, -9.0, 1.0, 2.0], "o")
    stays = (Stay(Place.INDOORS_HEATED, SINCE),)
    inside = tree(orange(), in_container=True, stays=stays)
    assert frozen_night(morning(TODAY, inside, weather=series)) is None
    outside = tree(orange(), in_container=True)
    assert frozen_night(morning(TODAY, outside, weather=series)) is not None
    # A pot comes in at 2 degC, long before anything freezes
    chilly = week([0.0, -1.0, 1.0, 2.0], "o")
    assert frozen_night(morning(TODAY, outside, weather=chilly)) is None
    fresh = tree(orange(), planted_on=TODAY - timedelta(days=2))
    assert frozen_night(morning(TODAY, fresh, weather=series)) is None
    unknown_age = tree(orange(), planted_on=None)
    assert frozen_night(morning(TODAY, unknown_age, weather=series)) is not None
    nothing_known = tree(species(damage_temp_mature_c=None))
    assert frozen_night(morning(TODAY, nothing_known, weather=series)) is None


@pytest.mark.parametrize(
    ("frozen_on", "site", "growth_on"),
    [
        # Citrus grows from February on, but not before the last frost of 20 March
        (date(2014, 12, 5), MILD, date(2015, 3, 20)),
        (date(2015, 4, 2), MILD, date(2015, 4, 2)),
        (date(2015, 10, 20), MILD, date(2016, 3, 20)),
        (date(2015, 6, 5), WARM_SOUTH, date(2015, 8, 1)),
    ],
)
def test_growth_after_a_freeze(frozen_on, site, growth_on):
    situation = morning(frozen_on, tree(orange()), site)
    assert growth_after(situation, frozen_on) == growth_on


def test_growth_is_the_year_as_it_is():
    seen = (StageDay(Stage.BUD_BREAK, 2015, date(2015, 3, 2), "seen"),)
    situation = morning(TODAY, tree(orange()), stages=seen)
    assert growth_after(situation, date(2015, 1, 5)) == date(2015, 3, 2)
