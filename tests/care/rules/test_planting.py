"""What a planned tree asks for before and on its day."""

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Place, SoilTest, Stay, Stock, Support, WorkDone
from care.rules.planting import propose
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

ENTERED = date(2014, 10, 1)
PLANTED = date(2015, 2, 20)  # a Friday


def planned(kind=None, **changes: Any):
    facts: dict[str, Any] = {
        "planted_on": PLANTED,
        "entered_on": ENTERED,
        "crown_width_m": None,
        "stock_litres": 24.6,
    }
    return tree(kind, **{**facts, **changes})


def asked(today=ENTERED, its_tree=None, site=MILD, **more):
    found = propose(morning(today, its_tree or planned(), site, **more))
    return {proposal.action: proposal for proposal in found}


def done(step, on=date(2015, 1, 20), what="done"):
    return WorkDone(1, "planting", f"2015/{step}", on, what)


def checks(proposal):
    return str(proposal.reason.fact("checks")).split()


def test_a_planned_tree_asks_for_soil_lines_drainage_and_then_planting():
    steps = asked()
    assert list(steps) == ["ground", "locate", "drainage", "plant"]
    dues = [proposal.due for proposal in steps.values()]
    assert dues == sorted(dues)
    assert all(proposal.key == f"2015/{step}" for step, proposal in steps.items())


def test_the_call_comes_three_business_days_before_the_first_digging():
    # US locate services: two to three business days.
    steps = asked()
    dig = steps["drainage"].due
    assert steps["locate"].latest == date(2015, 2, 5)
    assert dig == date(2015, 2, 10)
    assert steps["locate"].reason.fact("dig_on") == dig


def test_a_hole_that_drains_badly_leaves_a_week_for_a_mound():
    # Common practice, no source
    steps = asked()
    planting = steps["plant"].due
    assert planting - steps["drainage"].latest == timedelta(days=7)


def test_with_the_drainage_known_the_first_digging_is_the_planting():
    steps = asked(its_tree=planned(drainage_hours=5.0))
    assert "drainage" not in steps
    assert steps["locate"].reason.fact("dig_on") == PLANTED


def test_a_drainage_test_that_was_made_is_not_asked_for_again():
    steps = asked(date(2015, 2, 15), work=(done("drainage"),))
    assert "drainage" not in steps
    assert steps["locate"].reason.fact("dig_on") == PLANTED


def test_nothing_is_planted_before_somebody_asked_where_lines_lie():
    plant = asked(PLANTED)["plant"]
    assert not plant.is_firm
    assert plant.reason.fact("blocked_by") == "plant_locate"
    assert plant.cautions[0] == "wait_for_marks"
    assert "wait_for_marks" in asked()["drainage"].cautions


def test_once_asked_the_planting_can_be_ticked():
    plant = asked(PLANTED, work=(done("locate"),))["plant"]
    assert plant.is_firm
    assert plant.reason.fact("blocked_by") == ""
    assert "wait_for_marks" not in plant.cautions
    assert plant.due == PLANTED


def test_a_late_call_moves_the_planting_behind_the_marks():
    plant = asked(PLANTED, work=(done("locate", on=PLANTED),))["plant"]
    assert plant.due == date(2015, 2, 25)
    assert plant.earliest == plant.due


def test_a_call_left_out_frees_the_planting_without_marks():
    plant = asked(PLANTED, work=(done("locate", what="skipped"),))["plant"]
    assert plant.is_firm
    assert plant.reason.fact("marks_from") is None


def test_the_sheet_begins_with_drainage_flare_and_roots():
    sheet = checks(asked()["plant"])
    order = [
        "drainage_known",
        "flare_found",
        "circling_roots",
        "graft_above",
        "hole_depth",
        "native_backfill",
        "settle_with_water",
        "no_feed_in_hole",
        "fruit_off",
    ]
    assert [code for code in sheet if code in order] == order


