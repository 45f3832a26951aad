"""What is known of the soil under one plant."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from care.facts import SoilTest, WorkDone
from care.science.soil_record import (
    Acidity,
    acidity,
    bed_area_m2,
    is_untested_since,
    last_test_on,
    planted_area_m2,
    sulfur_given,
    sulfur_this_year_g,
)
from tests.care.rules.cases import MILD, morning, species, tree

TODAY = date(2014, 6, 1)
TESTED = date(2013, 10, 1)
SITE = replace(MILD, soil_test=SoilTest(TESTED, ph=6.2))


def soil_work(key, on, grams=None, what="done"):
    return WorkDone(1, "soil", key, on, what, grams)


def test_the_trees_own_bed_goes_before_the_site():
    assert acidity(morning(TODAY, tree(), SITE)) == Acidity(6.2, TESTED)
    own = tree(soil_ph=4.9)
    assert acidity(morning(TODAY, own, SITE)) == Acidity(4.9, None)
    ticked = (soil_work("next/test", date(2014, 5, 1)),)
    found = acidity(morning(TODAY, own, SITE, work=ticked))
    assert found == Acidity(4.9, date(2014, 5, 1))


@pytest.mark.parametrize(
    "test",
    [
        None,
        SoilTest(TESTED),
        SoilTest(date(2011, 5, 1), ph=6.2),
        SoilTest(date(2014, 6, 2), ph=6.2),
    ],
    ids=["none", "no pH", "over three years old", "not taken yet"],
)
def test_no_acidity_without_a_test_in_force(test):
    assert acidity(morning(TODAY, tree(), replace(MILD, soil_test=test))) is None


def test_the_last_test_is_the_later_of_record_and_tick():
    assert last_test_on(morning(TODAY, tree(), MILD)) is None
    assert last_test_on(morning(TODAY, tree(), SITE)) == TESTED
    for on in (date(2014, 5, 1), date(2013, 1, 1)):
        work = (
            soil_work("next/test", on),
            soil_work("next/test", TODAY, None, "skipped"),
        )
        assert last_test_on(morning(TODAY, tree(), SITE, work=work)) == max(on, TESTED)
    future = replace(MILD, soil_test=SoilTest(TODAY + timedelta(days=9), ph=6.2))
    assert last_test_on(morning(TODAY, tree(), future)) is None


def test_sulfur_counts_for_a_year_and_unknown_grams_as_the_limit():
    work = (
        soil_work("2013/acidify_1", date(2013, 5, 30), 50.0),
        soil_work("2014/acidify_1", date(2014, 3, 1), 20.0),
        soil_work("2014/acidify_2", date(2014, 4, 1)),
        soil_work("2014/acidify_3", date(2014, 5, 1), 9.0, "skipped"),
        soil_work("2014/told", date(2014, 5, 1)),
    )
    situation = morning(TODAY, tree(), SITE, work=work)
    assert len(sulfur_given(situation)) == 3
    assert sulfur_this_year_g(situation, limit_g=34.0) == 54.0


def test_sulfur_after_a_test_makes_the_acidity_unknown():
    given = (soil_work("2014/acidify_1", date(2014, 3, 1), 20.0),)
    situation = morning(TODAY, tree(), SITE, work=given)
    assert is_untested_since(situation, Acidity(6.2, TESTED))
    assert is_untested_since(situation, Acidity(6.2, None))
    assert not is_untested_since(situation, Acidity(6.2, date(2014, 5, 1)))
    assert not is_untested_since(morning(TODAY, tree(), SITE), Acidity(6.2, None))


def test_ground_before_and_after_planting():
    circle_m2 = 3.14159265 / 4
    assert bed_area_m2(tree(spacing_m=2.0)) == pytest.approx(4 * circle_m2)
    assert bed_area_m2(tree()) == pytest.approx(25 * circle_m2)
    unknown = tree(species(mature_spread_m=None))
    assert bed_area_m2(unknown) == pytest.approx(1.44 * circle_m2)
    # as wide as its mulch ring: 8 ft at least once grown
    grown = planted_area_m2(tree(crown_width_m=1.0), TODAY)
    assert grown == pytest.approx(2.4**2 * circle_m2)
