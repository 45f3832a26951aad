"""Taking back: once, whole, and with what the entry did to the tree."""

from datetime import UTC, datetime

from care.actions.logbook import log_loss
from care.actions.tasks import (
    Undone,
    complete_task,
    skip_task,
    take_back,
    undo_entry,
)
from care.models import LogEntry
from tests.conftest import TODAY

NOW = datetime(2025, 7, 2, 15, tzinfo=UTC)


def lose(tree):
    return log_loss(
        tree=tree, status="lost", person=None, on=TODAY, now=NOW, reason="Frost"
    )


def status(tree) -> str:
    tree.refresh_from_db()
    return str(tree.status)


def test_a_loss_taken_back_revives_the_tree(make_tree):
    tree = make_tree()
    entry = lose(tree)
    assert status(tree) == "lost"
    assert take_back(entry=entry, person=None, now=NOW)
    assert status(tree) == "alive"


def test_taking_a_loss_back_again_does_not_undo_a_later_loss(make_tree):
    tree = make_tree()
    first = lose(tree)
    take_back(entry=first, person=None, now=NOW)
    lose(tree)
    assert not take_back(entry=first, person=None, now=NOW)
    assert status(tree) == "lost"


def skip(task, person=None):
    return skip_task(task=task, person=person, on=TODAY, now=NOW, reason="no_time")


def done(task, person=None):
    return complete_task(task=task, person=person, on=TODAY, now=NOW)


def test_doing_beats_a_skip_which_keeps_its_row(make_tree, make_task, cast):
    task = make_task(make_tree())
    skipped = skip(task, cast.grower).entry
    outcome = done(task, cast.owner)
    assert outcome.is_new
    skipped.refresh_from_db()
    task.refresh_from_db()
    assert task.status == "done"
    assert skipped.voided_at == NOW
    assert (skipped.voided_by, skipped.replaced_by) == (cast.owner, outcome.entry)


def test_a_skip_after_doing_changes_nothing_and_names_nobody(
    make_tree, make_task, cast
):
    task = make_task(make_tree())
    entry = done(task, cast.owner).entry
    outcome = skip(task, cast.grower)
    assert (outcome.entry, outcome.is_new, outcome.is_joined) == (entry, False, False)
    assert not entry.also_by.exists()
    assert LogEntry.objects.count() == 1


def test_what_was_done_after_a_skip_taken_back_leaves_the_skip(make_tree, make_task):
    task = make_task(make_tree())
    skipped = skip(task).entry
    assert take_back(entry=done(task).entry, person=None, now=NOW)
    skipped.refresh_from_db()
    task.refresh_from_db()
    assert (task.status, skipped.voided_at, skipped.replaced_by) == (
        "skipped",
        None,
        None,
    )


def test_a_stale_undo_leaves_what_was_done_since(make_tree, make_task, cast):
    task = make_task(make_tree())
    seen = done(task, cast.owner).entry
    take_back(entry=seen, person=cast.grower, now=NOW)
    task.refresh_from_db()
    newer = done(task, cast.grower).entry
    assert undo_entry(entry=seen, person=cast.owner, now=NOW) is Undone.NOTHING
    newer.refresh_from_db()
    task.refresh_from_db()
    assert (newer.voided_at, task.status) == (None, "done")


def test_undoing_a_skip_that_was_overruled_changes_nothing(make_tree, make_task):
    task = make_task(make_tree())
    skipped = skip(task).entry
    newer = done(task).entry
    assert undo_entry(entry=skipped, person=None, now=NOW) is Undone.NOTHING
    newer.refresh_from_db()
    assert newer.voided_at is None
