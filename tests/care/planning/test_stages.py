"""Stages of each tree's year: what was seen, what the weather tells, what months say."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import (
    Observation,
    Place,
    Situation,
    Stage,
    StageDay,
    Stay,
    WeatherSeries,
    WorkDone,
)
from care.planning.species_facts import species_facts
from care.planning.stages import site_year, stages_by_tree
from care.science.phenology import usual_leaf_drop
from care.science.season import start_of_growth
from tests.care.rules.cases import MILD, orange, tree
from tests.care.science.reference import SeattleRecord

RECORD = SeattleRecord()
SEATTLE = WeatherSeries(
    RECORD.start, RECORD.tmin_c, RECORD.tmax_c, RECORD.rain_mm, "o" * len(RECORD.days)
)
SOUTH = replace(MILD, latitude_deg=-47.6)
TODAY = date(2014, 6, 1)
CHERRY = tree(species_facts("sweet_cherry"))
# The days that tests/care/science/test_phenology.py finds for these springs
MODELLED = {2013: date(2013, 4, 11), 2014: date(2014, 4, 6), 2015: date(2015, 3, 19)}


def saw(word, on, tree_id=1):
    return Observation(tree_id, "bloom_stage", on, word=word)


def stages_of(
    its_tree=CHERRY,
    *observations,
    today=TODAY,
    site=MILD,
    series=SEATTLE,
    others=(),
    work=(),
):
    words = {}
    for reading in observations:
        words.setdefault(reading.tree_id, []).append(reading)
    year = site_year(site, series, today)
    found = stages_by_tree(year, [its_tree, *others], {its_tree.id: work}, words)
    return Situation(today, its_tree, site, series, stages=found[its_tree.id])


def bloom(situation, season):
    return situation.stage_day(Stage.FULL_BLOOM, season)


def test_bloom_follows_each_years_weather():
    found = stages_of()
    for season in (2013, 2014, 2015):
        expected = StageDay(Stage.FULL_BLOOM, season, MODELLED[season], "heat")
        assert bloom(found, season) == expected
    assert bloom(found, 2016) is None


def test_stages_come_in_order():
    found = stages_of()
    order = (Stage.BUD_BREAK, Stage.FULL_BLOOM, Stage.PETAL_FALL, Stage.HARVEST)
    days = [found.stage_day(stage, 2014).on for stage in (*order, Stage.LEAF_DROP)]
    assert days == sorted(days)
    assert start_of_growth(found, 2014).basis == "heat"


def test_what_was_seen_goes_first_and_what_follows_counts_from_it():
    found = stages_of(
        CHERRY,
        saw("green_tip", date(2014, 3, 22)),
        saw("full_bloom", date(2014, 4, 12)),
        saw("full_bloom", date(2014, 4, 15)),
        today=date(2014, 4, 20),
    )
    assert bloom(found, 2014) == StageDay(
        Stage.FULL_BLOOM, 2014, date(2014, 4, 12), "seen"
    )
    assert start_of_growth(found, 2014).on == date(2014, 3, 22)
    fall = found.stage_day(Stage.PETAL_FALL, 2014)
    assert (fall.on, fall.basis) == (date(2014, 4, 19), "heat")


def test_the_last_picking_after_a_bloom_is_the_cultivars():
    # University of Maine Extension: days from bloom of Gala and of Fuji.
    kinds = [
        replace(tree(species_facts("apple")), id=number, cultivar=name)
        for number, name in enumerate(("Gala", "Fuji"), start=1)
    ]
    found = stages_by_tree(site_year(MILD, SEATTLE, TODAY), kinds, {}, {})
    last = {
        number: next(
            day.on
            for day in days
            if (day.stage, day.season, day.basis) == (Stage.HARVEST, 2014, "heat")
        )
        for number, days in found.items()
    }
    assert last[2] - last[1] == timedelta(days=185 - 120)


def test_bloom_follows_a_bud_break_that_was_seen():
    plain = stages_of(today=date(2014, 3, 25))
    modelled = plain.stage_day(Stage.BUD_BREAK, 2014).on
    late = saw("green_tip", modelled + timedelta(days=6))
    found = stages_of(CHERRY, late, today=date(2014, 3, 25))
    days = (bloom(found, 2014).on - bloom(plain, 2014).on).days
    assert 1 <= days <= 6
    same = stages_of(CHERRY, saw("green_tip", modelled), today=date(2014, 3, 25))
    assert abs((bloom(same, 2014).on - bloom(plain, 2014).on).days) <= 1
    # A record that ends first leaves the year's own reckoning
    short = replace(
        SEATTLE,
        tmin_c=SEATTLE.tmin_c[:780],
        tmax_c=SEATTLE.tmax_c[:780],
        rain_mm=SEATTLE.rain_mm[:780],
        origin=SEATTLE.origin[:780],
    )
    cut = stages_of(CHERRY, late, today=date(2014, 3, 25), series=short)
    assert bloom(cut, 2014) is not None


@pytest.mark.parametrize(
    ("word", "stage", "on"),
    [
        ("first_swell", Stage.BUD_BREAK, date(2014, 3, 27)),
        ("green_tip", Stage.BUD_BREAK, date(2014, 3, 20)),
        ("post_bloom", Stage.PETAL_FALL, date(2014, 3, 20)),
    ],
)
def test_words_of_the_season_tell_of_its_turns(word, stage, on):
    found = stages_of(CHERRY, saw(word, date(2014, 3, 20)))
    assert found.stage_day(stage, 2014) == StageDay(stage, 2014, on, "seen")


def test_leaf_drop_bears_the_year_whose_growth_it_ends():
    found = stages_of(
        CHERRY, saw("leaf_drop", date(2013, 11, 24)), today=date(2014, 1, 5)
    )
    day = found.stage_day(Stage.LEAF_DROP, 2013)
    assert (day.on, day.basis) == (date(2013, 11, 24), "seen")


def as_known_on(today):
    """The record with usual weather, here that of the year itself, from today on."""
    length = (today - SEATTLE.start).days
    return replace(SEATTLE, origin="o" * length + "n" * (len(SEATTLE) - length))


def test_leaf_drop_follows_this_autumns_freeze_and_before_it_the_usual_one():
    winter, summer = date(2014, 12, 20), date(2014, 6, 1)
    fallen = stages_of(today=winter, series=as_known_on(winter))
    assert fallen.stage_day(Stage.LEAF_DROP, 2014) == StageDay(
        Stage.LEAF_DROP, 2014, date(2014, 11, 16), "heat"
    )
    # By the autumns of 2012 and 2013
    middle = usual_leaf_drop(as_known_on(summer), 2014, southern=False)
    expected = stages_of(today=summer, series=as_known_on(summer))
    assert expected.stage_day(Stage.LEAF_DROP, 2014) == StageDay(
        Stage.LEAF_DROP, 2014, middle, "heat"
    )


def test_leaves_that_hang_on_are_not_called_down():
    mild = SEATTLE.tmin_c.copy()
    autumn = slice(SEATTLE.index(date(2014, 9, 15)), SEATTLE.index(date(2015, 2, 1)))
    mild[autumn] = np.maximum(mild[autumn], 6.0)
    series = replace(SEATTLE, tmin_c=mild, tmax_c=np.maximum(SEATTLE.tmax_c, mild + 3))
    christmas = date(2014, 12, 25)
    found = stages_of(today=christmas, series=series)
    assert found.stage_day(Stage.LEAF_DROP, 2014).on == christmas + timedelta(days=1)
    spring = stages_of(today=date(2015, 3, 1), series=series)
    assert spring.stage_day(Stage.LEAF_DROP, 2014).basis == "months"


def test_words_said_later_or_far_from_any_season_count_for_nothing():
    plain = stages_of().stages
    tomorrow = saw("full_bloom", TODAY + timedelta(days=1))
    autumn = saw("full_bloom", date(2013, 9, 20))
    dormant = saw("dormant", date(2014, 1, 20))
    assert stages_of(CHERRY, tomorrow, autumn, dormant).stages == plain


def test_a_tree_learns_from_its_own_blooms():
    # Both springs six days later than the species' own need says
    later = [
        saw("full_bloom", MODELLED[year] + timedelta(days=6)) for year in (2013, 2014)
    ]
    found = stages_of(CHERRY, *later, today=date(2015, 2, 1))
    assert MODELLED[2015] < bloom(found, 2015).on <= MODELLED[2015] + timedelta(days=9)
    assert bloom(found, 2015).basis == "heat"


def test_a_tree_nobody_watched_learns_from_its_kind_and_no_other():
    watched = replace(CHERRY, id=2)
    late = saw("full_bloom", MODELLED[2014] + timedelta(days=8), tree_id=2)
    found = stages_of(CHERRY, late, today=date(2015, 2, 1), others=(watched,))
    assert bloom(found, 2015).on > MODELLED[2015]
    pear = tree(species_facts("pear"))
    plain = stages_of(pear, today=date(2015, 2, 1))
    beside = stages_of(pear, late, today=date(2015, 2, 1), others=(watched,))
    assert beside.stages == plain.stages


def test_the_order_of_trees_and_words_changes_nothing():
    kinds = ("apple", "sweet_cherry", "fig", "sweet_cherry")
    trees = [tree(species_facts(key), id=number) for number, key in enumerate(kinds)]
    words = {
        number: [saw("full_bloom", date(year, 4, 8 + number)) for year in (2013, 2014)]
        for number in (0, 1, 3)
    }
    backwards = {number: group[::-1] for number, group in reversed(words.items())}
    found = [
        stages_by_tree(site_year(MILD, SEATTLE, TODAY), some, {}, said)
        for some, said in ((trees, words), (trees[::-1], backwards))
    ]
    for number in range(len(kinds)):
        assert set(found[0][number]) == set(found[1][number])


def test_a_species_without_a_known_need_keeps_to_the_months_until_it_was_seen():
    fig = tree(species_facts("fig"))
    assert bloom(stages_of(fig), 2014).basis == "months"
    seen = saw("full_bloom", date(2013, 5, 20))
    assert bloom(stages_of(fig, seen), 2014).basis == "heat"


def test_an_evergreen_keeps_to_the_months_and_drops_no_leaves():
    citrus = tree(species_facts("orange"))
    found = stages_of(citrus, saw("full_bloom", date(2013, 4, 10)))
    assert bloom(found, 2014).basis == "months"
    assert found.stage_day(Stage.LEAF_DROP, 2014) is None


def test_a_season_beyond_the_record_takes_the_usual_day():
    found = stages_of(today=date(2015, 12, 30))
    assert bloom(found, 2017) == StageDay(
        Stage.FULL_BLOOM, 2017, date(2017, 4, 6), "heat"
    )


def test_without_weather_the_months_are_all():
    found = stages_of(series=None)
    assert {day.basis for day in found.stages} == {"months"}


def test_a_place_without_enough_chill_keeps_to_the_months():
    warm = replace(SEATTLE, tmin_c=SEATTLE.tmin_c + 20, tmax_c=SEATTLE.tmax_c + 20)
    assert {day.basis for day in stages_of(series=warm).stages} == {"months"}


def test_a_bloom_far_from_the_months_is_not_believed():
    # Frost into the middle of May holds back degree hours; the months say April
    cold = np.where(np.arange(len(SEATTLE)) >= 0, SEATTLE.tmin_c - 8, 0.0)
    late = replace(SEATTLE, tmin_c=cold, tmax_c=np.maximum(SEATTLE.tmax_c - 8, cold))
    assert bloom(stages_of(series=late), 2014).basis == "months"


@pytest.mark.parametrize("place", [Place.INDOORS_HEATED, Place.INDOORS_UNHEATED])
def test_a_pot_that_wintered_indoors_did_not_feel_the_weather(place):
    pot = replace(
        CHERRY,
        in_container=True,
        container_litres=60.0,
        stays=(Stay(place, date(2013, 12, 15)), Stay(Place.OUTDOORS, date(2014, 3, 1))),
    )
    found = stages_of(pot)
    assert bloom(found, 2014).basis == "months"
    assert bloom(found, 2013).basis == "heat"


def test_the_last_picking_is_the_last_of_a_fortnight_without_another():
    work = [
        WorkDone(1, "harvest", "2014/1", date(2014, 6, 20)),
        WorkDone(1, "harvest", "2014/2", date(2014, 6, 28), what="skipped"),
    ]
    weighed = Observation(1, "harvest", date(2014, 6, 25), 4.0)
    early = stages_of(CHERRY, weighed, today=date(2014, 7, 1), work=work)
    assert early.stage_day(Stage.HARVEST, 2014).basis == "heat"
    over = stages_of(CHERRY, weighed, today=date(2014, 7, 9), work=work)
    assert over.stage_day(Stage.HARVEST, 2014) == StageDay(
        Stage.HARVEST, 2014, date(2014, 6, 25), "seen"
    )


def test_citrus_picked_after_new_year_belongs_to_last_years_bloom():
    navel = tree(species_facts("orange"))
    weighed = Observation(1, "harvest", date(2014, 1, 20), 4.0)
    found = stages_of(navel, weighed)
    assert found.stage_day(Stage.HARVEST, 2013).on == date(2014, 1, 20)


def test_a_picking_months_after_the_last_belongs_to_no_crop():
    weighed = Observation(1, "harvest", date(2014, 1, 20), 4.0)
    assert stages_of(CHERRY, weighed).stages == stages_of().stages
    always = tree(species_facts("soursop"))
    assert stages_of(always, weighed).stages == stages_of(always).stages


def test_southern_stages_mirror_by_half_a_year():
    shifted = replace(SEATTLE, start=SEATTLE.start + timedelta(days=181))
    north = stages_of(today=date(2014, 6, 1))
    south = stages_of(today=date(2014, 12, 1), site=SOUTH, series=shifted)
    for season in (2013, 2014):
        days = (bloom(south, season).on - bloom(north, season).on).days
        # Chill is counted from 1 May, not from the 181st day; the sun differs a little
        assert abs(days - 181) <= 2


def test_a_plant_that_blooms_all_year_has_no_bloom_day():
    seen = saw("full_bloom", date(2014, 4, 12))
    for kind in (orange(bloom=None), replace(CHERRY.species, bloom=None)):
        assert bloom(stages_of(tree(kind), seen), 2014) is None


def test_a_bloom_before_the_record_teaches_nothing():
    old = saw("full_bloom", date(2011, 4, 12))
    assert bloom(stages_of(CHERRY, old), 2014).on == MODELLED[2014]
