"""When a pot is changed, for which one, and when it is left alone."""

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import WorkDone
from care.rules.potting import propose
from tests.care.rules.cases import (
    MILD,
    SHORT,
    WARM,
    WARM_SOUTH,
    morning,
    orange,
    outlook,
    species,
    tree,
)

JANUARY = date(2014, 1, 15)
APPLE = species(container_min_l=60.0)
LEMON = orange(container_min_l=75.0)


def pot(kind=APPLE, **changes: Any):
    facts: dict[str, Any] = {
        "in_container": True,
        "container_litres": 40.0,
        "planted_on": date(2011, 3, 1),
        "entered_on": date(2011, 3, 1),
    }
    return tree(kind, **{**facts, **changes})


def asked(today=JANUARY, its_tree=None, site=MILD, **more):
    found = propose(morning(today, its_tree or pot(), site, **more))
    assert len(found) <= 1
    return found[0] if found else None


def potted(on, amount=40.0, key="2013/repot", what="done"):
    return WorkDone(1, "potting", key, on, what, amount)


def checks(proposal):
    return str(proposal.reason.fact("checks")).split()


def test_a_pot_smaller_than_its_kind_lives_in_is_moved_on_every_second_year():
    task = asked()
    assert task is not None
    assert task.action == "pot_up"
    assert task.reason.code == "pot_growing"
    assert task.key == "2014/repot"
    assert task.earliest < task.due < task.latest


def test_it_is_done_in_late_winter_before_growth():
    task = asked()
    assert task is not None
    assert date(2014, 1, 1) < task.earliest < date(2014, 2, 1)
    assert task.latest < date(2014, 4, 1)


def test_the_new_pot_lies_between_the_two_published_rules():
    task = asked()
    assert task is not None
    assert task.unit == "L"
    careful, bold = task.reason.fact("careful_l"), task.reason.fact("bold_l")
    assert careful < task.amount < bold == 120


def test_citrus_takes_the_careful_step():
    task = asked(date(2014, 2, 10), pot(LEMON))
    assert task is not None
    assert task.amount == task.reason.fact("careful_l")
    assert task.reason.fact("small_steps") is True


def test_a_pot_of_full_size_gets_fresh_mix_and_shorter_roots_every_third_year():
    # Every 2-3 years (extension reprints), 3-5 (Nevada): three.
    full = pot(container_litres=60.0)
    task = asked(its_tree=full)
    assert task is not None
    assert task.action == "root_prune"
    assert task.amount == 60.0
    assert task.reason.fact("roots_off_mm") == 25.0
    assert task.reason.fact("roots_off_most_mm") == 50.0
    assert {"roots_trimmed", "top_cut", "no_feed_month"} <= set(checks(task))
    rested = asked(its_tree=full, work=(potted(date(2012, 3, 1)),))
    assert rested is not None
    assert rested.key == "2015/repot"
    assert not rested.is_firm


@pytest.mark.parametrize(("early_days", "is_due"), [(60, True), (61, False)])
def test_a_window_two_months_before_the_years_are_full_will_do(early_days, is_due):
    task = asked()
    assert task is not None
    full_on = task.latest + timedelta(days=early_days)
    planted = full_on - timedelta(days=round(2 * 365.25))
    its_tree = pot(planted_on=planted, entered_on=planted)
    soon = asked(its_tree=its_tree)
    assert (soon is not None and soon.key == "2014/repot") is is_due


def test_a_crown_that_outdrinks_its_pot_is_moved_on_at_the_next_window():
    thirsty = outlook(is_container=True, crown_area_m2=4.0)
    grown = pot(container_litres=80.0, crown_width_m=2.3)
    task = asked(its_tree=grown, water=thirsty, work=(potted(date(2013, 2, 20)),))
    assert task is not None
    assert task.reason.code == "pot_cramped"
    assert "crown_measured" in task.reason.would_change


def test_a_pot_no_one_can_move_has_its_roots_cut_instead():
    thirsty = outlook(is_container=True, crown_area_m2=9.0)
    task = asked(its_tree=pot(container_litres=150.0), water=thirsty)
    assert task is not None
    assert (task.action, task.reason.code) == ("root_prune", "pot_full")


def test_enough_water_in_the_pot_changes_nothing():
    easy = outlook(is_container=True, crown_area_m2=0.5)
    task = asked(water=easy)
    assert task is not None
    assert task.reason.code == "pot_growing"


def test_a_pot_is_left_alone_for_a_season_after_each_potting():
    thirsty = outlook(is_container=True, crown_area_m2=4.0)
    recent = (potted(date(2013, 9, 1)),)
    task = asked(water=thirsty, work=recent)
    assert task is not None
    assert task.key == "2015/repot"


