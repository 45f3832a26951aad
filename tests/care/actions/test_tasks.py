"""Taking back: once, whole, and with what the entry did to the tree."""

from datetime import UTC, datetime

from care.actions.logbook import log_loss
from care.actions.tasks import take_back
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
