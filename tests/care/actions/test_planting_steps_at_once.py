"""Several people tick a sheet, or say that its tree stands, at the same instant."""

from datetime import timedelta

import pytest
from django.utils import timezone

from care.actions.planting_steps import Said, stand, tick_step
from care.actions.plantings import make_planting, plan_tree, want_trees
from care.models import LogEntry, PlantingStep, Task
from care.planning.plan_site import plan_site
from orchard.models import Site, Tree, WantedTree
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


def said():
    return Said(None, TODAY, timezone.now())


def test_eight_ticks_of_a_step_are_one_and_so_is_its_task(site, fig):
    day = TODAY + timedelta(days=20)
    plan_tree(wanted=fig, on=day, today=TODAY, person=None)
    plan_site(Site.objects.get(pk=site.pk), TODAY, timezone.now())

    def tick():
        return tick_step(wanted=a_copy(fig), code="locate", said=said())[1]

    assert sorted(at_once(tick)).count(True) == 1
    assert PlantingStep.objects.count() == 1
    assert Task.objects.get(action="locate").status == "done"
    assert LogEntry.objects.filter(action="locate").count() == 1


def test_eight_people_who_say_that_it_stands_make_one_tree_and_one_planting(fig):
    tick_step(wanted=fig, code="mulch_ring", said=said())

    def say():
        return stand(wanted=a_copy(fig), said=said(), today=TODAY).pk

    assert len(set(at_once(say))) == 1
    assert Tree.objects.get().planted_on == TODAY
    assert LogEntry.objects.filter(action="plant").count() == 1
    assert LogEntry.objects.filter(kind="mulching").count() == 1