def test_an_unknown_past_asks_for_a_look_at_the_roots():
    unknown = pot(planted_on=None, entered_on=date(2013, 6, 1))
    task = asked(its_tree=unknown)
    assert task is not None
    assert task.action == "look_at_roots"
    assert task.amount is None
    assert "slip_out" in checks(task)
    assert "damp_potting_dust" not in task.cautions


def test_planted_long_before_it_was_entered_is_unknown_too():
    bought = pot(planted_on=date(2009, 3, 1), entered_on=date(2013, 6, 1))
    task = asked(its_tree=bought)
    assert task is not None
    assert task.reason.code == "pot_ask_roots"


def test_a_look_counts_for_two_years():
    unknown = pot(planted_on=None, entered_on=date(2010, 6, 1))
    look = potted(date(2013, 3, 1), amount=None)
    task = asked(its_tree=unknown, work=(look,))
    assert task is not None
    assert task.key == "2015/repot"


def test_what_was_skipped_is_asked_for_next_season():
    skipped = potted(date(2014, 1, 10), None, "2014/repot", "skipped")
    task = asked(work=(skipped,))
    assert task is not None
    assert task.key == "2015/repot"


@pytest.mark.parametrize(
    "its_tree",
    [
        tree(),
        pot(container_litres=None),
        pot(planted_on=date(2014, 6, 1)),
    ],
    ids=["in the ground", "of unknown size", "planned"],
)
def test_others_are_not_potted(its_tree):
    assert asked(its_tree=its_tree) is None


def test_nothing_is_due_soon_after_planting():
    assert (
        asked(its_tree=pot(planted_on=date(2013, 11, 1), entered_on=date(2013, 11, 1)))
        is None
    )


def test_a_feeding_pushes_it_out_of_its_month():
    # Published: not in the same month as a feeding.
    fed = WorkDone(1, "feeding", "2014/1", date(2014, 2, 1))
    task = asked(date(2014, 2, 2), work=(fed,))
    assert task is not None
    assert task.earliest == date(2014, 3, 1)
    assert task.latest >= task.due >= task.earliest


def test_a_feeding_at_the_very_end_leaves_its_last_day():
    fed = WorkDone(1, "feeding", "2014/1", date(2014, 3, 5))
    task = asked(date(2014, 3, 6), work=(fed,))
    assert task is not None
    assert task.earliest == task.latest


def test_a_feeding_left_out_is_none():
    fed = WorkDone(1, "feeding", "2014/1", date(2014, 2, 1), "skipped")
    task, plain = asked(work=(fed,)), asked()
    assert task is not None
    assert plain is not None
    assert task.earliest == plain.earliest


@pytest.mark.parametrize(
    ("facts", "is_heavy"),
    [
        # A soaked 60 L pot passes 50 kg; one person lifts 23 (NIOSH, from memory).
        ({}, True),
        ({"container_litres": 9.0}, False),
        ({"container_litres": 15.0, "container_medium": "soil"}, True),
    ],
)
def test_two_people_lift_what_is_heavy(facts, is_heavy):
    task = asked(its_tree=pot(**facts))
    assert task is not None
    assert ("two_people_lift" in task.cautions) is is_heavy
    assert ("move_before_watering" in task.cautions) is is_heavy


def test_poisonous_sap_is_said_where_something_is_cut():
    kind = species(container_min_l=30.0, toxicity_note="sap irritates skin")
    task = asked(its_tree=pot(kind))
    assert task is not None
    assert "toxic_parts" in task.cautions


@given(
    planted=st.dates(date(2008, 1, 1), date(2013, 12, 31)),
    today=st.dates(date(2014, 1, 1), date(2016, 12, 31)),
    litres=st.floats(5, 200),
    is_citrus=st.booleans(),
)
@settings(max_examples=80)
def test_one_task_a_season_and_the_same_tomorrow(planted, today, litres, is_citrus):
    its_tree = pot(
        LEMON if is_citrus else APPLE,
        container_litres=litres,
        planted_on=planted,
        entered_on=planted,
    )
    for site in (MILD, SHORT, WARM, WARM_SOUTH):
        now = asked(today, its_tree, site)
        tomorrow = asked(today + timedelta(days=1), its_tree, site)
        assert now is None or now.latest >= today
        if now is not None and now.latest > today:
            assert tomorrow is not None
            assert (tomorrow.key, tomorrow.due) == (now.key, now.due)


def test_the_south_pots_half_a_year_later():
    north = asked(date(2014, 1, 15), pot(LEMON), WARM)
    moved = pot(LEMON, planted_on=date(2011, 9, 1), entered_on=date(2011, 9, 1))
    south = asked(date(2014, 7, 15), moved, WARM_SOUTH)
    assert north is not None
    assert south is not None
    assert north.key == south.key
    assert timedelta(days=178) <= south.due - north.due <= timedelta(days=186)
