"""What is looked for, when, and how often: no more than published."""

from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Span, Stage, StageDay
from care.science.inspection import (
    CODLING,
    LISTS,
    checks_of,
    inspection_group,
    looks,
)
from tests.care.rules.cases import (
    MILD,
    SHORT,
    WARM,
    WARM_SOUTH,
    morning,
    orange,
    species,
    tree,
)

JUNE = date(2014, 6, 1)
APPLE = species(harvest=Span(7, 11), days_bloom_to_harvest=140)
PEACH = species(
    "peach",
    feed_group="stone",
    bloom=Span(3, 4),
    harvest=Span(6, 9),
    days_bloom_to_harvest=110,
)
STRAWBERRY_TREE = species("plum_pine", bloom=None)
ORANGE = orange(harvest=Span(11, 4), days_bloom_to_harvest=270)
EVERBEARING = orange(harvest=Span(1, 12), days_bloom_to_harvest=180)


def stages_of(kind, site=MILD, **facts):
    found = looks(morning(JUNE, tree(kind, **facts), site), 2014)
    return [look.stage for look in found]


def test_a_bearing_apple_is_looked_over_by_the_stages_of_its_year():
    stages = list(dict.fromkeys(stages_of(APPLE)))
    assert stages == [
        "bud_swell",
        "bloom",
        "fruitlet",
        "summer",
        "ripening",
        "after_harvest",
    ]


def test_the_look_before_picking_goes_by_the_cultivar():
    gala, fuji = (
        next(
            look
            for look in looks(morning(JUNE, tree(APPLE, cultivar=name), MILD), 2014)
            if look.stage == "ripening"
        )
        for name in ("Gala", "Fuji")
    )
    assert timedelta(days=45) < fuji.due - gala.due < timedelta(days=75)


def test_fruit_is_searched_weekly_for_codling_moth_until_the_end_of_june():
    # UC Sacramento: check fruit weekly for entry holes, petal fall to June.
    found = looks(morning(JUNE, tree(APPLE)), 2014)
    weekly = [look for look in found if look.stage == "fruitlet"]
    gaps = {(later.due - before.due).days for before, later in pairwise(weekly)}
    assert gaps == {7}
    assert weekly[-1].due <= date(2014, 6, 30)
    assert all(look.every_days == 7 for look in weekly)


def test_no_other_kind_is_looked_over_more_often_than_monthly_in_summer():
    for kind in (PEACH, ORANGE, STRAWBERRY_TREE):
        found = looks(morning(JUNE, tree(kind)), 2014)
        summer = [look.due for look in found if look.stage in ("fruitlet", "summer")]
        steps = pairwise(summer)
        assert all((later - before).days >= 21 for before, later in steps)
        monthly = [look.due for look in found if look.stage == "summer"]
        assert {day.day for day in monthly} <= {15}
        assert all((later - before).days >= 28 for before, later in pairwise(monthly))
        assert summer
        assert sum(look.every_days == 7 for look in found) == 0


@pytest.mark.parametrize("kind", sorted(CODLING))
def test_a_crop_that_blooms_early_has_ten_weekly_looks_at_most(kind):
    early = species(kind, bloom=Span(2, 2), harvest=Span(7, 8))
    stages = stages_of(early, WARM)
    assert stages.count("fruitlet") == 10


def test_peach_leaf_curl_is_the_one_look_at_swelling_buds_that_stone_fruit_needs():
    assert stages_of(PEACH).count("bud_swell") == 1
    assert stages_of(species("apricot", feed_group="stone")).count("bud_swell") == 0


def test_young_trees_have_no_fruit_to_look_at():
    stages = stages_of(APPLE, planted_on=date(2013, 3, 1))
    assert set(stages) == {"dormant", "summer"}


def test_winter_looks_are_left_to_the_clean_up_where_there_is_one():
    assert "dormant" not in stages_of(APPLE)
    assert "dormant" in stages_of(species("fig", feed_group="other", bloom=Span(5, 6)))


def test_an_evergreen_has_no_dormant_look():
    assert "dormant" not in stages_of(ORANGE, WARM)


def test_what_bears_all_year_has_no_ripening_of_its_own():
    assert "ripening" not in stages_of(EVERBEARING, WARM)
    assert "ripening" not in stages_of(species())


@pytest.mark.parametrize(
    ("basis", "due"),
    [("seen", date(2014, 9, 29)), ("months", None)],
)
def test_leftovers_are_looked_for_once_the_last_picking_was_seen(basis, due):
    last = StageDay(Stage.HARVEST, 2014, date(2014, 9, 15), basis)
    plain = looks(morning(JUNE, tree(APPLE)), 2014)[-1]
    found = looks(morning(JUNE, tree(APPLE), stages=(last,)), 2014)[-1]
    assert found.stage == "after_harvest"
    assert found.due == (due or plain.due)


def test_neighbours_of_one_list_share_a_walk():
    assert inspection_group(species("pear")) == inspection_group(species("apple"))
    assert inspection_group(PEACH) == "peach"
    assert inspection_group(species("blueberry", feed_group="berry_acid")) == "berry"


def test_each_kind_is_searched_for_its_own_troubles():
    def searched(kind, stage, **facts):
        situation = morning(JUNE, tree(kind, **facts))
        return set(checks_of(stage, situation, is_wet=False))

    assert "entry_holes" in searched(APPLE, "fruitlet")
    assert "entry_holes" not in searched(PEACH, "fruitlet")
    assert "leaf_curl" in searched(PEACH, "bud_swell")
    assert "quarantine" in searched(ORANGE, "summer")
    assert "small_flies" in searched(species("fig"), "ripening")
    assert "no_spray_in_bloom" in searched(APPLE, "bloom")
    assert "pot_salt" in searched(APPLE, "summer", in_container=True)
    assert "guard_and_ties" in searched(APPLE, "summer", planted_on=date(2013, 3, 1))


def test_rain_puts_spotted_leaves_on_the_list_but_not_in_winter():
    situation = morning(JUNE, tree(APPLE))
    wet, dry = (
        {stage: checks_of(stage, situation, is_wet=is_wet) for stage in LISTS}
        for is_wet in (True, False)
    )
    assert {stage for stage in LISTS if wet[stage] != dry[stage]} == set(LISTS) - {
        "dormant"
    }


@given(
    season=st.integers(2001, 2030),
    is_citrus=st.booleans(),
    is_old=st.booleans(),
    site=st.sampled_from([MILD, SHORT, WARM, WARM_SOUTH]),
)
@settings(max_examples=60)
def test_looks_are_in_order_named_once_and_within_their_days(
    season, is_citrus, is_old, site
):
    planted = date(1990 if is_old else season - 1, 3, 1)
    its_tree = tree(ORANGE if is_citrus else APPLE, planted_on=planted)
    found = looks(morning(date(season, 6, 1), its_tree, site), season)
    keys = [look.key for look in found]
    assert len(keys) == len(set(keys))
    assert all(look.due in look.window for look in found)
    dues = [look.due for look in found]
    assert dues == sorted(dues)


@pytest.mark.parametrize(("north", "south"), [(WARM, WARM_SOUTH)])
def test_the_south_looks_half_a_year_later(north, south):
    for kind in (APPLE, ORANGE):
        here = looks(morning(JUNE, tree(kind), north), 2014)
        there = looks(morning(JUNE, tree(kind), south), 2014)
        for a, b in zip(here, there, strict=False):
            assert a.key == b.key
            assert timedelta(days=177) <= b.due - a.due <= timedelta(days=189)
