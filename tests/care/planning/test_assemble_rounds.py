"""Rounds keep their row and uid for life; a calendar sees only real changes."""

from datetime import UTC, datetime, timedelta

from care.models import Round, Task
from care.planning.assemble_rounds import assemble, days_of_tasks
from care.planning.gather import tree_facts
from care.planning.kinds import kinds_of
from tests.conftest import TODAY

DAY = timedelta(days=1)
MONDAY = datetime(2025, 7, 2, 8, tzinfo=UTC)
TUESDAY = datetime(2025, 7, 3, 8, tzinfo=UTC)


def task_for(site, tree, **values) -> Task:
    facts = {
        "kind": "watering",
        "key": "next",
        "action": "water",
        "earliest": TODAY,
        "due": TODAY,
        "latest": TODAY + 9 * DAY,
        "amount": 20.0,
        "unit": "L",
        **values,
    }
    return Task.objects.create(site=site, tree=tree, **facts)


def put(site, days, now=MONDAY) -> None:
    kinds = kinds_of(site.orchard)
    trees = {task.tree_id: tree_facts(task.tree, TODAY, kinds) for task in days}
    stored = list(Round.objects.filter(site=site, is_withdrawn=False))
    result = assemble(site, days, trees, stored, now)
    for one in (*result.created, *result.changed):
        one.save()
    for task in result.moved:
        task.round = task.round
        task.save()


def test_tasks_of_one_block_and_day_share_a_round(site, make_tree):
    tasks = [task_for(site, make_tree(name)) for name in ("A", "B")]
    put(site, dict.fromkeys(tasks, TODAY))
    one = Round.objects.get()
    assert (one.day, one.sequence) == (TODAY, 0)
    assert set(one.tasks.all()) == set(tasks)


def test_nothing_changed_means_nothing_written(site, make_tree):
    task = task_for(site, make_tree())
    put(site, {task: TODAY})
    before = Round.objects.values().get()
    put(site, {task: TODAY}, TUESDAY)
    assert Round.objects.values().get() == before


def test_a_moved_round_keeps_its_uid_and_raises_its_sequence(site, make_tree):
    task = task_for(site, make_tree())
    put(site, {task: TODAY})
    before = Round.objects.get()
    put(site, {task: TODAY + 2 * DAY}, TUESDAY)
    after = Round.objects.get()
    assert (after.uid, after.sequence) == (before.uid, 1)
    assert (after.day, after.changed_at) == (TODAY + 2 * DAY, TUESDAY)


def test_new_content_on_the_same_day_leaves_the_sequence(site, make_tree):
    task = task_for(site, make_tree())
    put(site, {task: TODAY})
    task.amount = 35.0
    put(site, {task: TODAY}, TUESDAY)
    after = Round.objects.get()
    assert (after.sequence, after.changed_at) == (0, TUESDAY)


def test_a_round_goes_where_most_of_its_tasks_go(site, make_tree):
    tasks = [task_for(site, make_tree(name)) for name in ("A", "B", "C")]
    put(site, dict.fromkeys(tasks, TODAY))
    uid = Round.objects.get().uid
    days = {tasks[0]: TODAY, tasks[1]: TODAY + DAY, tasks[2]: TODAY + DAY}
    put(site, days, TUESDAY)
    assert Round.objects.get(day=TODAY + DAY).uid == uid
    assert Round.objects.get(day=TODAY).uid != uid


def test_a_round_left_empty_is_withdrawn(site, make_tree):
    task = task_for(site, make_tree())
    put(site, {task: TODAY})
    put(site, {}, TUESDAY)
    assert Round.objects.get().is_withdrawn


def test_a_renamed_tree_is_a_change_a_calendar_must_see(site, make_tree):
    task = task_for(site, make_tree("Old name"))
    put(site, {task: TODAY})
    task.tree.name = "New name"
    put(site, {task: TODAY}, TUESDAY)
    after = Round.objects.get()
    assert (after.sequence, after.changed_at) == (0, TUESDAY)


def test_a_walk_takes_nothing_along_more_than_a_week_early(site, make_tree):
    now = task_for(site, make_tree("Now"), latest=TODAY)
    soon = task_for(site, make_tree("Soon"), due=TODAY + 6 * DAY)
    later = task_for(
        site, make_tree("Later"), due=TODAY + 27 * DAY, latest=TODAY + 40 * DAY
    )
    days = days_of_tasks([now, soon, later], TODAY)
    assert days[now] == days[soon] == TODAY
    assert days[later] >= TODAY + 20 * DAY


def test_a_task_overtaken_by_its_due_day_leaves_its_late_round(site, make_tree):
    task = task_for(site, make_tree(), due=TODAY + 20 * DAY, latest=TODAY + 90 * DAY)
    put(site, {task: TODAY + 20 * DAY})
    task.due = TODAY + 2 * DAY
    assert days_of_tasks([task], TODAY)[task] <= TODAY + 9 * DAY
