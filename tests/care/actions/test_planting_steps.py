"""A planting sheet ticked step by step until the tree stands, and taken back."""

from datetime import UTC, date, datetime, time, timedelta

import pytest

from care.actions.logbook import observe
from care.actions.planting_steps import (
    Said,
    StandsAlreadyError,
    stand,
    tick_step,
    untick_step,
    want_planned,
)
from care.actions.plantings import plan_tree
from care.actions.tasks import take_back
from care.models import LogEntry, PlantingStep, Task
from care.planning.plan_site import plan_site
from care.planning.planting_sheet import sheets_of, wanted_of
from orchard.actions.weather import set_normals
from orchard.models import AuditEntry, Planting, Tree, WantedTree
from tests.conftest import TODAY, person

DAY = timedelta(days=1)


@pytest.fixture
def make_wanted(site):
    planting = Planting.objects.create(site=site, name="Autumn", begun_on=TODAY)

    def make(name="New pear", **facts):
        usual = {"species_key": "pear", "stock_litres": 24.6}
        return WantedTree.objects.create(
            planting=planting, name=name, **{**usual, **facts}
        )

    return make


def moment(second=0, day=TODAY):
    return datetime.combine(day, time(9, 0, second), UTC)


def said(second=0, on=TODAY, who=None):
    return Said(who, on, moment(second))


def tick(wanted, code, second, amount=None, who=None):
    return tick_step(
        wanted=wanted, code=code, said=said(second, who=who), amount=amount
    )


def standing_log(tree):
    return LogEntry.objects.filter(tree=tree, voided_at=None)


def open_actions(tree):
    return set(
        Task.objects.filter(tree=tree, status="open").values_list("kind", "action")
    )


def planned(site, day=TODAY):
    site.refresh_from_db()
    plan_site(site, day, moment(day=day))


def test_a_tick_is_written_once_whoever_comes_second(make_wanted):
    wanted, ana, ben = make_wanted(), person("ana"), person("ben")
    _, first = tick(wanted, "turf_ring", 1, who=ana)
    step, second = tick(wanted, "turf_ring", 2, who=ben)
    assert (first, second) == (True, False)
    assert PlantingStep.objects.get() == step
    assert step.person == ana
    assert untick_step(wanted=wanted, code="turf_ring", person=ben, now=moment(3))
    assert not untick_step(wanted=wanted, code="turf_ring", person=ben, now=moment(4))
    assert not PlantingStep.objects.exists()
    assert AuditEntry.objects.filter(what="planting_step_unticked").count() == 1


def test_a_wanted_tree_stands_with_its_log_and_its_plan_follows(site, make_wanted):
    set_normals(site=site, months=[(m, 12.0, 26.0, 0.2) for m in range(1, 13)])
    wanted = make_wanted(is_fed=True)
    tick(wanted, "locate", 1)
    tick(wanted, "drainage", 2, amount=5.0)
    tick(wanted, "settle_with_water", 3, amount=6.0)
    tick(wanted, "first_watering", 4, amount=5.5)
    for second, code in enumerate(("mulch_ring", "trunk_guard", "first_feed"), 5):
        tick(wanted, code, second)

    entry = stand(wanted=wanted, said=said(10), today=TODAY)
    assert stand(wanted=wanted, said=said(11), today=TODAY) == entry
    tree = Tree.objects.get()
    assert (tree.name, tree.planted_on) == ("New pear", TODAY)
    assert tree.drainage_hours == 5.0
    assert tree.has_trunk_guard
    assert (tree.mulch_material, tree.mulch_laid_on) == ("wood_chips", TODAY)
    assert (tree.mulch_depth_mm, tree.mulch_ring_radius_m) == (75.0, 0.6)
    assert (tree.trunk_gap_mm, tree.floor) == (150.0, "mulch")
    log = {one.action or one.kind: one for one in standing_log(tree)}
    assert set(log) == {
        *("locate", "drainage_hours", "plant", "top_up", "water", "feed"),
        "fit_guard",
    }
    assert log["water"].amount == 11.5
    # pi (0.36 - 0.175^2) x 75 mm, by hand
    assert log["top_up"].amount == 78
    # 24.6 L of pear stock: the sheet's own first part of the season.
    assert log["feed"].amount == pytest.approx(10 * log["feed"].nitrogen_g, abs=0.1)

    planned(site)
    kinds = {kind for kind, _ in open_actions(tree)}
    assert "planting" not in kinds
    assert {"watering", "establishing"} <= kinds
    # A ring laid today is not asked for again, nor measured, for months.
    mulch = Task.objects.get(tree=tree, kind="mulching", key="next/top_up")
    assert mulch.due > TODAY + 180 * DAY

    assert take_back(entry=entry, person=None, now=moment(20))
    tree.refresh_from_db()
    assert tree.planted_on == TODAY + DAY
    assert tree.mulch_laid_on is None
    assert not tree.has_trunk_guard
    left = {one.action or one.kind for one in standing_log(tree)}
    assert left == {"locate", "drainage_hours"}
    planned(site)
    assert open_actions(tree) == {("planting", "ground"), ("planting", "plant")}

    stand(wanted=wanted, said=said(30), today=TODAY)
    tree.refresh_from_db()
    assert tree.planted_on == TODAY
    assert Tree.objects.count() == 1


