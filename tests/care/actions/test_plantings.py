"""Wanted trees get their day, once, and give it back without a loss."""

from datetime import UTC, datetime, timedelta

import pytest

from care.actions.logbook import observe
from care.actions.plantings import (
    NEVER_PLANTED,
    LoggedError,
    StandsError,
    change_wanted,
    clear_day,
    make_planting,
    plan_tree,
    plan_trees,
    planted_trees,
    put_away,
    remove_wanted,
    rename_planting,
    stands,
    want_trees,
)
from care.actions.tasks import complete_task, take_back
from care.models import Task
from care.planning.gather_layout import layout_facts
from care.planning.plan_site import ensure_planned
from orchard.actions.trees import change_tree, end_tree
from orchard.models import AuditEntry, Site, Tree, WantedTree
from tests.conftest import TODAY

NOW = datetime(2025, 7, 2, 15, tzinfo=UTC)
DAY = timedelta(days=1)
SOON = TODAY + 30 * DAY


@pytest.fixture
def planting(site):
    return make_planting(site=site, name="South side", today=TODAY, person=None)


@pytest.fixture
def fig(planting, site):
    values = {
        "species_key": "fig",
        "cultivar": "Brown Turkey",
        "rootstock": "own",
        "block": site.blocks.first(),
        "stock_litres": 12.0,
        "caliper_mm": 15.0,
        "support": "stake",
        "x_m": 3.0,
        "y_m": 4.5,
        "mulch_depth_mm": 75.0,
    }
    (one,) = want_trees(planting=planting, values=values, names=["Fig"], person=None)
    return one


def plan(wanted, on=SOON, today=TODAY):
    return plan_tree(wanted=wanted, on=on, today=today, person=None)


def test_a_day_makes_one_tree_with_all_that_is_known(fig, site):
    tree = plan(fig)
    assert plan(fig) == tree == Tree.objects.get()
    assert (tree.name, tree.species_key, tree.cultivar) == ("Fig", "fig", fig.cultivar)
    assert (tree.x_m, tree.y_m, tree.rootstock) == (3.0, 4.5, "own")
    assert (tree.stock_litres, tree.caliper_mm, tree.support) == (12.0, 15.0, "stake")
    assert (tree.block, tree.planted_on) == (site.blocks.first(), SOON)
    assert tree.is_planned(TODAY)
    # Nothing is laid before it stands.
    assert (tree.mulch_material, tree.mulch_depth_mm) == ("", None)
    fig.refresh_from_db()
    assert (fig.tree, fig.plant_on) == (tree, SOON)
    # A copy that was read before the day was set knows no better, and makes no second.
    stale = WantedTree.objects.get(pk=fig.pk)
    stale.tree = stale.plant_on = None
    assert plan(stale, SOON + DAY) == tree
    tree.refresh_from_db()
    assert tree.planted_on == SOON + DAY
    told = AuditEntry.objects.filter(what="planting_day_set")
    assert [entry.after for entry in told.order_by("id")] == [
        {"plant_on": str(SOON)},
        {"plant_on": str(SOON + DAY)},
    ]


def test_planning_stays_the_same_when_a_wanted_tree_is_planned(fig, site):
    before = layout_facts(site, TODAY)
    tree = plan(fig)
    ensure_planned(Site.objects.get(pk=site.pk), TODAY)
    tasks = list(tree.tasks.values_list("key", "due", "status"))
    assert {key.split("/")[1] for key, *_ in tasks} >= {"plant", "locate"}
    plan(fig)
    ensure_planned(Site.objects.get(pk=site.pk), TODAY)
    assert list(tree.tasks.values_list("key", "due", "status")) == tasks
    (was,), (now,) = before.plants, layout_facts(site, TODAY).plants
    assert (was.place_m, was.species.key) == (now.place_m, now.species.key)


def test_a_day_is_taken_back_with_the_tree_it_made(fig):
    plan(fig)
    clear_day(wanted=fig, today=TODAY, person=None)
    assert not Tree.objects.exists()
    fig.refresh_from_db()
    assert (fig.tree, fig.plant_on) == (None, None)
    clear_day(wanted=fig, today=TODAY, person=None)
    assert AuditEntry.objects.filter(what="planting_day_cleared").count() == 1


