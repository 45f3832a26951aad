"""One job, told twice: asked about, and counted once or twice as the answer says."""

from datetime import UTC, datetime, timedelta

import pytest

from care.actions.holds import log_spray
from care.actions.logbook import log_harvest
from care.actions.same_job import Answer, Reply, SameJobError
from care.actions.tasks import (
    Undone,
    complete_task,
    complete_tasks,
    take_back,
    undo_entry,
)
from care.models import LogEntry
from tests.conftest import TODAY

NOW = datetime(2025, 7, 2, 15, tzinfo=UTC)
DAY = timedelta(days=1)


def reply(answer, *entries):
    return Reply(answer, frozenset(entry.public_id for entry in entries))


def feeding(make_task, tree, key):
    return make_task(
        tree, kind="feeding", key=key, action="feed", amount=400.0, unit="g"
    )


def feed(task, person, on=TODAY, **values):
    return complete_task(task=task, person=person, on=on, now=NOW, **values)


@pytest.fixture
def tree(make_tree):
    return make_tree("Anna")


@pytest.fixture
def fed(tree, make_task, cast):
    return feed(feeding(make_task, tree, "2025/1"), cast.owner, TODAY - 10 * DAY).entry


def names(entry):
    return [person.username for person in entry.also_by.all()]


@pytest.mark.parametrize(("days", "asks"), [(-13, True), (13, True), (14, False)])
def test_a_feeding_within_a_fortnight_is_asked_about(tree, make_task, cast, days, asks):
    first = feed(feeding(make_task, tree, "2025/1"), cast.owner, TODAY - 20 * DAY).entry
    second = feeding(make_task, tree, "2025/2")
    on = first.on + days * DAY
    if not asks:
        assert feed(second, cast.grower, on).is_new
        return
    with pytest.raises(SameJobError) as asked:
        feed(second, cast.grower, on)
    assert asked.value.entries == (first,)
    second.refresh_from_db()
    assert second.status == "open"
    assert LogEntry.objects.count() == 1


def test_the_same_portion_is_asked_about_however_late(tree, make_task, cast):
    feed(feeding(make_task, tree, "2025/1"), cast.owner, TODAY - 60 * DAY)
    with pytest.raises(SameJobError):
        feed(feeding(make_task, tree, "2025/1"), cast.grower)


def test_the_same_feeding_names_both_and_leaves_the_task(fed, tree, make_task, cast):
    task = feeding(make_task, tree, "2025/2")
    outcome = feed(task, cast.grower, reply=reply(Answer.SAME, fed))
    assert (outcome.entry, outcome.is_new, outcome.is_joined) == (fed, False, True)
    assert names(fed) == ["grower"]
    task.refresh_from_db()
    assert task.status == "open"


def test_a_second_feeding_counts_beside_the_first(fed, tree, make_task, cast):
    task = feeding(make_task, tree, "2025/2")
    outcome = feed(task, cast.grower, reply=reply(Answer.SECOND, fed))
    assert outcome.is_new
    total = sum(entry.nitrogen_g for entry in LogEntry.objects.all())
    assert total == pytest.approx(80.0)  # twice 400 g of a tenth nitrogen


def test_an_answer_holds_only_for_what_was_seen(fed, tree, make_task, cast):
    """Sent twice by a slow phone, "a second one" must not make a third."""
    said = reply(Answer.SECOND, fed)
    feed(feeding(make_task, tree, "2025/2"), cast.grower, reply=said)
    with pytest.raises(SameJobError) as asked:
        feed(feeding(make_task, tree, "2025/3"), cast.grower, reply=said)
    assert len(asked.value.entries) == 2


def test_what_was_taken_back_asks_nothing(fed, tree, make_task, cast):
    take_back(entry=fed, person=cast.owner, now=NOW)
    assert feed(feeding(make_task, tree, "2025/2"), cast.grower).is_new


def test_another_tree_asks_nothing(fed, make_tree, make_task, cast):
    assert feed(feeding(make_task, make_tree("Berta"), "2025/1"), cast.grower).is_new


def test_the_same_task_ticked_twice_asks_nothing(tree, make_task, cast):
    task = feeding(make_task, tree, "2025/1")
    first = feed(task, cast.owner)
    second = feed(task, cast.grower)
    assert (second.entry, second.is_joined) == (first.entry, True)


def test_a_whole_row_leaves_what_must_be_asked(fed, tree, make_tree, make_task, cast):
    tasks = [
        feeding(make_task, tree, "2025/2"),
        feeding(make_task, make_tree("Berta"), "2025/2"),
    ]
    entries = complete_tasks(tasks=tasks, person=cast.grower, on=TODAY, now=NOW)
    assert [entry.tree.name for entry in entries] == ["Berta"]
    assert [task.status for task in tasks] == ["open", "done"]