def test_the_sheet_of_a_planned_tree_ticks_its_tasks(site, make_tree):
    day = TODAY + 20 * DAY
    tree = make_tree("Peach", species_key="peach", planted_on=day, crown_width_m=None)
    planned(site)
    wanted = want_planned(tree=tree, today=TODAY, person=None)
    assert want_planned(tree=tree, today=TODAY, person=None) == wanted
    assert (wanted.planting.name, wanted.plant_on) == ("Planned trees", day)

    tick(wanted, "locate", 1)
    tick(wanted, "drainage", 2, amount=30.0)
    tree.refresh_from_db()
    assert tree.drainage_hours == 30.0
    done = Task.objects.filter(tree=tree, status="done").values_list("action")
    assert {action for (action,) in done} == {"locate", "drainage"}
    sheet = sheets_of(site, wanted_of(site), TODAY)[0]
    assert sheet.step("raised_mound") is not None

    untick_step(wanted=wanted, code="drainage", person=None, now=moment(3))
    tree.refresh_from_db()
    assert tree.drainage_hours is None
    assert ("planting", "drainage") in open_actions(tree)

    planned(site)
    stand(wanted=wanted, said=said(5), today=TODAY)
    tree.refresh_from_db()
    assert tree.planted_on == TODAY
    plant = Task.objects.get(tree=tree, action="plant")
    assert plant.status == "done"
    take_back(
        entry=LogEntry.objects.get(task=plant, voided_at=None),
        person=None,
        now=moment(6),
    )
    tree.refresh_from_db()
    assert tree.planted_on == day
    plant.refresh_from_db()
    assert plant.status == "open"


def test_it_stands_though_nobody_asked_for_marks(site, make_tree):
    tree = make_tree("Peach", species_key="peach", planted_on=TODAY + 3 * DAY)
    planned(site)
    assert not Task.objects.get(tree=tree, action="plant").is_firm
    wanted = want_planned(tree=tree, today=TODAY, person=None)
    stand(wanted=wanted, said=said(1, on=TODAY - DAY), today=TODAY)
    tree.refresh_from_db()
    assert tree.planted_on == TODAY - DAY
    assert Task.objects.get(tree=tree, action="plant").status == "done"
    planned(site)
    assert not {kind for kind, _ in open_actions(tree)} & {"planting"}


def test_what_is_ticked_after_it_stands_goes_into_the_log(site, make_wanted):
    wanted = make_wanted()
    stand(wanted=wanted, said=said(1), today=TODAY)
    tree = Tree.objects.get()
    tick(wanted, "mulch_ring", 2)
    tick(wanted, "first_watering", 3, amount=4.0)
    tree.refresh_from_db()
    assert tree.mulch_laid_on == TODAY
    assert standing_log(tree).get(kind="watering").amount == 4.0
    untick_step(wanted=wanted, code="mulch_ring", person=None, now=moment(4))
    tree.refresh_from_db()
    assert tree.mulch_laid_on is None
    assert not standing_log(tree).filter(kind="mulching").exists()
    tick(wanted, "trunk_guard", 5)
    tree.refresh_from_db()
    assert tree.has_trunk_guard
    untick_step(wanted=wanted, code="trunk_guard", person=None, now=moment(6))
    tree.refresh_from_db()
    assert not tree.has_trunk_guard


