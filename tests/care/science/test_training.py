"""A young tree's first winters and summers, by the frame its kind is trained to."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Stage, StageDay, Stock
from care.planning.species_facts import species_facts
from care.science.training import (
    ANGLES,
    FIRST_BRANCHES,
    FORK,
    HEAD,
    HOLD,
    STOP,
    SUMMER,
    TIER,
    WINTER,
    first_growth,
    frame_of,
    training_turns,
    training_year,
)
from orchard.catalogue.species import species_catalogue
from tests.care.rules.cases import MILD, WARM, WARM_SOUTH, morning, species, tree

INCH_MM, FOOT_MM = 25.4, 304.8
BUDS = date(2014, 4, 1)
BARE = {"stock": Stock.BARE_ROOT}


def young(kind=None, planted=date(2014, 2, 10), **more):
    return tree(kind, planted_on=planted, entered_on=planted, **more)


def turns(season, its_tree, site=MILD, stages=()):
    situation = morning(date(2014, 2, 10), its_tree, site, stages=stages)
    return training_turns(situation, season)


# Training habits: PNW 400, UC 8057 and UF/IFAS HS82 (from memory). Kinds that stand in
# two rows may be trained either way.
@pytest.mark.parametrize(
    ("frames", "keys"),
    [
        (("central_leader",), ("apple", "pear", "sweet_cherry", "pawpaw")),
        (("central_leader", "modified_leader"), ("asian_persimmon", "european_plum")),
        (
            ("open_center",),
            ("peach", "nectarine", "japanese_plum", "apricot", "almond", "sour_cherry"),
        ),
        (("multi_stem",), ("fig", "pomegranate")),
        (("natural",), ("orange", "lemon", "mandarin_satsuma", "loquat")),
        (("tipped",), ("mango", "avocado", "lychee", "guava")),
        (("",), ("banana", "papaya")),
    ],
)
def test_each_kind_has_its_habit(frames, keys):
    assert {frame_of(species_facts(key)) for key in keys} <= set(frames)


def test_vines_and_canes():
    assert frame_of(species_facts("grape")) == "vine"
    assert frame_of(species_facts("passion_fruit")) == ""
    assert frame_of(species_facts("raspberry")) == ""


def test_every_frame_of_the_catalogue_has_steps():
    frames = {frame_of(species_facts(key)) for key in species_catalogue()}
    assert frames - {""} == {frame for frame, _ in WINTER}


def inches(numbers, name):
    return dict(numbers)[name] / INCH_MM


def test_published_lengths_and_angles():
    # PNW 400 and New Mexico State University H-333: strong forks at 45-60 degrees
    assert [value for _, value in ANGLES] == [45.0, 60.0]
    # Sunset: a whip is cut to 2-3 ft; a second tier 1 1/2 to 2 1/2 ft above the first
    assert dict(HEAD)["head_least_mm"] == pytest.approx(2 * FOOT_MM, abs=20)
    assert dict(HEAD)["head_most_mm"] == pytest.approx(3 * FOOT_MM, abs=20)
    assert dict(TIER)["tier_least_mm"] == pytest.approx(1.5 * FOOT_MM, abs=20)
    assert dict(TIER)["tier_most_mm"] == pytest.approx(2.5 * FOOT_MM, abs=20)
    # Southwest: branches 8-10 in apart, the lowest 18-24 in up
    assert 8 <= inches(FIRST_BRANCHES, "apart_mm") <= 10
    assert 17.5 <= inches(FIRST_BRANCHES, "lowest_mm") <= 24
    # PNW 400: peach branches fork at 18-24 in; UF/IFAS: the leader stops at 3-4 ft
    assert inches(FORK, "fork_least_mm") == pytest.approx(18, abs=0.5)
    assert inches(FORK, "fork_most_mm") == pytest.approx(24, abs=0.5)
    assert dict(STOP)["stop_least_mm"] == pytest.approx(3 * FOOT_MM, abs=20)
    assert dict(STOP)["stop_most_mm"] == pytest.approx(4 * FOOT_MM, abs=20)
    # UF/IFAS Miami-Dade: tropical fruit is held at 8-15 ft
    assert dict(HOLD)["hold_least_m"] == pytest.approx(8 * 0.3048, abs=0.05)
    assert dict(HOLD)["hold_most_m"] == pytest.approx(15 * 0.3048, abs=0.05)


@pytest.mark.parametrize(
    ("planted", "first"),
    [
        (date(2013, 11, 20), 2014),
        (date(2014, 4, 29), 2014),
        (date(2014, 4, 30), 2014),
        (date(2014, 5, 1), 2015),
        (date(2014, 10, 15), 2015),
        (None, None),
    ],
)
def test_the_first_year_is_that_of_the_first_growth(planted, first):
    # Buds break on 1 March by the months; sixty days later it is late
    situation = morning(date(2014, 10, 20), tree(planted_on=planted), MILD)
    assert first_growth(situation) == first


@pytest.mark.parametrize(
    ("season", "year"), [(2013, None), (2014, 0), (2017, 3), (2018, None)]
)
def test_training_lasts_three_winters(season, year):
    assert training_year(morning(date(2014, 2, 10), young()), season) == year
    assert training_year(morning(date(2014, 2, 10), tree()), season) is None


def test_what_has_no_frame_is_not_trained():
    banana = young(species_facts("banana"))
    assert training_year(morning(date(2014, 2, 10), banana), 2014) is None
    assert turns(2014, banana) == ()
    unknown = tree(planted_on=None)
    assert training_year(morning(date(2014, 2, 10), unknown), 2014) is None


def test_a_whip_is_headed_as_it_is_planted_and_a_potted_tree_keeps_its_top():
    planting, summer = turns(2014, young(**BARE))
    assert (planting.key, planting.step.code) == ("2014/planting", "head_whip")
    assert planting.window.start == planting.due == date(2014, 2, 10)
    assert (planting.window.end - planting.window.start) == timedelta(weeks=3)
    assert summer.step.code == "pick_side_shoots"
    assert [turn.key for turn in turns(2014, young())] == ["2014/summer"]


def test_side_shoots_are_chosen_in_mid_june_where_buds_break_in_april():
    buds = StageDay(Stage.BUD_BREAK, 2014, BUDS, "seen")
    (summer,) = turns(2014, young(), stages=(buds,))
    assert summer.due == date(2014, 6, 15)
    assert summer.due in summer.window


def test_a_leaders_years():
    codes = [
        [turn.step.code for turn in turns(season, young())]
        for season in range(2014, 2019)
    ]
    assert codes == [
        ["pick_side_shoots"],
        ["choose_branches", "spread_branches"],
        ["second_tier", "spread_branches"],
        ["keep_shape"],
        [],
    ]


def test_stone_fruit_that_must_stay_dry_is_shaped_in_its_summer_window_only():
    apricot = young(species_facts("apricot"))
    (only,) = turns(2015, apricot)
    assert (only.key, only.step.code) == ("2015/winter", "choose_bowl")
    assert (only.window.start.month, only.window.end.month) == (7, 8)
    assert [turn.key for turn in turns(2014, apricot)] == ["2014/summer"]


def test_without_months_of_pruning_there_is_no_winter_step():
    bare = young(species(prune_months=()))
    assert [turn.name for turn in turns(2015, bare)] == ["summer"]


@given(
    frame=st.sampled_from(["apple", "peach", "fig", "orange", "mango", "grape"]),
    season=st.integers(2014, 2017),
)
@settings(max_examples=40)
def test_turns_mirror_by_half_a_year_and_hold_their_due_day(frame, season):
    kind = species_facts(frame)
    north = turns(season, young(kind), WARM)
    south = turns(season, young(kind, date(2014, 8, 10)), WARM_SOUTH)
    assert [turn.key for turn in north] == [turn.key for turn in south]
    for one, other in zip(north, south, strict=True):
        assert one.due in one.window
        assert abs((other.due - one.due).days - 182.6) <= 4


def test_summer_steps_stay_within_the_years_of_training():
    assert {year for _, year in SUMMER} <= {0, 1, 2}
    assert {year for _, year in WINTER} == {0, 1, 2, 3}