def spray(site, trees, person, on=TODAY, waiting_days=7, **values):
    return log_spray(
        site=site,
        trees=trees,
        product="Soap",
        waiting_days=waiting_days,
        person=person,
        on=on,
        now=NOW,
        **values,
    )


@pytest.mark.parametrize(
    ("days", "asks"), [(-3, False), (-2, True), (0, True), (2, True), (3, False)]
)
def test_a_spray_within_two_days_is_asked_about(site, tree, cast, days, asks):
    spray(site, [tree], cast.owner, TODAY - 5 * DAY)
    on = TODAY + (days - 5) * DAY
    if asks:
        with pytest.raises(SameJobError):
            spray(site, [tree], cast.grower, on)
    else:
        assert len(spray(site, [tree], cast.grower, on)) == 1
    assert LogEntry.objects.count() == (1 if asks else 2)


def test_the_same_spray_is_written_only_of_trees_that_lack_it(
    site, tree, make_tree, cast
):
    other = make_tree("Berta")
    (first,) = spray(site, [tree], cast.owner)
    said = reply(Answer.SAME, first)
    written = spray(site, [tree, other], cast.grower, reply=said)
    assert [entry.tree for entry in written] == [other]
    assert names(first) == ["grower"]


@pytest.mark.parametrize(("days", "held"), [(3, 7), (7, 7), (0, 7), (9, 9)])
def test_of_one_spray_told_twice_the_longer_wait_counts(site, tree, cast, days, held):
    (first,) = spray(site, [tree], cast.owner)
    said = reply(Answer.SAME, first)
    spray(site, [tree], cast.grower, waiting_days=days, reply=said)
    first.refresh_from_db()
    # Sprayed on the 1st with 7 days to wait, the 7th is the last without picking.
    assert first.held_until == TODAY + (held - 1) * DAY
    assert first.amount == held
    assert ("grower has 9 days to wait, where 7 stood." in first.note) == (held == 9)


def test_a_second_spray_is_written_of_all(site, tree, make_tree, cast):
    (first,) = spray(site, [tree], cast.owner)
    said = reply(Answer.SECOND, first)
    written = spray(site, [tree, make_tree("Berta")], cast.grower, reply=said)
    assert len(written) == 2


def pick(tree, mass_kg, person, on=TODAY, **values):
    return log_harvest(
        tree=tree, mass_kg=mass_kg, person=person, on=on, now=NOW, **values
    )


@pytest.mark.parametrize(
    ("mass_kg", "days", "asks"),
    [
        (10.0, 0, True),
        (9.01, 0, True),
        (11.1, 0, True),
        (8.9, 0, False),
        (11.2, 0, False),
        (10.0, 1, False),
    ],
)
def test_about_as_much_picked_that_day_is_asked_about(tree, cast, mass_kg, days, asks):
    pick(tree, 10.0, cast.owner, TODAY - 3 * DAY)
    on = TODAY + (days - 3) * DAY
    if asks:
        with pytest.raises(SameJobError):
            pick(tree, mass_kg, cast.grower, on)
    else:
        pick(tree, mass_kg, cast.grower, on)
    assert LogEntry.objects.count() == (1 if asks else 2)


def test_the_same_picking_keeps_its_amount_and_names_both(tree, cast):
    first = pick(tree, 10.0, cast.owner)
    again = pick(tree, 9.5, cast.grower, reply=reply(Answer.SAME, first))
    assert (again, again.amount, names(first)) == (first, 10.0, ["grower"])
    second = pick(tree, 9.5, cast.grower, reply=reply(Answer.SECOND, first))
    assert (second.amount, LogEntry.objects.count()) == (9.5, 2)


def test_one_is_never_named_twice(tree, cast):
    first = pick(tree, 10.0, cast.owner)
    for person in (cast.owner, cast.grower, cast.grower):
        pick(tree, 10.0, person, reply=reply(Answer.SAME, first))
    assert names(first) == ["grower"]


def test_undoing_takes_off_only_ones_own_name(tree, make_task, cast):
    task = make_task(tree)
    entry = feed(task, cast.owner).entry
    feed(task, cast.grower)
    undo = {"entry": entry, "now": NOW}
    assert undo_entry(person=cast.grower, **undo) is Undone.NAME
    entry.refresh_from_db()
    assert (entry.voided_at, names(entry)) == (None, [])
    assert undo_entry(person=cast.owner, **undo) is Undone.ENTRY
    assert undo_entry(person=cast.owner, **undo) is Undone.NOTHING
