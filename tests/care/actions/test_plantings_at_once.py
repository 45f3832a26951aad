"""Several people set the day of one wanted tree at the same instant."""

import itertools
import threading
from datetime import timedelta

import pytest

from care.actions.plantings import clear_day, make_planting, plan_tree, want_trees
from orchard.models import Tree, WantedTree
from tests.care.test_two_people import at_once
from tests.conftest import TODAY

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.postgresql]


@pytest.fixture
def fig(site):
    planting = make_planting(site=site, name="Beds", today=TODAY, person=None)
    (one,) = want_trees(
        planting=planting, values={"species_key": "fig"}, names=["Fig"], person=None
    )
    return one


def a_copy(fig):
    return WantedTree.objects.select_related("planting__site__orchard").get(pk=fig.pk)


def test_a_day_set_by_eight_people_at_once_makes_one_tree(fig):
    days = itertools.count(10)
    lock = threading.Lock()

    def plan():
        with lock:
            on = TODAY + timedelta(days=next(days))
        return plan_tree(wanted=a_copy(fig), on=on, today=TODAY, person=None).pk

    assert len(set(at_once(plan))) == 1
    tree = Tree.objects.get()
    fig.refresh_from_db()
    assert fig.tree == tree
    assert fig.plant_on == tree.planted_on


def test_a_day_set_and_taken_back_at_once_leaves_no_tree_without_its_wish(fig):
    turns = itertools.cycle([True, False])
    lock = threading.Lock()
    given = {"today": TODAY, "person": None}

    def act():
        with lock:
            sets = next(turns)
        if sets:
            plan_tree(wanted=a_copy(fig), on=TODAY + timedelta(days=9), **given)
        else:
            clear_day(wanted=a_copy(fig), **given)

    for _ in range(3):
        at_once(act)
        fig.refresh_from_db()
        assert list(Tree.objects.all()) == ([fig.tree] if fig.tree else [])
        assert (fig.plant_on is None) is (fig.tree is None)
