"""Mulching: litres for a thinned ring, a clear trunk, questions where unknown."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, strategies as st

from care.facts import Answer, Mulch, Observation, WorkDone
from care.rules.mulching import propose
from tests.care.rules.cases import morning, orange, species, tree

LAID = date(2013, 4, 1)
TODAY = date(2014, 4, 1)
CHIPS = Mulch("wood_chips", 75.0, LAID, ring_radius_m=1.2192, trunk_gap_mm=150.0)


def mulched(mulch=CHIPS, **changes):
    return tree(**{"mulch": mulch, "caliper_mm": 76.2, **changes})


def by_key(situation):
    return {proposal.key: proposal for proposal in propose(situation)}


def done(key, on, amount=None, what="done"):
    return WorkDone(1, "mulching", key, on, what, amount)


def test_chips_are_topped_up_when_they_reach_two_inches():
    top_up = by_key(morning(TODAY, mulched()))["next/top_up"]
    assert (top_up.action, top_up.unit) == ("top_up", "L")
    # Extension pages: wood chips last 12 to 24 months
    assert top_up.earliest == LAID + timedelta(days=365)
    assert top_up.latest == LAID + timedelta(days=730)
    assert top_up.reason.fact("depth_mm") == 50
    assert top_up.reason.fact("add_mm") == 25
    # An 8 ft ring, 3 in trunk, 6 in gap: 4.09 ft3 an inch (116 L), here 25 mm
    assert top_up.amount == pytest.approx(115.8 * 25 / 25.4, abs=2)


def test_a_measured_depth_decides():
    thin = Observation(1, "mulch_depth_mm", date(2013, 9, 1), 30.0)
    top_up = by_key(morning(TODAY, mulched(), observations=(thin,)))["next/top_up"]
    assert top_up.due == date(2013, 9, 1)
    assert top_up.reason.fact("add_mm") > 45
    deep = Observation(1, "mulch_depth_mm", date(2014, 3, 20), 74.0)
    later = by_key(morning(TODAY, mulched(), observations=(deep,)))["next/top_up"]
    assert later.due > date(2015, 6, 1)


def test_a_top_up_restarts_the_clock():
    laid = done("next/top_up", date(2014, 3, 1), 25.0)
    top_up = by_key(morning(TODAY, mulched(), work=(laid,)))["next/top_up"]
    assert top_up.earliest > date(2015, 1, 1)
    unmeasured = done("next/top_up", date(2014, 3, 1))
    again = by_key(morning(TODAY, mulched(), work=(unmeasured,)))["next/top_up"]
    assert again.earliest == date(2015, 3, 1)


def test_a_skip_waits_four_weeks():
    thin = Observation(1, "mulch_depth_mm", date(2013, 9, 1), 30.0)
    skip = done("next/top_up", TODAY, what="skipped")
    situation = morning(TODAY, mulched(), observations=(thin,), work=(skip,))
    assert by_key(situation)["next/top_up"].due == TODAY + timedelta(days=28)


def test_old_mulch_is_not_late_before_the_tree_was_entered():
    old = replace(CHIPS, laid_on=date(2008, 1, 1))
    top_up = by_key(morning(TODAY, mulched(old)))["next/top_up"]
    assert top_up.due == date(2012, 1, 10)


@pytest.mark.parametrize("answer", [Answer.UNKNOWN, Answer.YES])
def test_unknown_mulch_means_a_look_and_no_litres(answer):
    (look,) = propose(morning(TODAY, tree(mulched_before=answer)))
    assert (look.key, look.action, look.amount) == ("next/top_up", "check", None)
    looked = done("next/top_up", TODAY)
    situation = morning(TODAY, tree(mulched_before=answer), work=(looked,))
    assert propose(situation)[0].due == TODAY + timedelta(days=182)


def test_bare_ground_gets_a_first_ring():
    bare = tree(
        mulched_before=Answer.NO,
        planted_on=date(2014, 3, 1),
        entered_on=date(2014, 3, 1),
        crown_width_m=0.6,
    )
    (ring,) = propose(morning(TODAY, bare))
    assert ring.reason.code == "mulch_first"
    assert ring.reason.fact("ring_diameter_m") == 1.1
    assert ring.reason.fact("add_mm") == 75
    laid = done("next/top_up", TODAY, 75.0)
    after = by_key(morning(TODAY, bare, work=(laid,)))
    assert after["next/top_up"].earliest > TODAY + timedelta(days=150)
    assert "next/gap" in after


def test_pots_get_no_mulch():
    assert propose(morning(TODAY, mulched(in_container=True))) == ()


@pytest.mark.parametrize(
    ("kind", "gap_mm", "is_touching"),
    [
        (None, 140.0, True),
        (None, 160.0, False),
        (orange(), 160.0, True),
        (orange(), 310.0, False),
    ],
)
def test_mulch_keeps_off_the_trunk_and_further_off_citrus(kind, gap_mm, is_touching):
    # UF/IFAS: 12-18 in for trees; 12 in on citrus against foot rot
    seen = Observation(1, "trunk_gap_mm", date(2014, 3, 20), gap_mm)
    its_tree = mulched(species=kind) if kind else mulched()
    gap = by_key(morning(TODAY, its_tree, observations=(seen,)))["next/gap"]
    assert (gap.action == "clear_trunk") is is_touching
    if is_touching:
        assert gap.reason.fact("found_mm") == gap_mm
    else:
        assert gap.due == date(2014, 3, 20) + timedelta(days=182)


@pytest.mark.parametrize("days", [365, 450, 548, 730])
def test_citrus_topped_up_in_its_window_is_not_called_too_deep(days):
    # The amount is the due day's; whoever comes early lays a little more than 3 in.
    laid = Mulch("wood_chips", 75.0, LAID, trunk_gap_mm=320.0)
    day = LAID + timedelta(days=days)
    citrus = mulched(laid, species=orange())
    add_mm = by_key(morning(day, citrus))["next/top_up"].reason.fact("add_mm")
    after = morning(day, citrus, work=(done("next/top_up", day, add_mm),))
    assert by_key(after)["next/gap"].action == "check"


def test_clearing_the_trunk_lasts_half_a_year():
    seen = Observation(1, "trunk_gap_mm", date(2014, 3, 20), 0.0)
    cleared = done("next/gap", date(2014, 3, 20))
    situation = morning(TODAY, mulched(), observations=(seen,), work=(cleared,))
    gap = by_key(situation)["next/gap"]
    assert (gap.action, gap.due) == ("check", date(2014, 9, 18))


def test_citrus_mulch_is_kept_shallow():
    # UC Master Gardeners: 2-3 in under citrus
    deep = Mulch("wood_chips", 95.0, date(2014, 3, 1), trunk_gap_mm=320.0)
    citrus = by_key(morning(TODAY, mulched(deep, species=orange())))["next/gap"]
    assert (citrus.action, citrus.reason.code) == ("clear_trunk", "mulch_too_deep")
    apple = by_key(morning(TODAY, mulched(deep)))["next/gap"]
    assert apple.action == "check"
    thinned = done("next/gap", date(2014, 3, 15))
    situation = morning(TODAY, mulched(deep, species=orange()), work=(thinned,))
    assert by_key(situation)["next/gap"].action == "check"


@pytest.mark.parametrize(("depth_mm", "is_too_deep"), [(110.0, False), (115.0, True)])
def test_four_inches_new_are_the_most_under_any_tree(depth_mm, is_too_deep):
    # UF/IFAS: 4 in when new; half an inch more or less is nobody's fault
    layer = Mulch("bark", depth_mm, TODAY, trunk_gap_mm=160.0)
    gap = by_key(morning(TODAY, mulched(layer)))["next/gap"]
    assert (gap.reason.code == "mulch_too_deep") is is_too_deep


def test_an_unmeasured_gap_is_looked_at_and_never_asked_without_mulch():
    unseen = replace(CHIPS, trunk_gap_mm=None, laid_on=date(2014, 3, 5))
    assert by_key(morning(TODAY, mulched(unseen)))["next/gap"].due == date(2014, 3, 5)
    assert "next/gap" not in by_key(morning(TODAY))


def test_a_ring_too_small_for_its_gap_is_widened():
    tiny = replace(CHIPS, ring_radius_m=0.2)
    top_up = by_key(morning(TODAY, mulched(tiny, species=orange())))["next/top_up"]
    assert top_up.amount > 0
    assert top_up.reason.fact("ring_diameter_m") == pytest.approx(3.6)


def test_readings_from_before_the_mulch_was_laid_do_not_count():
    before = Observation(1, "mulch_depth_mm", date(2013, 1, 1), 5.0)
    top_up = by_key(morning(TODAY, mulched(), observations=(before,)))["next/top_up"]
    assert top_up.reason.fact("last_depth_mm") == 75


def test_a_mulched_floor_of_unknown_depth_is_looked_at_twice():
    found = by_key(morning(TODAY, tree(floor="mulch", mulched_before=Answer.NO)))
    assert [proposal.action for proposal in found.values()] == ["check", "check"]


def test_big_loads_are_carried_in_small_ones():
    wide = replace(CHIPS, ring_radius_m=2.5)
    top_up = by_key(morning(TODAY, mulched(wide)))["next/top_up"]
    assert "carry_small_loads" in top_up.cautions


def test_nothing_is_mulched_before_a_tree_stands():
    planned = tree(
        planted_on=date(2014, 11, 1),
        entered_on=date(2014, 3, 1),
        mulched_before=Answer.NO,
    )
    assert propose(morning(TODAY, planned)) == ()


@pytest.mark.parametrize(
    ("material", "codes"),
    [
        # Common practice, no source: clippings bring weed seed
        ("clippings", {"weed_seed_in_mulch", "weedkiller_in_mulch"}),
        ("straw", {"weed_seed_in_mulch", "weedkiller_in_mulch"}),
        ("compost", {"weedkiller_in_mulch"}),
        ("bark", set()),
    ],
)
def test_what_may_come_with_a_mulch_is_said(material, codes):
    laid = replace(CHIPS, material=material)
    top_up = by_key(morning(TODAY, mulched(laid)))["next/top_up"]
    said = {code for code in top_up.cautions if code.endswith("_in_mulch")}
    assert said == codes


def test_pine_straw_is_counted_in_bales():
    straw = replace(CHIPS, material="pine_straw", depth_mm=20.0)
    fact = by_key(morning(TODAY, mulched(straw)))["next/top_up"].reason.fact
    assert fact("bales") == -(-fact("volume_l") // 135)
    chips = by_key(morning(TODAY, mulched()))["next/top_up"]
    assert chips.reason.fact("bales") is None


def test_both_schools_on_citrus_stand_beside_the_gap():
    top_up = by_key(morning(TODAY, mulched(species=orange())))["next/top_up"]
    assert top_up.reason.fact("is_citrus") is True
    assert {"fyn_workbook", "ucmg_citrus_mulch"} <= set(top_up.sources)
    assert top_up.reason.fact("gap_least_mm") < top_up.reason.fact("trunk_gap_mm")


@pytest.mark.parametrize("kind", [species(), orange()])
def test_the_gap_is_wider_than_gardeners_usually_leave(kind):
    # Common practice, no source: two to four inches
    top_up = by_key(morning(TODAY, mulched(species=kind)))["next/top_up"]
    assert top_up.reason.fact("trunk_gap_mm") > 4 * 25.4


@given(width_m=st.floats(0.3, 10), days=st.integers(0, 1500))
def test_a_top_up_never_passes_the_depth_that_is_wanted(width_m, days):
    day = LAID + timedelta(days=days)
    its_tree = mulched(replace(CHIPS, ring_radius_m=None), crown_width_m=width_m)
    fact = by_key(morning(day, its_tree))["next/top_up"].reason.fact
    assert fact("depth_mm") + fact("add_mm") <= 76
    assert fact("volume_l") >= 0
