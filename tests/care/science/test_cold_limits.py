"""What a tree bears: pot, age, buds by what was seen, modelled or guessed, hardening."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Observation, Span, Stage, StageDay
from care.science.cold_limits import (
    TENDER_POT_C,
    bud_limit,
    standing_limit,
    warmest_limit,
    wood_limit,
)
from care.science.frost import fahrenheit_to_c
from tests.care.rules.cases import (
    MILD,
    WARM,
    WARM_SOUTH,
    minima,
    morning,
    orange,
    species,
    tree,
)

BLOOM = date(2014, 4, 20)


def stages(*days, season=2014, basis="heat"):
    names = (Stage.BUD_BREAK, Stage.FULL_BLOOM, Stage.PETAL_FALL)
    return tuple(
        StageDay(stage, season, day, basis)
        for stage, day in zip(names, days, strict=True)
        if day is not None
    )


YEAR = stages(date(2014, 3, 20), BLOOM, date(2014, 4, 29))


def limit_on(day, its_tree=None, found=YEAR, site=MILD, **more):
    return bud_limit(morning(day, its_tree, site, stages=found, **more))


@pytest.mark.parametrize(
    ("day", "stage"),
    [
        # Nine stages of apple from bud break to full bloom, evenly: ours
        (date(2014, 3, 19), None),
        (date(2014, 3, 20), "silver_tip"),
        (date(2014, 3, 21), "green_tip"),
        (date(2014, 4, 4), "first_pink"),
        (date(2014, 4, 19), "full_bloom"),
        (BLOOM, "full_bloom"),
        (date(2014, 4, 28), "full_bloom"),
        (date(2014, 4, 29), "post_bloom"),
        (date(2014, 5, 20), "post_bloom"),
        (date(2014, 5, 21), None),
    ],
)
def test_the_modelled_year_gives_the_stage_of_a_day(day, stage):
    found = limit_on(day)
    assert (found.stage if found else None) == stage


@settings(max_examples=40)
@given(st.integers(0, 31))
def test_buds_bear_less_the_nearer_they_are_to_bloom(days):
    day = date(2014, 3, 20) + timedelta(days=days)
    assert limit_on(day + timedelta(days=1)).threshold_c >= limit_on(day).threshold_c


@pytest.mark.parametrize(
    ("days_ago", "stage"), [(21, "silver_tip"), (22, "full_bloom")]
)
def test_what_was_seen_three_weeks_ago_says_nothing_of_today(days_ago, stage):
    seen = Observation(
        1, "bloom_stage", BLOOM - timedelta(days=days_ago), word="silver_tip"
    )
    assert limit_on(BLOOM, observations=(seen,)).stage == stage


def test_what_a_person_saw_goes_before_the_model():
    seen = (Observation(1, "bloom_stage", date(2014, 4, 15), word="silver_tip"),)
    assert limit_on(BLOOM, observations=seen).stage == "silver_tip"


def test_missing_days_of_the_model_are_guessed_from_full_bloom():
    only = stages(None, BLOOM, None)
    assert limit_on(BLOOM - timedelta(days=28), found=only).stage == "silver_tip"
    assert limit_on(BLOOM - timedelta(days=29), found=only) is None
    assert limit_on(BLOOM + timedelta(days=7), found=only).stage == "post_bloom"


def test_apricots_name_their_fruitlets_otherwise():
    found = limit_on(date(2014, 5, 2), tree(species("apricot")))
    # Michigan State: green fruit of apricot, 28 degF
    assert (found.stage, found.threshold_c) == ("post_bloom", fahrenheit_to_c(28))


def test_a_kind_without_a_table_is_watched_from_its_first_flowers():
    its_tree = tree(orange())
    assert limit_on(BLOOM - timedelta(days=11), its_tree) is None
    found = limit_on(BLOOM - timedelta(days=10), its_tree)
    assert (found.field, found.stage, found.worst_c) == (
        "bloom_damage_temp_c",
        "full_bloom",
        None,
    )
    without = tree(orange(bloom_damage_temp_c=None))
    assert limit_on(BLOOM, without) is None


def test_months_stand_in_only_where_nothing_was_modelled():
    april = date(2014, 4, 5)
    assert limit_on(april, found=()).stage == "by_month"
    by_month = stages(date(2014, 3, 20), BLOOM, None, basis="months")
    assert limit_on(april, found=by_month).stage == "by_month"
    late = stages(date(2014, 5, 1), date(2014, 6, 1), None)
    assert limit_on(april, found=late) is None


def test_winter_bloom_bears_last_years_name():
    loquat = tree(orange(bloom=Span(10, 2)))
    found = stages(None, date(2014, 12, 20), None, season=2014)
    assert limit_on(date(2014, 12, 22), loquat, found).stage == "full_bloom"


def test_seasons_mirror_in_the_south():
    found = stages(None, date(2014, 10, 20), None, season=2014)
    day = date(2014, 10, 21)
    assert limit_on(day, found=found, site=WARM_SOUTH).stage == "full_bloom"


def potted(kind):
    return tree(kind, in_container=True)


def test_a_tender_pot_without_a_figure_of_its_own_comes_in_below_40_fahrenheit():
    # Common practice, no source
    found = standing_limit(morning(BLOOM, potted(orange(move_in_temp_c=None))))
    assert (found.threshold_c, found.source) == (TENDER_POT_C, "common_practice")
    assert pytest.approx(4.44, abs=0.01) == TENDER_POT_C
    hardy = species(move_in_temp_c=None)
    assert standing_limit(morning(BLOOM, potted(hardy))) is None


@pytest.mark.parametrize("its_tree", [tree(orange()), potted(orange())])
def test_only_citrus_in_the_ground_that_had_no_cool_fortnight_bears_less(its_tree):
    december = date(2014, 12, 20)
    warm = minima(december - timedelta(days=14), [16.0] * 14, "o")
    cool = minima(december - timedelta(days=14), [6.0] * 14, "o")
    soft, hard = (
        warmest_limit(morning(december, its_tree, WARM, weather=each))
        for each in (warm, cool)
    )
    expected = 0.0 if its_tree.in_container else 5.5 / 1.8
    assert soft.threshold_c - hard.threshold_c == pytest.approx(expected)
    assert soft.worst_c - hard.worst_c == pytest.approx(expected)
    assert soft.hardened_c == pytest.approx(hard.threshold_c)
    apple = morning(december, tree(), WARM, weather=warm)
    assert warmest_limit(apple).threshold_c == -30.0


def test_severity_of_wood_is_five_degrees_fahrenheit_past_its_limit():
    limit = replace(wood_limit(morning(BLOOM, tree(orange()))), threshold_c=-3.3)
    words = [limit.severity(c).value for c in (0.0, -1.7, -3.3, -6.0, -6.1)]
    assert words == ["none", "watch", "warning", "warning", "severe"]
