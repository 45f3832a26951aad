"""The walks told by the command: as the pages show them, as of a day, within limits."""

import json
from datetime import UTC, datetime, timedelta
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from care.actions.tasks import complete_task
from care.models import Round, Task
from care.planning.plan_site import plan_site
from care.planning.walks import walks
from orchard.models import Corner
from tests.conftest import TODAY

NOW = datetime(2025, 7, 2, 16, tzinfo=UTC)
DAY = timedelta(days=1)


def said(**options):
    out = StringIO()
    call_command("rounds", site="test-site", stdout=out, **options)
    return out.getvalue()


def test_on_the_sites_own_day_they_are_the_walks_of_its_pages_and_nothing_is_written(
    site, make_tree
):
    make_tree("Anna")
    make_tree("Berta")
    plan_site(site, TODAY, NOW)
    before = list(Task.objects.order_by("pk").values())
    rounds = Round.objects.filter(site=site, is_withdrawn=False, tasks__isnull=False)
    shown = {(one.day, one.block_id, one.tasks.count()) for one in rounds.distinct()}
    found = walks(site, TODAY, 400)
    assert {(one.day, one.block_id, len(one.tasks)) for one in found.walks} == shown
    # Planned anew from the same records they are the same, with the rounds kept.
    site.planned_revision = None
    again = walks(site, TODAY, 400)
    assert [(one.day, one.minutes) for one in again.walks] == [
        (one.day, one.minutes) for one in found.walks
    ]
    assert list(Task.objects.order_by("pk").values()) == before
    assert all(one.day < TODAY + 14 * DAY for one in walks(site, TODAY, 14).walks)


def test_what_was_ticked_later_is_not_known_to_an_earlier_day(site, make_tree):
    make_tree("Anna", entered_on=TODAY - 30 * DAY)
    plan_site(site, TODAY, NOW)
    on = TODAY - 7 * DAY
    before = walks(site, on, 60)
    tasks = Task.objects.filter(status="open", is_firm=True).exclude(
        key__startswith="next"
    )
    for task in tasks.select_related("tree", "site", "round"):
        complete_task(task=task, person=None, on=TODAY, now=NOW, minutes=100)
    assert Task.objects.filter(status="done").exists()
    assert walks(site, on, 60) == before


def test_tasks_come_in_walking_order_and_minutes_as_they_are_learned(
    site, make_tree, make_task, make_round, keep_plan
):
    Corner.objects.create(site=site, name="gate", x_m=0.0, y_m=0.0)
    far, near = make_tree("Far", x_m=9.0, y_m=0.0), make_tree("Near", x_m=1.0, y_m=0.0)
    make_round(TODAY, [make_task(far), make_task(near)])
    done = make_task(near, key="done", effort_minutes=10)
    complete_task(task=done, person=None, on=TODAY, now=NOW, minutes=40)
    keep_plan()
    site.refresh_from_db()
    (walk,) = json.loads(said(json=True))["rounds"]
    assert [task["tree"] for task in walk["tasks"]] == ["Near", "Far"]
    # 2 * 5 min * 4 ** (1 / 3) * 1.08 = 17.1
    assert walk["minutes"] == 18


def test_days_longer_than_people_have_are_evened_out_or_said(
    site, make_tree, make_task, make_round, keep_plan
):
    tasks = [make_task(make_tree(f"T{n}"), effort_minutes=40) for n in range(3)]
    Task.objects.filter(pk=tasks[0].pk).update(latest=TODAY)
    make_round(TODAY, tasks)
    keep_plan()
    site.refresh_from_db()
    assert len(walks(site, TODAY, 14).walks) == 1
    evened = walks(site, TODAY, 14, most_minutes=90)
    assert [one.minutes for one in evened.walks] == [87, 44]
    assert evened.too_long == ()
    Task.objects.update(latest=TODAY)
    told = json.loads(said(json=True, most_minutes=90))["too_long"]
    assert told == [
        {
            "day": TODAY.isoformat(),
            "over_minutes": 40,  # 120 * 1.08 - 90
            "could_wait": {"tree": "T0", "kind": "watering", "key": "next"},
        }
    ]
    words = said(most_minutes=90)
    assert "40 minutes too long: one more person, or let watering of T0 wait." in words
    Task.objects.update(is_urgent=True)
    assert said(most_minutes=90).rstrip().endswith("too long: one more person.")
    with pytest.raises(CommandError, match="above 0"):
        said(most_minutes=0)
