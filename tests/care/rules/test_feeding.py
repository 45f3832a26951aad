"""Feeding: the canopy held now, in parts, never late, never on an unknown past."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Answer, Blackout, MonthDay, WorkDone
from care.rules.feeding import propose
from care.science.feeding_windows import feeding_stop
from care.science.nutrients import season_nitrogen
from tests.care.rules.cases import (
    MILD,
    SHORT,
    WARM,
    WARM_SOUTH,
    minima,
    morning,
    orange,
    outlook,
    species,
    tree,
)

SPRING = date(2014, 3, 10)


def fed(key, on, grams=None, what="done"):
    return WorkDone(tree_id=1, kind="feeding", key=key, on=on, what=what, amount=grams)


def citrus(**changes):
    return tree(orange(), **{"planted_on": date(2005, 3, 1), **changes})


def test_a_grown_apple_gets_its_year_in_one_spring_feeding():
    (feed,) = propose(morning(SPRING))
    assert (feed.key, feed.action, feed.unit) == ("2014/1", "feed", "g")
    assert feed.is_firm
    # 200 g of nitrogen is 2 kg of a 10 % product
    assert feed.amount == pytest.approx(2000)
    assert feed.reason.code == "feed_split"
    assert feed.reason.fact("nitrogen_g") == pytest.approx(200)
    assert feed.reason.fact("canopy_m2") == pytest.approx(19.63)
    assert feed.reason.fact("nitrogen_g_per_m2") == pytest.approx(10.2)
    assert feed.reason.fact("product") == "10-10-10"
    assert feed.reason.fact("nitrogen_percent") == 10.0
    assert feed.reason.fact("moist_soil_only") is True
    assert feed.earliest == date(2014, 3, 1)
    assert "label_rules" in feed.cautions


def test_splits_are_spread_and_only_the_first_is_firm():
    splits = propose(morning(date(2014, 2, 10), citrus(), WARM))
    assert [split.key for split in splits] == ["2014/1", "2014/2", "2014/3"]
    assert [split.is_firm for split in splits] == [True, False, False]
    assert sum(split.amount for split in splits) == pytest.approx(5700, abs=0.3)
    assert splits[0].earliest == date(2014, 2, 1)
    assert splits[-1].latest <= date(2014, 10, 31)


def test_a_smaller_crown_gets_less():
    (small,) = propose(morning(SPRING, tree(crown_width_m=1.5)))
    assert small.reason.fact("nitrogen_g") == pytest.approx(35 + 165 * 0.09, abs=0.1)
    assert small.reason.fact("share_basis") == "crown"


def test_years_stand_in_for_a_crown_nobody_measured():
    (feed,) = propose(
        morning(SPRING, tree(crown_width_m=None, planted_on=date(2011, 3, 1)))
    )
    assert feed.reason.fact("share_basis") == "years"
    assert feed.reason.fact("canopy_m2") is None
    assert "crown_measured" in feed.reason.would_change


def test_neither_crown_nor_age_means_a_question():
    unknown = tree(crown_width_m=None, planted_on=None)
    (ask,) = propose(morning(SPRING, unknown, water=outlook()))
    assert (ask.action, ask.reason.code, ask.amount) == (
        "check",
        "feed_ask_crown",
        None,
    )


def test_a_pot_of_unknown_size_means_a_question():
    (ask,) = propose(morning(SPRING, tree(in_container=True)))
    assert ask.reason.code == "feed_ask_pot_size"


def test_a_pot_caps_the_dose():
    feed, *later = propose(
        morning(SPRING, tree(in_container=True, container_litres=30.0))
    )
    assert feed.reason.fact("season_nitrogen_g") == pytest.approx(18)
    assert feed.reason.fact("is_pot_capped") is True
    # Common practice, no source: little and often, no more at once than a teaspoon
    # (6 g) of a 10 % product to four litres of mix.
    assert len(later) == 3
    assert feed.unit == "g"
    assert feed.amount == pytest.approx(45)
    assert feed.amount <= 6 / 4 * 30


def test_a_pot_tells_enough_of_a_plant_of_which_nothing_else_is_known():
    # Else its keeper is asked for the crown all season and the pot never fed.
    unknown = tree(
        orange(),
        in_container=True,
        container_litres=40.0,
        crown_width_m=None,
        planted_on=None,
    )
    feed, *_later = propose(morning(SPRING, unknown, water=outlook()))
    assert (feed.action, feed.reason.fact("share_basis")) == ("feed", "pot")
    assert feed.reason.fact("season_nitrogen_g") == pytest.approx(24)


def test_the_smallest_pot_is_fed_too():
    feed, *_later = propose(
        morning(SPRING, tree(in_container=True, container_litres=3.0))
    )
    assert (feed.action, feed.amount) == ("feed", pytest.approx(4.5))


@pytest.mark.parametrize(("litres", "is_fed"), [(1.4, True), (1.3, False)])
def test_a_fifth_of_a_gram_of_nitrogen_is_the_least_worth_a_walk(litres, is_fed):
    found = propose(morning(SPRING, tree(in_container=True, container_litres=litres)))
    assert bool(found) is is_fed


@pytest.mark.parametrize("kind", [species(), orange()])
@given(entered=st.dates(date(2014, 5, 8), date(2014, 9, 1)), days=st.integers(0, 60))
@settings(max_examples=25)
def test_an_unknown_past_never_triggers_a_dose(kind, entered, days):
    newcomer = tree(kind, entered_on=entered)
    for site in (MILD, SHORT, WARM):
        found = propose(morning(entered + timedelta(days=days), newcomer, site))
        assert all(proposal.amount is None for proposal in found if proposal.is_firm)
        this_season = [p for p in found if p.key.startswith("2014/")]
        assert all(p.action == "check" for p in this_season)


def test_an_answer_or_a_log_ends_the_question():
    newcomer = citrus(entered_on=date(2014, 4, 1))
    today = date(2014, 5, 10)
    (ask,) = propose(morning(today, newcomer, WARM))
    assert (ask.action, ask.key) == ("check", "2014/2")
    assert ask.reason.code == "feed_ask_past"
    no = propose(morning(today, replace(newcomer, fed_before=Answer.NO), WARM))
    assert (no[0].action, no[0].key) == ("feed", "2014/2")
    # missed splits are not made up for
    assert no[0].reason.fact("nitrogen_g") == pytest.approx(190)
    yes = propose(morning(today, replace(newcomer, fed_before=Answer.YES), WARM))
    assert yes[0].key == "2014/2"
    assert yes[0].reason.fact("given_nitrogen_g") == pytest.approx(190)
    logged = (fed("2014/1", date(2014, 4, 10), 190.0),)
    assert propose(morning(today, newcomer, WARM, work=logged))[0].action == "feed"


def test_a_tree_entered_before_growth_has_a_known_past():
    newcomer = tree(entered_on=date(2014, 1, 20))
    assert propose(morning(SPRING, newcomer))[0].action == "feed"


def test_done_and_skipped_splits_do_not_return():
    work = (
        fed("2014/1", date(2014, 2, 10), 190.0),
        fed("2014/2", date(2014, 5, 20), what="skipped"),
    )
    found = propose(morning(date(2014, 6, 1), citrus(), WARM, work=work))
    assert [split.key for split in found] == ["2014/3"]
    assert found[0].reason.fact("nitrogen_g") == pytest.approx(190)


def test_a_full_season_leads_to_the_next_as_a_projection():
    work = (fed("2014/1", date(2014, 3, 12), 200.0),)
    (later,) = propose(morning(date(2014, 6, 1), work=work))
    assert later.key == "2015/1"
    assert not later.is_firm


def test_four_weeks_lie_between_two_feedings():
    work = (fed("2014/1", date(2014, 4, 25), 190.0),)
    found = propose(morning(date(2014, 5, 1), citrus(), WARM, work=work))
    assert found[0].key == "2014/2"
    assert found[0].earliest == date(2014, 5, 23)


def test_another_trees_log_and_tomorrows_log_do_not_count():
    other = replace(fed("2014/1", SPRING, 200.0), tree_id=2)
    later = fed("2014/1", SPRING + timedelta(days=1), 200.0)
    (feed,) = propose(morning(SPRING, work=(other, later)))
    assert feed.key == "2014/1"


@given(
    first=st.floats(0, 900),
    second=st.floats(0, 900),
    offset=st.integers(0, 300),
    width_m=st.floats(0.3, 9),
)
@settings(max_examples=60)
def test_a_season_never_gets_more_than_its_nitrogen(first, second, offset, width_m):
    work = (
        fed("2014/1", date(2014, 2, 15), first),
        fed("", date(2014, 2, 20), second),
    )
    today = date(2014, 2, 21) + timedelta(days=offset)
    its_tree = citrus(crown_width_m=width_m)
    situation = morning(today, its_tree, WARM, work=work)
    season = [p for p in propose(situation) if p.key.startswith("2014/")]
    total = season_nitrogen(
        its_tree.species, canopy_m2=width_m**2 * 0.7853982, years=9
    ).nitrogen_g
    proposed = sum(p.reason.fact("nitrogen_g") for p in season)
    assert proposed <= max(0.0, total - first - second) + 0.2


@pytest.mark.parametrize("kind", [species(), species(feed_times_per_year=3), orange()])
@given(today=st.dates(date(2014, 1, 1), date(2016, 12, 31)))
@settings(max_examples=40)
def test_nothing_is_fed_after_the_cut_off(kind, today):
    for site in (MILD, SHORT, WARM, WARM_SOUTH):
        for proposal in propose(morning(today, tree(kind), site)):
            season = int(proposal.key.split("/")[0])
            assert proposal.latest <= feeding_stop(season, kind, site)
            assert proposal.latest >= today


def test_peaches_in_pennsylvania_are_not_fed_on_20_july():
    # Penn State Extension: never after 15 July
    peach = species("peach", feed_group="stone", feed_times_per_year=2)
    found = propose(morning(date(2014, 7, 20), tree(peach), SHORT))
    assert all(not p.is_firm and p.key.startswith("2015/") for p in found)


def test_a_young_evergreen_waits_three_weeks():
    young = citrus(planted_on=date(2014, 3, 1), entered_on=date(2014, 3, 1))
    found = propose(morning(SPRING, replace(young, crown_width_m=None), WARM))
    assert found[0].earliest == date(2014, 3, 22)
    # UF/IFAS HS132: 0.15-0.30 lb of nitrogen in the first year
    assert 68 <= found[0].reason.fact("season_nitrogen_g") <= 136


def test_a_clump_shares_one_amount():
    (feed,) = propose(morning(SPRING, clump_mates=(2, 3)))
    assert feed.reason.fact("nitrogen_g") == pytest.approx(200 / 3, abs=0.01)


def test_local_blackouts_move_or_block():
    moving = Blackout(MonthDay(2, 15), MonthDay(3, 31))
    (feed,) = propose(morning(SPRING, site=replace(MILD, feeding_blackouts=(moving,))))
    assert feed.earliest == date(2014, 4, 1)
    blocking = Blackout(MonthDay(2, 15), MonthDay(9, 30))
    blocked = replace(MILD, feeding_blackouts=(blocking,))
    (told,) = propose(morning(SPRING, site=blocked))
    assert (told.key, told.reason.code) == ("2014/told", "feed_rest_blackout")
    read = WorkDone(1, "feeding", "2014/told", SPRING)
    assert propose(morning(SPRING, site=blocked, work=(read,))) == ()
    assert propose(morning(date(2014, 5, 1), site=blocked)) == ()


def test_the_soil_and_the_sky_are_minded():
    dry = propose(morning(SPRING, water=outlook(due_in_days=0)))[0]
    assert dry.cautions[0] == "water_first"
    wet = propose(morning(SPRING, water=outlook(is_saturated=True)))[0]
    assert "wait_for_workable_soil" in wet.cautions
    rain = minima(SPRING, [5.0, 5.0], rain_mm=20.0)
    assert "wait_heavy_rain" in propose(morning(SPRING, weather=rain))[0].cautions
    normal = minima(SPRING, [5.0, 5.0], "n", rain_mm=20.0)
    calm = propose(morning(SPRING, weather=normal))[0]
    assert "wait_heavy_rain" not in calm.cautions


def test_an_unknown_first_frost_is_asked_for():
    site = replace(MILD, first_frost=None)
    (feed,) = propose(morning(SPRING, site=site))
    assert "first_frost_entered" in feed.reason.would_change
    assert feed.reason.fact("stop_basis") == "frost_unknown"


def test_a_crown_without_a_full_size_to_set_it_against_gives_no_dose():
    unsized = tree(species(mature_spread_m=None), planted_on=None)
    assert propose(morning(SPRING, unsized)) == ()


def test_a_tree_without_its_pot_size_has_no_projection_either():
    autumn = date(2014, 9, 25)
    assert propose(morning(autumn, tree(in_container=True))) == ()


def test_a_published_range_stands_beside_the_amount_where_there_is_one():
    (apple,) = propose(morning(SPRING))
    assert apple.reason.fact("yardstick_source") == "ncsu_fert"
    (mulberry,) = propose(
        morning(SPRING, tree(species("mulberry", feed_group="other")))
    )
    assert mulberry.reason.fact("yardstick_source") is None


def test_no_figure_no_proposal():
    newcomer = tree(species(nitrogen_mature_g=None), entered_on=SPRING)
    assert propose(morning(SPRING, newcomer)) == ()