def test_what_stands_in_its_log_is_not_lost_with_a_day(fig):
    tree = plan(fig)
    entry = observe(
        tree=tree, what="drainage_hours", person=None, on=TODAY, now=NOW, value=6.0
    )
    for takes_away in (clear_day, remove_wanted):
        with pytest.raises(LoggedError):
            takes_away(wanted=fig, today=TODAY, person=None)
    fig.refresh_from_db()
    assert fig.tree == tree
    # Taken back, the entry keeps its row, so the tree keeps its own.
    take_back(entry=entry, person=None, now=NOW)
    remove_wanted(wanted=fig, today=TODAY, person=None)
    tree.refresh_from_db()
    assert (tree.status, tree.ended_reason) == ("removed", NEVER_PLANTED)
    assert not WantedTree.objects.exists()


def test_a_tree_that_stands_is_changed_at_its_own_page(fig):
    tree = plan(fig)
    later = SOON + DAY
    # Its day went by, and nobody said that it was planted: it can be moved.
    assert not stands(fig, later)
    plan(fig, later + DAY, later)
    task = Task.objects.create(
        site=tree.site,
        tree=tree,
        kind="planting",
        key="2025/plant",
        action="plant",
        earliest=SOON,
        due=SOON,
        latest=later,
    )
    complete_task(task=task, person=None, on=later, now=NOW)
    fig = WantedTree.objects.get(pk=fig.pk)
    assert stands(fig, later)
    assert planted_trees([None, tree.pk]) == {tree.pk}
    given = {"wanted": fig, "today": later, "person": None}
    for change in (
        lambda: clear_day(**given),
        lambda: remove_wanted(**given),
        lambda: change_wanted(values={"cultivar": "Dauphine"}, **given),
        lambda: plan_tree(on=later + DAY, **given),
    ):
        with pytest.raises(StandsError):
            change()
    assert Tree.objects.get().planted_on == later


def test_a_tree_that_was_lost_or_stood_long_ago_is_no_longer_wanted(fig):
    tree = plan(fig)
    end_tree(tree=tree, status="lost", on=TODAY, reason="Frost")
    fig = WantedTree.objects.get(pk=fig.pk)
    assert stands(fig, TODAY)
    change_tree(tree=tree, values={"planted_on": None})
    assert stands(WantedTree.objects.get(pk=fig.pk), TODAY)


def test_a_change_goes_to_the_planned_tree_and_leaves_the_rest(fig):
    tree = plan(fig)
    change_tree(tree=tree, values={"cultivar": "Dauphine"})
    same = {"cultivar": fig.cultivar, "mulch_depth_mm": 90.0, "caliper_mm": 20.0}
    change_wanted(wanted=fig, values=same, today=TODAY, person=None)
    tree.refresh_from_db()
    assert (tree.cultivar, tree.caliper_mm) == ("Dauphine", 20.0)
    fig.refresh_from_db()
    assert (fig.cultivar, fig.mulch_depth_mm) == ("Brown Turkey", 90.0)
    count = AuditEntry.objects.count()
    change_wanted(wanted=fig, values=same, today=TODAY, person=None)
    assert AuditEntry.objects.count() == count


def test_a_batch_is_planned_whole_or_not_at_all(planting, site):
    apples = want_trees(
        planting=planting,
        values={"species_key": "apple", "name": "ignored"},
        names=["Apple", "Apple 2"],
        person=None,
    )
    revision = Site.objects.get(pk=site.pk).revision
    trees = plan_trees(wanted=apples, on=SOON, today=TODAY, person=None)
    assert [tree.name for tree in trees] == ["Apple", "Apple 2"]
    assert Site.objects.get(pk=site.pk).revision > revision
    apples[1].tree.planted_on = TODAY
    apples[1].tree.save(update_fields=["planted_on"])
    with pytest.raises(StandsError):
        plan_trees(wanted=apples, on=SOON + DAY, today=TODAY, person=None)
    assert Tree.objects.get(name="Apple").planted_on == SOON


def test_a_planting_is_renamed_put_away_and_taken_out(planting, fig, site):
    rename_planting(planting=planting, name="Long bed", person=None)
    rename_planting(planting=planting, name="Long bed", person=None)
    put_away(planting=planting, person=None)
    put_away(planting=planting, person=None)
    assert layout_facts(site, TODAY).plants == ()
    put_away(planting=planting, person=None, is_put_away=False)
    assert [one.name for one in layout_facts(site, TODAY).plants] == ["Fig"]
    told = AuditEntry.objects.filter(what__startswith="planting").order_by("id")
    assert [entry.what for entry in told] == [
        "planting_made",
        "planting_renamed",
        "planting_put_away",
        "planting_taken_out",
    ]
