"""The sums behind sulfur and washes of pots close with the numbers shown."""

from dataclasses import replace
from datetime import date

import pytest

from care.facts import SoilTest
from care.models import Task
from care.planning.reconcile import reason_values
from care.rules import flushing, soil
from care.views.steps import steps_of
from orchard.models import Tree
from tests.care.rules.cases import MILD, morning, species, tree

SPRING = date(2014, 3, 10)
BLUEBERRY = species(
    "blueberry_highbush", feed_group="berry_acid", ph_min=4.0, ph_max=5.0
)
BUSH = tree(BLUEBERRY, crown_width_m=1.2)
PLANNED = replace(BUSH, planted_on=date(2014, 11, 1), entered_on=date(2014, 1, 5))
TESTED = replace(MILD, soil_test=SoilTest(date(2013, 10, 1), ph=6.0))
SALTY = replace(MILD, is_water_salty=True)
POT = tree(in_container=True, container_litres=17.0)


def steps(proposal):
    task = Task(kind=proposal.kind, action=proposal.action, amount=proposal.amount)
    task.tree = Tree(species_key="blueberry_highbush")
    task.reason = reason_values(proposal)
    return steps_of(task, None)


@pytest.mark.parametrize(
    ("proposal", "count"),
    [
        (soil.propose(morning(SPRING, BUSH, TESTED))[1], 2),
        (soil.propose(morning(SPRING, PLANNED, TESTED))[1], 2),
        (flushing.propose(morning(SPRING, POT, SALTY))[0], 1),
    ],
    ids=["planted", "bed", "pot"],
)
def test_every_sum_closes(proposal, count):
    found = steps(proposal)
    assert len(found) == count
    for step in found:
        assert step.again == pytest.approx(step.result.value, rel=0.01)


def test_a_soil_test_is_no_sum():
    assert steps(soil.propose(morning(SPRING, BUSH))[0]) == ()
