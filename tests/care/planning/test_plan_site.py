"""A whole plan: idempotent, pure in its inputs, constant in its queries."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from care.actions.tasks import (
    complete_task,
    postpone_task,
    skip_task,
    take_back,
)
from care.actions.watered import water_all
from care.models import LogEntry, Round, Task
from care.planning.gather import gather
from care.planning.plan_site import ensure_planned, plan_site, stale_sites
from care.planning.propose import propose
from orchard.actions.trees import change_tree
from orchard.actions.weather import import_days, set_normals
from orchard.catalogue import CATALOGUE_VERSION
from orchard.models import Site
from tests.conftest import TODAY

DAY = timedelta(days=1)
NOW = datetime(2025, 7, 2, 15, tzinfo=UTC)
DRY = [(month, 10.0, 26.0, 5.0) for month in range(1, 13)]


@pytest.fixture
def dry_site(site):
    """No rain to speak of: pots and young trees want water today."""
    days = [
        # No two days alike: a sensor that stands still is not believed.
        (
            TODAY - n * DAY,
            {"tmin_c": 12.0 + n % 2, "tmax_c": 28 - n % 2, "rain_mm": 0.0},
        )
        for n in range(1, 60)
    ]
    import_days(site=site, days=days, label="dry", person=None)
    set_normals(site=site, months=DRY)
    site.refresh_from_db()
    return site


@pytest.fixture
def pot(dry_site, make_tree):
    return make_tree(
        "Lemon",
        species_key="lemon",
        in_container=True,
        container_litres=50.0,
        container_diameter_m=0.4,
        crown_width_m=1.0,
    )


def plan(site, today: date = TODAY):
    site.refresh_from_db()
    return plan_site(site, today, NOW)


def watering(tree) -> Task:
    return Task.objects.get(tree=tree, kind="watering", key="next", status="open")


def test_planning_twice_changes_nothing(dry_site, pot):
    plan(dry_site)
    before = list(Task.objects.order_by("pk").values())
    assert before
    assert plan(dry_site).is_nothing
    assert list(Task.objects.order_by("pk").values()) == before


def test_a_thirsty_pot_gets_a_dated_quantified_explained_task(dry_site, pot):
    plan(dry_site)
    task = watering(pot)
    assert task.is_firm
    assert task.unit == "L"
    # A 50 L pot holds 15 L at 0.30 available (nursery media, 25-35 %).
    assert task.amount is not None
    assert 3 <= task.amount <= 15 / 0.85 + 0.5
    assert task.reason["code"]
    assert "fao56" in task.sources
    assert task.round is not None
    assert task.earliest <= task.round.day <= task.latest


def test_watering_corrects_the_balance_and_moves_the_next_date(dry_site, pot):
    plan(dry_site)
    first = watering(pot)
    complete_task(task=first, person=None, on=TODAY, now=NOW)
    plan(dry_site)
    first.refresh_from_db()
    assert first.status == "done"
    following = Task.objects.filter(tree=pot, kind="watering", status="open").first()
    assert following is None or following.due > TODAY
    plan(dry_site, TODAY + 6 * DAY)
    assert watering(pot).pk != first.pk


def test_undo_opens_the_same_task_again(dry_site, pot):
    plan(dry_site)
    first = watering(pot)
    entry = complete_task(task=first, person=None, on=TODAY, now=NOW).entry
    plan(dry_site)
    assert take_back(entry=entry, person=None, now=NOW)
    assert not take_back(entry=entry, person=None, now=NOW)
    plan(dry_site)
    assert watering(pot).pk == first.pk
    assert watering(pot).due <= TODAY


def test_two_people_one_task_is_one_completion(dry_site, pot, cast):
    plan(dry_site)
    task = watering(pot)
    stale_copy = Task.objects.get(pk=task.pk)
    first = complete_task(task=task, person=cast.owner, on=TODAY, now=NOW)
    second = complete_task(task=stale_copy, person=cast.grower, on=TODAY, now=NOW)
    assert first.is_new
    assert not second.is_new
    assert second.entry == first.entry
    assert LogEntry.objects.filter(task=task).count() == 1


def test_a_skip_is_believed_and_a_postponement_kept(dry_site, pot):
    plan(dry_site)
    task = watering(pot)
    skip_task(task=task, person=None, on=TODAY, now=NOW, reason="soil_wet")
    plan(dry_site)
    assert watering(pot).due > TODAY
    postpone_task(task=watering(pot), until=TODAY + 4 * DAY)
    plan(dry_site)
    assert watering(pot).earliest == TODAY + 4 * DAY


def test_watered_all_ticks_what_was_waiting(dry_site, pot, make_tree):
    other = make_tree("Big old apple", planted_on=date(2005, 3, 1))
    plan(dry_site)
    task = watering(pot)
    entries = water_all(
        site=dry_site, trees=[pot, other], litres=12, person=None, on=TODAY, now=NOW
    )
    assert [entry.amount for entry in entries] == [12, 12]
    task.refresh_from_db()
    assert task.status == "done"


def test_the_order_of_rows_does_not_matter(dry_site, pot, make_tree):
    make_tree(
        "Young peach",
        species_key="peach",
        planted_on=date(2025, 5, 1),
        crown_width_m=0.8,
    )
    records = gather(dry_site, TODAY)
    from dataclasses import replace

    turned = replace(
        records, trees=records.trees[::-1], work=records.work[::-1], observations=()
    )
    assert propose(turned) == propose(records)


def test_a_tree_entered_later_is_not_seen_on_an_earlier_day(dry_site, pot, make_tree):
    make_tree("Entered today", planted_on=date(2024, 1, 1))
    assert len(gather(dry_site, TODAY).trees) == 2
    assert gather(dry_site, TODAY - DAY).trees == ()


def test_an_edit_makes_the_plan_stale_and_reading_plans_again(dry_site, pot):
    ensure_planned(dry_site, TODAY)
    assert dry_site not in stale_sites(NOW)
    change_tree(tree=pot, values={"crown_width_m": 1.4})
    dry_site.refresh_from_db()
    assert dry_site in stale_sites(NOW)
    ensure_planned(dry_site, TODAY)
    assert dry_site not in stale_sites(NOW)


def test_queries_do_not_grow_with_trees(dry_site, pot, make_tree):
    def queries() -> int:
        dry_site.refresh_from_db()
        with CaptureQueriesContext(
            connection,
        ) as captured:
            plan_site(dry_site, TODAY, NOW)
        return len(captured)

    queries()
    few = queries()
    for number in range(12):
        make_tree(f"Apple {number}")
    queries()
    assert queries() == few


def test_a_plan_made_with_another_catalogue_is_stale(dry_site, pot):
    del pot
    plan(dry_site)
    assert dry_site.planned_catalogue == CATALOGUE_VERSION
    Site.objects.update(planned_catalogue=CATALOGUE_VERSION + 1)
    dry_site.refresh_from_db()
    assert dry_site in stale_sites(NOW)
    ensure_planned(dry_site, TODAY)
    assert dry_site.planned_catalogue == CATALOGUE_VERSION
    assert dry_site not in stale_sites(NOW)


def test_a_lost_tree_leaves_no_open_task(dry_site, pot):
    from orchard.actions.trees import end_tree

    plan(dry_site)
    end_tree(tree=pot, status="lost", on=TODAY, reason="Frost")
    plan(dry_site)
    assert not Task.objects.filter(tree=pot, status="open").exists()
    assert not Round.objects.filter(is_withdrawn=False, tasks__tree=pot).exists()


def test_nobody_is_late_with_work_due_before_the_tree_was_entered(dry_site, make_tree):
    make_tree(
        "Old plum",
        species_key="european_plum",
        planted_on=date(2012, 3, 1),
        mulch_material="wood_chips",
        mulch_depth_mm=70.0,
        mulch_laid_on=TODAY - 400 * DAY,
        mulched_before="yes",
    )
    plan(dry_site)
    tasks = Task.objects.filter(site=dry_site, status="open")
    assert tasks
    assert all(task.latest >= TODAY for task in tasks)
