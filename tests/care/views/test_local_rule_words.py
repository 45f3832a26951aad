"""What a local watering rule does to a day is told, and its sum closes."""

from dataclasses import replace
from datetime import date

import pytest

from care.facts import MonthDay, WateringRule
from care.models import Task
from care.planning.allowed_days import keep_to_rules
from care.planning.reconcile import reason_values
from care.rules import watering
from care.views.log_lines import DONE_TITLES
from care.views.reasons import CHANGES, sentence
from care.views.steps import steps_of
from care.views.task_working import task_working
from care.views.wording import ROW_VERBS, TITLES
from orchard.models import Tree
from orchard.units import UnitSystem
from tests.care.rules.cases import MILD, morning, outlook, tree

MONDAY, THURSDAY = date(2025, 7, 7), date(2025, 7, 10)
TWO_DAYS = WateringRule(
    MonthDay(5, 1), MonthDay(9, 30), frozenset({2, 5}), source="County order 7"
)
DRIPPED = tree(drip_flow_l_per_min=0.2)


def moved(rule=TWO_DAYS, today=MONDAY, its_tree=None, **water):
    situation = morning(
        today,
        its_tree,
        site=replace(MILD, watering_rules=(rule,)),
        water=outlook(**water),
    )
    proposal = keep_to_rules(watering.propose(situation)[0], situation)
    task = Task(kind="watering", action=proposal.action, amount=proposal.amount)
    task.tree = Tree(species_key="apple")
    task.reason = reason_values(proposal)
    task.cautions = list(proposal.cautions)
    return task


def told(task, today=MONDAY):
    return sentence(task, today, UnitSystem.METRIC)


def test_a_moved_watering_says_from_when_and_by_which_rule():
    words = told(moved(earliest_in_days=1, due_in_days=4))
    assert (
        "Moved from Friday. The local watering rule (County order 7) allows water on "
        "Wednesdays and Saturdays only." in words
    )


def test_a_watering_that_only_lost_days_says_no_move():
    words = told(moved(earliest_in_days=1, due_in_days=2, latest_in_days=4))
    assert "Moved from" not in words
    assert words.endswith("allows water on Wednesdays and Saturdays only.")


def test_a_quiet_week_makes_a_late_day_doubtful():
    words = told(moved(due_in_days=0, latest_in_days=4, unknown_water_days=9))
    assert words.endswith(
        "If nobody watered, that is late for it: feel the soil, and ask for an "
        "exception if it is dry."
    )


def test_where_it_hurts_it_says_so_and_what_is_left_to_do():
    wednesday = replace(TWO_DAYS, weekdays=frozenset({2}))
    task = moved(wednesday, THURSDAY, due_in_days=2, latest_in_days=4)
    words = told(task, THURSDAY)
    assert (
        "The local watering rule (County order 7) hurts here: the next day it allows "
        "is Wednesday, and it likely suffers from Tuesday on. Ask for an exception, or "
        "shade it and mulch it until then." in words
    )
    assert (task.kind, task.action) in TITLES
    assert (task.kind, task.action) in DONE_TITLES
    assert (task.kind, task.action) not in ROW_VERBS  # never a whole row unread
    cautions = task_working(task, THURSDAY, UnitSystem.METRIC, None).cautions
    assert cautions[0].startswith("Stop: the local watering rule forbids")


def test_where_no_day_is_allowed_it_says_so():
    never = WateringRule(MonthDay(1, 1), MonthDay(12, 31), frozenset())
    assert "The local watering rule hurts here: it allows no day at all" in told(
        moved(never)
    )
    summer = replace(TWO_DAYS, weekdays=frozenset(), end=MonthDay(7, 9), source="")
    words = told(moved(summer, due_in_days=1, latest_in_days=5))
    assert words.endswith(
        "Moved from tomorrow. The local watering rule allows no water in those days."
    )


def test_a_dripped_tree_is_watered_by_hand_where_the_rule_spares_it():
    spared = replace(
        TWO_DAYS, weekdays=frozenset({0}), spares_hand_watering=True, source=""
    )
    task = moved(spared, THURSDAY, DRIPPED, due_in_days=2, latest_in_days=3)
    assert told(task, THURSDAY).endswith(
        "but spares watering by hand: use a can or hold the hose."
    )
    cautions = task_working(task, THURSDAY, UnitSystem.METRIC, None).cautions
    assert any("by can or by a hose in your hand" in words for words in cautions)


@pytest.mark.parametrize("due", [0, 4])
def test_the_litres_of_the_new_day_close_with_the_numbers_shown(due):
    task = moved(
        earliest_in_days=0,
        due_in_days=due,
        latest_in_days=due + 3,
        water_net_l=9.0,
        water_gross_l=10.0,
        working=(("efficiency", 0.9),),
    )
    steps = {step.title: step for step in steps_of(task, None)}
    step = steps["What the soil is short of on the day the local rule allows"]
    assert step.again == pytest.approx(step.result.value, abs=0.01)
    pour = steps["What to pour"]
    assert pour.again == pytest.approx(pour.result.value, abs=0.01)
    assert task.amount >= pour.result.value


def test_the_change_has_words():
    assert "watering_rule_changed" in CHANGES
