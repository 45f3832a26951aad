"""Where sources differ, both sides are shown, and which one the plan follows."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from care.facts import MonthDay, Observation
from care.planning.species_facts import species_facts
from care.rules import feeding, pruning, sanitation
from care.science import crop, frost, mulch, nutrients, potting, soil_acidity
from care.science.container_water import pot_diameter_m
from care.science.feeding_windows import feeding_stop
from care.views.differing_sources import DIFFERENCES
from orchard.catalogue.species import species_catalogue
from tests.care.rules.cases import MILD, SHORT, WARM, morning, orange, species, tree

SPRING = date(2014, 4, 20)


def followed(words: str) -> str:
    """Return what the plan does about the one question that holds these words."""
    (found,) = (each.followed for each in DIFFERENCES if words in each.question)
    return found


def test_each_question_shows_its_answers_and_what_the_plan_does(cast, client_of):
    page = client_of(cast.viewer).get("/where-sources-differ/").content.decode()
    assert page.count("<strong>The plan:</strong>") == len(DIFFERENCES)
    assert "Minnesota (UMN Extension)" in page
    assert "In Florida&#x27;s climate Florida&#x27;s days come out" in page


def test_a_question_is_asked_once():
    questions = [each.question for each in DIFFERENCES]
    assert len(set(questions)) == len(questions)


def test_roots_reach_the_smaller_published_depth():
    assert "smaller" in followed("roots reach")
    for key, row in species_catalogue().items():
        assert species_facts(key).root_depth_m == row.root_depth_m
        assert row.root_depth_m <= row.root_depth_max_m


def first_feeding(kind, *, shoots_mm=None):
    planted = date(2014, 3, 20)
    young = tree(kind, planted_on=planted, entered_on=planted)
    seen = () if shoots_mm is None else (("shoot_growth_mm", shoots_mm),)
    readings = tuple(Observation(1, what, SPRING, mm) for what, mm in seen)
    (first, *_) = feeding.propose(morning(SPRING, young, observations=readings))
    return first


def test_evergreens_are_fed_in_their_planting_year_and_others_once_they_have_grown():
    assert "Evergreens" in followed("year of planting")
    fed = first_feeding(orange())
    assert fed.action == "feed"
    assert fed.earliest >= date(2014, 3, 20) + timedelta(weeks=3)
    assert first_feeding(species()).action == "check"
    assert first_feeding(species(), shoots_mm=152.4).action == "feed"
    assert first_feeding(species(), shoots_mm=140.0).action == "check"


def test_the_last_day_to_feed_is_the_one_told():
    assert "15 July where the season is short" in followed("late in the year")
    assert feeding_stop(2014, species(), MILD) == date(2014, 9, 15)  # eight weeks
    assert feeding_stop(2014, species(), SHORT) == date(2014, 7, 15)
    assert feeding_stop(2014, orange(), SHORT) == date(2014, 8, 10)
    unknown = replace(MILD, first_frost=None)
    assert feeding_stop(2014, species(), unknown) == date(2014, 7, 15)
    assert feeding_stop(2014, species(), WARM) == date(2014, 10, 31)
    early = replace(MILD, first_frost=MonthDay(9, 1))
    assert feeding_stop(2014, species("fig"), early) < date(2014, 7, 31)


def test_citrus_gets_a_fifth_less_on_heavier_soil():
    assert "four fifths" in followed("full-grown citrus")
    sandy = replace(MILD, soil_texture="sandy_loam")
    assert nutrients.soil_share(orange(), sandy) == 1.0
    assert nutrients.soil_share(orange(), MILD) == pytest.approx(0.8)


def test_mulch_is_as_deep_and_as_far_off_as_told():
    inch_mm = 25.4
    assert "Three inches" in followed("mulch citrus")
    assert pytest.approx(3 * inch_mm, abs=2) == mulch.CITRUS_LIMIT_MM
    assert "Six inches" in followed("from a trunk")
    assert pytest.approx(6 * inch_mm, abs=5) == mulch.TRUNK_GAP_MM
    assert "twelve for citrus" in followed("from a trunk")
    assert pytest.approx(12 * inch_mm, abs=5) == mulch.CITRUS_GAP_MM


def test_tools_are_cleaned_between_trees_and_in_blight_after_each_cut():
    assert "Between trees" in followed("clean tools")
    winter = morning(date(2014, 1, 10))
    assert "clean_tools" in pruning.propose(winter)[0].cautions
    (cleared,) = sanitation.propose(winter)
    young = tree(planted_on=date(2012, 3, 1))
    (blight,) = sanitation.propose(morning(date(2014, 5, 20), young))
    assert "clean_tools" in cleared.cautions
    assert "clean_each_cut" in blight.cautions


def test_the_next_pot_is_two_or_three_inches_wider():
    assert "Two inches for citrus and avocado" in followed("next pot")
    wide_m = pot_diameter_m(40.0)
    for kind, inches in ((orange(), 2), (species("avocado"), 2), (species(), 3)):
        step_m = pot_diameter_m(potting.next_pot(40.0, kind).advised_l) - wide_m
        assert step_m == pytest.approx(inches * 0.0254)
    assert potting.next_pot(1.0, species()).advised_l == pytest.approx(3.0)


def test_pots_are_repotted_every_three_years_and_small_ones_every_two():
    assert "Every three years" in followed("repotted")
    assert potting.YEARS_BETWEEN[1] == 3.0
    assert "every two" in followed("repotted")
    assert potting.GROWING_YEARS == 2.0


@pytest.mark.parametrize("texture", soil_acidity.FAMILIES)
def test_the_smaller_rate_of_sulfur_is_given(texture):
    assert "smaller" in followed("sulfur")
    rate = soil_acidity.preplant_sulfur(6.0, 4.8, texture)
    both = (rate.tennessee_g_per_m2, rate.extension_g_per_m2)
    assert rate.low_g_per_m2 == min(both) > 0


def test_peaches_are_left_six_inches_apart():
    assert followed("peaches").startswith("Six inches")
    assert crop.SPACING_MM["peach"][0] == pytest.approx(6 * 25.4, abs=5)


def test_a_freeze_of_28_degrees_counts_at_a_tenth_above_it():
    assert "-2.2 °C counts" in followed("28 °F")
    exactly_c = (28 - 32) / 1.8
    assert exactly_c + frost.ROUNDING_C >= -2.2
