"""A first guess of each stage, by months, frosts and hemisphere."""

from dataclasses import replace
from datetime import date, timedelta

from hypothesis import given, settings, strategies as st

from care.facts import Span, Stage
from care.science.season import growth_start, season_date
from care.science.stage_months import month_guess
from tests.care.rules.cases import MILD, SHORT, WARM, WARM_SOUTH, orange, species

APPLE = species(harvest=Span(7, 11), days_bloom_to_harvest=140)


def test_buds_break_when_growth_is_guessed_to_start():
    guess = month_guess(Stage.BUD_BREAK, 2014, APPLE, SHORT)
    assert guess == growth_start(2014, APPLE, SHORT)


def test_petals_fall_a_week_after_full_bloom():
    bloom = month_guess(Stage.FULL_BLOOM, 2014, APPLE, MILD)
    fall = month_guess(Stage.PETAL_FALL, 2014, APPLE, MILD)
    assert fall - bloom == timedelta(days=7)
    always = replace(APPLE, bloom=Span(1, 12))
    assert month_guess(Stage.PETAL_FALL, 2014, always, MILD) is None


def test_picking_ends_with_the_harvest_months():
    assert month_guess(Stage.HARVEST, 2014, APPLE, MILD) == date(2014, 11, 30)
    unknown_days = replace(APPLE, days_bloom_to_harvest=None)
    assert month_guess(Stage.HARVEST, 2014, unknown_days, MILD) == date(2014, 11, 30)
    assert month_guess(Stage.HARVEST, 2014, species(harvest=None), MILD) is None
    always = replace(APPLE, harvest=Span(1, 12))
    assert month_guess(Stage.HARVEST, 2014, always, MILD) is None


def test_fruit_that_hangs_over_new_year_is_picked_in_the_year_after_its_bloom():
    navel = orange(harvest=Span(11, 6), days_bloom_to_harvest=300)
    assert month_guess(Stage.HARVEST, 2014, navel, WARM) == date(2015, 6, 30)


def test_leaves_are_down_after_the_first_frost():
    # First frosts 10 November and 5 October
    assert month_guess(Stage.LEAF_DROP, 2014, APPLE, MILD) == date(2014, 12, 1)
    assert month_guess(Stage.LEAF_DROP, 2014, APPLE, SHORT) == date(2014, 10, 26)
    assert month_guess(Stage.LEAF_DROP, 2014, APPLE, WARM) == date(2014, 12, 20)
    unknown = replace(MILD, first_frost=None)
    assert month_guess(Stage.LEAF_DROP, 2014, APPLE, unknown) == date(2014, 11, 20)
    assert month_guess(Stage.LEAF_DROP, 2014, orange(), MILD) is None


@settings(max_examples=60)
@given(
    st.sampled_from(Stage),
    st.integers(1990, 2060),
    st.integers(1, 12),
    st.integers(0, 3),
)
def test_southern_guesses_mirror_by_half_a_year(stage, season, start, length):
    kind = replace(
        APPLE, bloom=Span(start, (start - 1 + length) % 12 + 1), harvest=Span(9, 10)
    )
    north = month_guess(stage, season, kind, WARM)
    south = month_guess(stage, season, kind, WARM_SOUTH)
    half = (
        season_date(season, 11, 1, southern=True)
        - season_date(season, 11, 1, southern=False)
    ).days
    # Months differ in length by three days at most; harvest months lie half a year on
    assert abs((south - north).days - half) <= 4
