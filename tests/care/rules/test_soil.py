"""Soil: a test first, sulfur by two published limits, none in pots, the rest told."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import SoilTest, WorkDone
from care.rules.soil import propose
from care.science.ladder_sources import POUND_G, SQUARE_FOOT_M2
from care.science.soil_acidity import PLANTED_LIMIT_G_PER_M2
from tests.care.rules.cases import MILD, WARM_SOUTH, morning, species, tree

SPRING = date(2014, 3, 10)
BLUEBERRY = species(
    "blueberry_highbush",
    feed_group="berry_acid",
    ph_min=4.0,
    ph_max=5.0,
    mature_spread_m=1.5,
)
LAST_AUTUMN = date(2013, 10, 1)
PER_100_FT2 = POUND_G / (100 * SQUARE_FOOT_M2)


def bush(**changes):
    return tree(BLUEBERRY, **{"crown_width_m": 1.2, **changes})


def planned(planted_on, **changes):
    entered = date(2014, 1, 5)
    return bush(planted_on=planted_on, entered_on=entered, **changes)


def site_of(ph, on=LAST_AUTUMN, **changes):
    return replace(MILD, soil_test=SoilTest(on, ph=ph), **changes)


def soil_work(key, on, grams=None, what="done"):
    return WorkDone(1, "soil", key, on, what, grams)


def by_action(situation):
    return {proposal.action: proposal for proposal in propose(situation)}


def test_sour_soil_is_tested_before_anything_is_given():
    (test,) = propose(morning(SPRING, bush(entered_on=date(2014, 3, 1))))
    assert (test.kind, test.key, test.action) == ("soil", "next/test", "test_soil")
    assert test.reason.code == "soil_test_first"
    assert (test.amount, test.due) == (None, date(2014, 3, 29))


def test_a_planned_bush_is_tested_in_time_for_its_sulfur():
    (test,) = propose(morning(date(2014, 1, 6), planned(date(2014, 10, 15))))
    assert test.due == date(2014, 2, 2)
    soon = propose(morning(date(2014, 1, 6), planned(date(2014, 4, 1))))
    assert soon[0].due == date(2014, 1, 5)


@pytest.mark.parametrize(
    "its_tree",
    [
        tree(),
        bush(in_container=True, container_litres=40.0),
        tree(species(ph_max=6.5, ph_min=5.5)),
    ],
    ids=["apple without a range", "blueberry in a pot", "apple"],
)
def test_pots_and_plants_of_ordinary_soil_are_left_alone(its_tree):
    assert propose(morning(SPRING, its_tree, site_of(7.0))) == ()


def test_soil_is_tested_again_after_three_years():
    # Common practice, no source
    (again,) = propose(morning(SPRING, bush(), site_of(4.6)))
    assert again.reason.code == "soil_test_again"
    assert again.due == LAST_AUTUMN + timedelta(days=1095)
    stale = propose(morning(SPRING, bush(), site_of(6.5, on=date(2010, 1, 1))))
    assert [p.reason.code for p in stale] == ["soil_test_again"]


def test_a_ticked_test_without_a_result_asks_what_it_said():
    work = (soil_work("next/test", SPRING),)
    (ask,) = propose(morning(SPRING + timedelta(days=5), bush(), work=work))
    assert (ask.reason.code, ask.due) == ("soil_ask_result", date(2014, 4, 7))
    long_ago = (soil_work("next/test", date(2010, 3, 1)),)
    (again,) = propose(morning(SPRING, bush(), work=long_ago))
    assert again.reason.code == "soil_test_again"


def test_a_retest_that_was_ticked_asks_what_it_said():
    work = (
        soil_work("2014/acidify_1", date(2014, 3, 20), 30.0),
        soil_work("next/test", date(2014, 6, 20)),
    )
    (ask,) = propose(morning(date(2014, 7, 1), bush(), site_of(6.0), work=work))
    assert (ask.reason.code, ask.due) == ("soil_ask_result", date(2014, 7, 18))
    entered = site_of(5.6, on=date(2014, 6, 25))
    found = by_action(morning(date(2014, 7, 20), bush(), entered, work=work))
    assert found["test_soil"].reason.code == "soil_test_again"
    assert "acidify" in found


def test_a_skipped_test_waits_half_a_year():
    work = (soil_work("next/test", SPRING, what="skipped"),)
    (test,) = propose(morning(SPRING, bush(), work=work))
    assert test.due == SPRING + timedelta(days=182)


def test_a_planted_bush_gets_the_yearly_limit_on_the_surface():
    # Extension Foundation: at most 0.7 lb for 100 square feet a year
    found = by_action(morning(SPRING, bush(), site_of(6.0)))
    sulfur = found["acidify"]
    assert (sulfur.key, sulfur.unit) == ("2014/acidify_1", "g")
    assert sulfur.reason.code == "soil_sour_planted"
    assert sulfur.reason.fact("sulfur_g_per_m2") == pytest.approx(34.2, abs=0.1)
    area_m2 = sulfur.reason.fact("area_m2")
    assert sulfur.amount == pytest.approx(0.7 * PER_100_FT2 * area_m2, abs=1)
    assert {"sulfur_on_surface", "sulfur_dust"} <= set(sulfur.cautions)
    assert sulfur.earliest == date(2014, 3, 1)


def test_soil_that_needs_little_gets_little():
    sandy = site_of(5.2, soil_texture="sand")
    sulfur = by_action(morning(SPRING, bush(), sandy))["acidify"]
    # Extension Foundation: 1 lb for 100 square feet and a unit of pH on sand
    assert sulfur.reason.fact("sulfur_g_per_m2") == pytest.approx(19.5, abs=0.1)


def test_less_than_a_spoon_of_sulfur_is_not_worth_the_walk():
    small = bush(spacing_m=0.6)
    assert 5 <= by_action(morning(SPRING, small, site_of(6.0)))["acidify"].amount < 15
    little = site_of(4.82, soil_texture="sand")
    assert "acidify" not in by_action(morning(SPRING, small, little))


@pytest.mark.parametrize("apart_m", [0.9, 1.2, 1.5])
def test_a_row_of_bushes_never_gets_more_than_the_yearly_limit_on_its_ground(apart_m):
    # Extension Foundation: at most 0.7 lb for 100 square feet a year, of the ground
    # that a bush has to itself
    task = by_action(morning(SPRING, bush(spacing_m=apart_m), site_of(6.0)))["acidify"]
    assert task.amount <= 0.7 * PER_100_FT2 * apart_m**2


def test_soil_that_is_sour_enough_gets_none():
    assert "acidify" not in by_action(morning(SPRING, bush(), site_of(5.0)))


def test_a_bed_of_its_own_goes_before_the_sites_test():
    own = bush(soil_ph=4.7)
    assert "acidify" not in by_action(morning(SPRING, own, site_of(6.0)))
    sweet = bush(soil_ph=6.0)
    assert "acidify" in by_action(morning(SPRING, sweet, site_of(4.7)))
    (sulfur,) = propose(morning(SPRING, sweet))  # undated: no test is asked for
    assert sulfur.action == "acidify"


def test_after_sulfur_the_soil_is_tested_before_more():
    # University of Tennessee: about three months later
    given_on = date(2014, 3, 20)
    work = (soil_work("2014/acidify_1", given_on, 30.0),)
    (test,) = propose(morning(date(2014, 4, 1), bush(), site_of(6.0), work=work))
    assert (test.reason.code, test.due) == ("soil_retest", date(2014, 6, 19))
    newer = site_of(5.6, on=date(2014, 7, 1))
    later = by_action(morning(date(2014, 7, 10), bush(), newer, work=work))
    assert later["acidify"].key == "2015/acidify_1"
    own = bush(soil_ph=6.0)
    again = (*work, soil_work("next/test", date(2014, 7, 1)))
    assert "acidify" not in by_action(morning(date(2014, 4, 1), own, work=work))
    assert "acidify" in by_action(morning(date(2014, 7, 10), own, work=again))


def test_a_second_giving_in_one_season_has_its_own_name_and_the_limit_holds():
    bed = bush(crown_width_m=1.2)
    work = (soil_work("2014/acidify_1", date(2014, 3, 2), 100.0),)
    newer = site_of(6.0, on=date(2014, 3, 5))
    found = by_action(morning(date(2014, 4, 1), bed, newer, work=work))["acidify"]
    assert found.key == "2014/acidify_2"
    had = found.reason.fact("given_this_year_g_per_m2")
    assert had + found.reason.fact("sulfur_g_per_m2") == pytest.approx(34.2, abs=0.2)
    unknown = (soil_work("2014/acidify_1", date(2014, 3, 2)),)
    none = by_action(morning(date(2014, 4, 1), bed, newer, work=unknown))
    assert "acidify" not in none


def test_a_bed_to_be_planted_is_mixed_with_sulfur_half_a_year_ahead():
    found = by_action(morning(SPRING, planned(date(2014, 11, 1)), site_of(5.6)))
    sulfur = found["acidify"]
    assert sulfur.reason.code == "soil_sour_bed"
    assert sulfur.due == date(2014, 5, 2)
    assert sulfur.latest == date(2014, 8, 2)
    # 2 lb for 100 square feet and a unit of pH on loam, 5.6 to 4.8
    per_m2 = sulfur.reason.fact("sulfur_g_per_m2")
    assert per_m2 == pytest.approx(0.8 * 2 * PER_100_FT2, abs=0.1)
    assert per_m2 > PLANTED_LIMIT_G_PER_M2
    assert sulfur.amount == pytest.approx(per_m2 * sulfur.reason.fact("area_m2"), abs=2)
    assert "sulfur_mix_in" in sulfur.cautions


def test_a_large_amount_goes_in_by_two_thirds():
    # University of Tennessee: above 30 lb for 1000 square feet
    found = by_action(morning(SPRING, planned(date(2014, 11, 1)), site_of(7.0)))
    fact = found["acidify"].reason.fact
    assert fact("is_split") is True
    assert fact("sulfur_g_per_m2") == pytest.approx(
        fact("whole_g_per_m2") * 2 / 3, abs=0.1
    )
    assert fact("is_difficult") is True


def test_a_bed_planted_within_three_months_is_told_to_wait():
    today = date(2014, 2, 1)
    found = by_action(morning(today, planned(date(2014, 4, 20)), site_of(6.0)))
    assert found["check"].reason.code == "soil_too_late"
    assert found["check"].amount is None


def test_limy_soil_is_told_of_once_in_three_years():
    # From memory: such soil cannot practically be soured
    limy = site_of(7.8)
    told = by_action(morning(SPRING, bush(), limy))["check"]
    assert (told.reason.code, told.key) == ("soil_calcareous", "2014/told")
    assert told.reason.fact("unverified") is True
    read = (soil_work("2014/told", SPRING),)
    assert "check" not in by_action(morning(date(2015, 4, 1), bush(), limy, work=read))
    newer = site_of(7.8, on=date(2017, 3, 1))
    later = morning(date(2017, 4, 1), bush(), newer, work=read)
    assert by_action(later)["check"].key == "2017/told"


def test_a_clump_shares_its_ground():
    one = by_action(morning(SPRING, bush(), site_of(6.0)))["acidify"]
    shared = by_action(morning(SPRING, bush(), site_of(6.0), clump_mates=(2,)))
    assert shared["acidify"].amount == pytest.approx(one.amount / 2, abs=1)
    assert "test_soil" in shared
    second = replace(bush(), id=2)
    found = by_action(morning(SPRING, second, site_of(6.0), clump_mates=(1,)))
    assert list(found) == ["acidify"]


def test_a_planted_bush_waits_for_the_next_spring():
    sulfur = by_action(morning(date(2014, 8, 1), bush(), site_of(6.0)))["acidify"]
    assert (sulfur.key, sulfur.earliest) == ("2015/acidify_1", date(2015, 3, 1))


def test_the_south_is_soured_in_its_own_spring():
    southern = replace(WARM_SOUTH, soil_test=SoilTest(date(2014, 7, 1), ph=6.0))
    sulfur = by_action(morning(date(2014, 9, 5), bush(), southern))["acidify"]
    assert sulfur.earliest == date(2014, 9, 1)


def test_a_species_without_a_range_gets_no_sulfur():
    unknown = tree(replace(BLUEBERRY, ph_min=None, ph_max=None), crown_width_m=1.2)
    assert list(by_action(morning(SPRING, unknown, site_of(6.5)))) == ["test_soil"]


@given(
    ph=st.floats(3.5, 7.4),
    grams=st.floats(0, 200),
    days_ago=st.integers(0, 364),
    texture=st.sampled_from(["sand", "loam", "clay"]),
    width_m=st.floats(0.3, 4),
)
@settings(max_examples=80)
def test_a_planted_bush_never_gets_more_than_a_years_limit(
    ph, grams, days_ago, texture, width_m
):
    day = date(2014, 4, 10)
    work = (soil_work("2013/acidify_1", day - timedelta(days=days_ago), grams),)
    site = site_of(ph, on=day, soil_texture=texture)
    found = by_action(morning(day, bush(crown_width_m=width_m), site, work=work))
    if "acidify" in found:
        sulfur = found["acidify"]
        area_m2 = sulfur.reason.fact("area_m2")
        assert sulfur.amount + grams <= PLANTED_LIMIT_G_PER_M2 * area_m2 + 1
        assert sulfur.earliest <= sulfur.due <= sulfur.latest