@pytest.mark.parametrize(
    ("facts", "has", "has_not"),
    [
        ({"stock": Stock.BALLED}, "wire_burlap", "head_back"),
        ({"stock": Stock.BARE_ROOT}, "head_back", "circling_roots"),
        ({"is_grafted": False}, "flare_found", "graft_above"),
        ({"kind": species("fig")}, "hole_depth", "graft_above"),
        ({"support": Support.PERMANENT}, "permanent_post", "stake_if_windy"),
        ({"has_trunk_guard": True}, "mulch_ring", "trunk_guard"),
        ({"drainage_hours": 30.0}, "raised_mound", "drainage_known"),
        ({"drainage_hours": 6.0}, "hole_depth", "raised_mound"),
        ({"kind": species("fig")}, "fig_deeper", "flare_found"),
        (
            {"kind": species("blueberry", feed_group="berry_acid", habit="shrub")},
            "acid_backfill",
            "native_backfill",
        ),
        ({"kind": species("banana", habit="herb")}, "hole_depth", "stake_if_windy"),
    ],
)
def test_what_is_different_about_some_trees(facts, has, has_not):
    sheet = checks(asked(its_tree=planned(**facts))["plant"])
    assert has in sheet
    assert has_not not in sheet


def test_the_hole_and_the_water_are_reckoned_from_the_stock():
    reason = asked()["plant"].reason
    # A pot of 24.6 L is 0.33 m wide and 0.28 m deep, its trunk 16.8 mm, 0.66 in:
    # two to three gallons an inch are 5 to 7.5 L.
    assert reason.fact("hole_width_m") == pytest.approx(0.67)
    assert reason.fact("hole_width_most_m") == pytest.approx(1.0)
    assert reason.fact("hole_depth_m") == pytest.approx(0.24)
    assert reason.fact("settle_l") == pytest.approx(5.0, abs=0.1)
    assert reason.fact("settle_most_l") == pytest.approx(7.5, abs=0.1)


def test_ground_that_stays_wet_for_two_days_stops_the_planting():
    plant = asked(its_tree=planned(drainage_hours=60.0))["plant"]
    assert "drains_too_slowly" in plant.cautions
    assert plant.reason.fact("drainage") == "unsuitable"


@pytest.mark.parametrize(
    ("height_m", "wires", "is_said"),
    [(6.0, True, False), (9.0, True, True), (9.0, False, False), (None, True, True)],
)
def test_a_tall_kind_is_refused_under_wires(height_m, wires, is_said):
    kind = species(mature_height_m=height_m)
    plant = asked(its_tree=planned(kind, near_wires=wires))["plant"]
    assert ("too_tall_for_lines" in plant.cautions) is is_said


def test_distances_are_hints_from_the_height_when_grown():
    reason = asked(its_tree=planned(species(mature_height_m=13.0)))["plant"].reason
    assert reason.fact("wall_m") == pytest.approx(4.6)
    assert reason.fact("septic_m") == pytest.approx(13.0)
    unknown = asked(its_tree=planned(species(mature_height_m=None)))["plant"].reason
    assert unknown.fact("wall_m") is None
    assert unknown.fact("septic_m") is None


@pytest.mark.parametrize(
    ("spacing_m", "is_close"), [(None, False), (1.5, True), (3.0, False)]
)
def test_a_spacing_below_the_kinds_least_is_said(spacing_m, is_close):
    its_tree = planned(species(spacing_min_m=1.8), spacing_m=spacing_m)
    assert asked(its_tree=its_tree)["plant"].reason.fact("too_close") is is_close


@pytest.mark.parametrize(
    ("facts", "is_heavy"),
    [
        ({}, True),
        ({"stock_litres": 9.0}, False),
        ({"stock": Stock.BARE_ROOT}, False),
    ],
)
def test_a_heavy_ball_is_carried_by_two(facts, is_heavy):
    plant = asked(its_tree=planned(**facts))["plant"]
    assert ("two_people_lift" in plant.cautions) is is_heavy


def test_soil_and_rules_are_asked_about_in_time_for_a_laboratory():
    ground = asked()["ground"]
    assert ground.latest == PLANTED - timedelta(days=28)
    assert checks(ground) == ["lead", "plant_quarantine", "soil_test"]


def test_an_invasive_kind_and_a_tested_soil_change_what_is_asked():
    kind = species(invasive_note="on some lists")
    site = WARM
    tested = morning(ENTERED, planned(kind), site)
    assert "invasive" in checks(propose(tested)[0])
    known = type(site)(
        latitude_deg=26.0,
        elevation_m=3.0,
        soil_texture="sand",
        is_frost_free=True,
        soil_test=SoilTest(date(2014, 1, 1), ph=6.0),
    )
    assert "soil_test" not in checks(asked(site=known)["ground"])