def test_what_was_ticked_before_it_stood_is_unticked_in_the_log_too(make_wanted):
    wanted = make_wanted()
    tick(wanted, "mulch_ring", 1)
    tick(wanted, "trunk_guard", 1)
    tick(wanted, "settle_with_water", 2, amount=6.0)
    tick(wanted, "first_watering", 3, amount=4.0)
    stand(wanted=wanted, said=said(4), today=TODAY)
    tree = Tree.objects.get()
    assert standing_log(tree).get(kind="watering").amount == 10.0
    assert tree.has_trunk_guard
    for code in ("mulch_ring", "settle_with_water", "trunk_guard"):
        untick_step(wanted=wanted, code=code, person=None, now=moment(5))
    tree.refresh_from_db()
    assert (tree.mulch_laid_on, tree.has_trunk_guard) == (None, False)
    assert not standing_log(tree).filter(kind="mulching").exists()
    assert standing_log(tree).get(kind="watering").amount == 4.0
    tick(wanted, "trunk_guard", 5)
    untick_step(wanted=wanted, code="trunk_guard", person=None, now=moment(6))
    take_back(entry=standing_log(tree).get(action="plant"), person=None, now=moment(7))
    assert not standing_log(tree).exists()


def test_a_pot_stands_watered_and_a_tree_that_stood_needs_no_sheet(
    site, make_wanted, make_tree
):
    wanted = make_wanted(
        "Lemon", species_key="lemon", in_container=True, container_litres=40.0
    )
    tick(wanted, "settle_with_water", 1, amount=14.0)
    stand(wanted=wanted, said=said(2), today=TODAY)
    pot = Tree.objects.get()
    assert (pot.in_container, pot.container_litres) == (True, 40.0)
    assert standing_log(pot).get(kind="watering").amount == 14.0
    old = make_tree("Old apple", planted_on=date(2015, 3, 1))
    with pytest.raises(StandsAlreadyError):
        want_planned(tree=old, today=TODAY, person=None)


def test_ticks_follow_a_tree_into_its_day_and_today_is_not_yet_standing(
    site, make_wanted
):
    wanted = make_wanted()
    tick(wanted, "locate", 1)
    tick(wanted, "drainage", 2, amount=7.0)
    tree = plan_tree(wanted=wanted, on=TODAY + 9 * DAY, today=TODAY, person=None)
    assert tree.drainage_hours == 7.0
    planned(site)
    assert {action for _, action in open_actions(tree)} == {"ground", "plant"}

    other = make_wanted("Today's")
    today = plan_tree(wanted=other, on=TODAY, today=TODAY, person=None)

    def stood(day):
        row = wanted_of(site).filter(pk=other.pk)
        return sheets_of(site, row, day)[0].stood_on

    assert stood(TODAY) is None
    assert stood(TODAY + DAY) == TODAY
    tick(other, "mulch_ring", 3)
    stand(wanted=other, said=said(4), today=TODAY)
    today.refresh_from_db()
    assert today.mulch_laid_on == TODAY
    assert stood(TODAY) == TODAY


def test_a_hole_timed_before_the_tree_was_planned_is_told_by_its_log(site, make_wanted):
    wanted = make_wanted()
    tick(wanted, "drainage", 1)
    stand(wanted=wanted, said=said(2), today=TODAY)
    tree = Tree.objects.get()
    assert standing_log(tree).get(action="drainage").amount is None
    observe(
        tree=tree,
        what="drainage_hours",
        value=9.0,
        person=None,
        on=TODAY,
        now=moment(3),
    )
    sheet = sheets_of(site, wanted_of(site), TODAY)[0]
    assert sheet.tree.drainage_hours == 9.0
    assert sheet.stood_on == TODAY
