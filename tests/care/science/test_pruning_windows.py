"""Pruning windows: in dormancy, in a dry summer, after harvest, never before frost."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Observation, RainFacts, RainState, Stage, StageDay
from care.planning.species_facts import species_facts
from care.science.pruning_windows import (
    FROST_LEAD_DAYS,
    Timing,
    has_wet_winter,
    pruning_windows,
    timing_of,
)
from care.science.season import Window
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

TODAY = date(2014, 1, 10)
PEACH = species("peach", feed_group="stone", prune_months=(2, 3))
MANGO = replace(orange(feed_group="tropical", prune_months=(8, 9, 10)), key="mango")


def windows(kind=None, site=MILD, season=2014, today=TODAY, **more):
    return pruning_windows(morning(today, tree(kind), site, **more), season)


def stage(which, on, basis="seen", season=2014):
    return StageDay(which, season, on, basis)


def wet(start, end):
    return RainFacts(RainState.ENDED, usual_start=start, usual_end=end)


def test_the_months_are_the_first_guess():
    assert windows() == (Window(date(2014, 1, 1), date(2014, 3, 31)),)
    berry = species("blackberry", prune_months=(7, 8, 2), prune_system="cane")
    assert windows(berry) == (
        Window(date(2014, 2, 1), date(2014, 2, 28)),
        Window(date(2014, 7, 1), date(2014, 8, 31)),
    )
    assert windows(species(prune_months=())) == ()
    guess = stage(Stage.BUD_BREAK, date(2014, 2, 1), "months")
    assert windows(stages=(guess,)) == windows()


@pytest.mark.parametrize("basis", ["seen", "heat"])
def test_a_bare_tree_is_pruned_up_to_bud_break(basis):
    (early,) = windows(stages=(stage(Stage.BUD_BREAK, date(2014, 2, 25), basis),))
    assert early == Window(date(2013, 11, 28), date(2014, 2, 25))
    (late,) = windows(stages=(stage(Stage.BUD_BREAK, date(2014, 4, 20), basis),))
    assert late == Window(date(2014, 1, 21), date(2014, 4, 20))


def test_nothing_is_cut_before_the_leaves_are_down():
    buds = stage(Stage.BUD_BREAK, date(2014, 2, 25))
    fallen = stage(Stage.LEAF_DROP, date(2013, 12, 12), season=2013)
    (window,) = windows(stages=(buds, fallen))
    assert window == Window(date(2013, 12, 12), date(2014, 2, 25))
    (usual,) = windows(stages=(replace(fallen, on=date(2014, 1, 5)),))
    assert usual.start == date(2014, 1, 5)
    (later,) = windows(stages=(replace(fallen, on=date(2013, 10, 5)),))
    assert later.start == date(2014, 1, 1)
    (guessed,) = windows(stages=(replace(fallen, on=date(2014, 1, 5), basis="months"),))
    assert guessed.start == date(2014, 1, 1)


def test_a_peach_may_wait_for_its_bloom():
    buds = stage(Stage.BUD_BREAK, date(2014, 3, 5))
    bloom = stage(Stage.FULL_BLOOM, date(2014, 3, 20), "heat")
    assert windows(PEACH, stages=(buds, bloom))[0].end == date(2014, 3, 20)
    assert windows(PEACH, stages=(buds,))[0].end == date(2014, 3, 5)
    guess = replace(bloom, basis="months")
    assert windows(PEACH, stages=(buds, guess))[0].end == date(2014, 3, 5)
    assert windows(stages=(buds, bloom))[0].end == date(2014, 3, 5)


def test_what_bleeds_late_is_pruned_early_whenever_its_buds_break():
    mulberry = species("mulberry", prune_months=(12, 1))
    late = stage(Stage.BUD_BREAK, date(2014, 4, 10))
    assert windows(mulberry, stages=(late,)) == windows(mulberry)
    early = stage(Stage.BUD_BREAK, date(2014, 1, 20))
    assert windows(mulberry, stages=(early,)) == (
        Window(date(2013, 12, 1), date(2014, 1, 20)),
    )


@pytest.mark.parametrize("key", ["apricot", "sweet_cherry", "sour_cherry"])
def test_apricot_and_cherry_have_six_dry_weeks_before_the_rains(key):
    (window,) = windows(species_facts(key))
    # UC Cooperative Extension: by the end of August; UC Master Gardeners: not after
    # 15 September, and six weeks before rain
    assert (window.start.month, window.end) == (7, date(2014, 8, 31))
    october = wet(date(2014, 10, 1).timetuple().tm_yday, 120)
    (early,) = windows(species_facts(key), rains=october)
    assert early.end == date(2014, 8, 20) == date(2014, 10, 1) - timedelta(weeks=6)
    december = wet(date(2014, 12, 1).timetuple().tm_yday, 60)
    assert windows(species_facts(key), rains=december)[0].end == date(2014, 8, 31)


@pytest.mark.parametrize("start", [200, 230, 190])
def test_where_summer_is_wet_there_is_no_dry_window_to_find(start):
    assert windows(species_facts("apricot"), rains=wet(start, 300)) == windows(
        species_facts("apricot")
    )


def test_rains_that_begin_in_spring_belong_to_the_next_year():
    (window,) = windows(species_facts("apricot"), rains=wet(130, 250))
    assert window.end == date(2014, 8, 31)


@pytest.mark.parametrize("key", ["european_plum", "japanese_plum"])
def test_plums_are_cut_in_summer_where_winters_are_wet(key):
    # Amateur Gardening (2017): June to August; silver leaf spreads from September to May
    (window,) = windows(species_facts(key), rains=wet(290, 100))
    assert (window.start, window.end) == (date(2014, 6, 1), date(2014, 8, 31))
    south = windows(species_facts(key), WARM_SOUTH, rains=wet(110, 280))
    assert (south[0].start, south[0].end) == (date(2014, 12, 1), date(2015, 2, 28))


def test_a_japanese_plum_elsewhere_is_cut_when_dormant():
    (window,) = windows(species_facts("japanese_plum"), rains=wet(150, 260))
    assert (window.start.month, window.end.month) == (1, 2)


@pytest.mark.parametrize(
    ("rains", "southern", "is_wet"),
    [
        (None, False, None),
        (RainFacts(RainState.UNKNOWN), False, None),
        (RainFacts(RainState.ENDED, usual_start=290), False, None),
        (wet(290, 100), False, True),
        (wet(290, 100), True, False),
        (wet(110, 280), True, True),
        (wet(110, 280), False, False),
    ],
)
def test_a_wet_winter(rains, southern, is_wet):
    assert has_wet_winter(rains, southern=southern) is is_wet


def picked(on):
    return Observation(1, "harvest", on, 4.0)


def test_tropical_fruit_is_cut_just_after_the_last_picking():
    # UF/IFAS Miami-Dade (2025): a mango done in late July is pruned then
    today = date(2014, 8, 1)
    readings = (picked(date(2014, 7, 1)), picked(date(2014, 7, 25)))
    (window,) = windows(MANGO, WARM, today=today, observations=readings)
    assert window.start == date(2014, 7, 26)
    # finished by the end of September (UF/IFAS, read in a copy)
    assert window.end == date(2014, 9, 30)
    (unseen,) = windows(MANGO, WARM, today=today)
    assert unseen == Window(date(2014, 8, 1), date(2014, 9, 30))
    seen = (stage(Stage.HARVEST, date(2014, 8, 10)),)
    assert windows(MANGO, WARM, today=today, stages=seen)[0].start == date(2014, 8, 11)
    guess = (stage(Stage.HARVEST, date(2014, 8, 10), "months"),)
    (waiting,) = windows(MANGO, WARM, today=today, stages=guess)
    assert waiting == Window(date(2014, 8, 10), date(2014, 9, 30))
    for over in (date(2014, 7, 20), date(2014, 12, 20)):
        elsewhere = (stage(Stage.HARVEST, over, "months"),)
        assert windows(MANGO, WARM, today=today, stages=elsewhere) == (unseen,)


def test_a_picking_of_another_year_moves_nothing():
    lychee = replace(orange(feed_group="tropical", prune_months=(7, 8)), key="lychee")
    far = (picked(date(2013, 12, 1)),)
    assert windows(lychee, WARM, observations=far) == windows(lychee, WARM)
    near = (picked(date(2014, 6, 20)),)
    (window,) = windows(lychee, WARM, today=date(2014, 7, 1), observations=near)
    assert window == Window(date(2014, 6, 21), date(2014, 8, 21))


def test_tender_trees_wait_for_the_last_frost_and_stop_well_before_the_first():
    assert 28 <= FROST_LEAD_DAYS <= 56  # four to eight weeks
    assert windows(orange(), SHORT)[0].start == date(2014, 5, 6)
    late = orange(prune_months=(7, 8, 9))
    assert windows(late, SHORT)[0].end == date(2014, 8, 10)
    assert windows(orange(), WARM)[0].start == date(2014, 2, 1)
    banana = orange(prune_months=tuple(range(1, 13)))
    unknown = replace(SHORT, first_frost=None)
    assert windows(banana, unknown)[0] == Window(date(2014, 5, 6), date(2014, 10, 31))


def test_a_hardy_evergreen_keeps_its_months():
    olive = species_facts("olive")
    assert windows(olive, SHORT)[0] == Window(date(2014, 3, 1), date(2014, 5, 31))


@pytest.mark.parametrize(
    ("key", "timing"),
    [
        ("apple", Timing.DORMANT),
        ("peach", Timing.DORMANT),
        ("apricot", Timing.DRY_SUMMER),
        ("sweet_cherry", Timing.DRY_SUMMER),
        ("european_plum", Timing.DRY_SUMMER),
        ("mango", Timing.AFTER_HARVEST),
        ("lychee", Timing.AFTER_HARVEST),
        ("orange", Timing.MONTHS),
        ("olive", Timing.MONTHS),
    ],
)
def test_what_a_kinds_window_hangs_on(key, timing):
    assert timing_of(species_facts(key)) is timing


@given(
    months=st.lists(st.integers(1, 12), min_size=1, max_size=4, unique=True),
    season=st.integers(2000, 2040),
)
@settings(max_examples=50)
def test_southern_windows_mirror_by_half_a_year(months, season):
    kind = species(prune_months=tuple(months))
    north, south = windows(kind, WARM, season), windows(kind, WARM_SOUTH, season)
    for one, other in zip(north, south, strict=True):
        assert (other.start.month - one.start.month) % 12 == 6
        assert (other.end.month - one.end.month) % 12 == 6
        assert 181 <= (other.start - one.start).days <= 184


@given(
    key=st.sampled_from(["apple", "apricot", "mango", "japanese_plum", "orange"]),
    buds=st.dates(date(2014, 1, 15), date(2014, 5, 15)),
    rains=st.integers(1, 365),
    pick=st.dates(date(2014, 3, 1), date(2014, 10, 1)),
)
@settings(max_examples=60)
def test_windows_keep_their_number_whatever_was_seen(key, buds, rains, pick):
    kind = species_facts(key)
    found = windows(
        kind,
        today=date(2014, 10, 5),
        stages=(stage(Stage.BUD_BREAK, buds),),
        rains=wet(rains, (rains + 100) % 365 + 1),
        observations=(picked(pick),),
    )
    assert len(found) == len(windows(kind))