def test_a_day_outside_the_time_for_such_stock_is_answered_by_a_better_one():
    late = planned(stock=Stock.BARE_ROOT, planted_on=date(2015, 6, 20))
    reason = asked(date(2015, 3, 1), its_tree=late)["plant"].reason
    better, end = reason.fact("better_on"), reason.fact("window_end")
    assert isinstance(better, date)
    assert isinstance(end, date)
    assert date(2015, 3, 1) <= better <= end
    assert better != late.planted_on


def test_a_day_inside_it_needs_no_better_one():
    its_tree = planned(stock=Stock.BARE_ROOT)
    assert asked(its_tree=its_tree)["plant"].reason.fact("better_on") is None


def test_a_plant_for_a_pot_digs_nothing():
    kind = species(container_min_l=60.0)
    pot = planned(kind, in_container=True, container_litres=20.0)
    steps = asked(its_tree=pot)
    assert list(steps) == ["plant"]
    assert steps["plant"].reason.code == "plant_pot"
    assert {"drain_holes", "soilless_mix", "no_gravel"} <= set(checks(steps["plant"]))
    assert steps["plant"].cautions == ()


@pytest.mark.parametrize(
    ("facts", "is_heavy"),
    [
        ({"container_litres": 60.0}, True),
        ({}, True),
        ({"container_litres": 9.0}, False),
    ],
)
def test_a_heavy_pot_is_lifted_by_two(facts, is_heavy):
    pot = planned(in_container=True, is_grafted=False, **facts)
    plant = asked(its_tree=pot)["plant"]
    assert ("two_people_lift" in plant.cautions) is is_heavy
    assert "graft_above" not in checks(plant)


@pytest.mark.parametrize(
    "facts",
    [
        {"planted_on": None},
        {"planted_on": ENTERED},
        {"planted_on": date(2010, 3, 1)},
    ],
)
def test_a_tree_that_stands_already_is_not_planted(facts):
    assert asked(its_tree=planned(**facts)) == {}


def test_what_was_planted_or_is_long_past_is_not_asked_for():
    assert asked(PLANTED, work=(done("plant", on=PLANTED),)) == {}
    assert "plant" in asked(PLANTED + timedelta(days=10))
    assert asked(PLANTED + timedelta(days=11)) == {}


def test_a_planting_moved_over_the_turn_of_the_year_keeps_what_was_done():
    # Planned for November, which begins a care year, and planted in October.
    moved = planned(planted_on=date(2014, 10, 30))
    was = WorkDone(1, "planting", "2015/plant", date(2014, 10, 30))
    assert asked(date(2014, 11, 1), moved, work=(was,)) == {}


def test_a_step_that_was_closed_is_not_asked_for():
    steps = asked(date(2015, 1, 25), work=(done("ground"),))
    assert "ground" not in steps


def test_a_plan_made_three_days_ahead_is_late_with_nothing():
    entered = PLANTED - timedelta(days=3)
    steps = asked(entered, planned(entered_on=entered))
    assert all(proposal.earliest >= entered for proposal in steps.values())


@given(
    ahead=st.integers(1, 300),
    later=st.integers(0, 300),
    planted=st.dates(date(2014, 1, 1), date(2016, 12, 31)),
    stock=st.sampled_from(list(Stock)),
    is_citrus=st.booleans(),
)
@settings(max_examples=80)
def test_keys_and_windows_hold_from_day_to_day(ahead, later, planted, stock, is_citrus):
    entered = planted - timedelta(days=ahead)
    its_tree = planned(
        orange() if is_citrus else None,
        planted_on=planted,
        entered_on=entered,
        stock=stock,
        stays=(Stay(Place.OUTDOORS, entered),),
    )
    today = entered + timedelta(days=min(later, ahead))
    for site in (MILD, SHORT, WARM, WARM_SOUTH):
        first, then = asked(entered, its_tree, site), asked(today, its_tree, site)
        assert set(first) == set(then)
        for step, proposal in first.items():
            assert proposal.key == then[step].key
            assert proposal.due == then[step].due
            assert proposal.earliest >= entered


def test_the_south_names_its_season_by_the_year_growth_starts():
    planted = date(2014, 8, 20)
    its_tree = planned(planted_on=planted, entered_on=date(2014, 6, 1))
    steps = asked(date(2014, 6, 1), its_tree, WARM_SOUTH)
    assert {proposal.key.split("/")[0] for proposal in steps.values()} == {"2014"}
