"""A row sprayed in one go is taken back in one go, and nothing else with it."""

from datetime import timedelta

import pytest

from care.actions.holds import log_manure
from care.actions.logbook import observe
from care.actions.one_go import trees_of_goes, undo_go
from care.actions.tasks import take_back
from care.models import LogEntry
from tests.care.actions.test_holds import NOW, held_until, spray
from tests.conftest import TODAY

LATER = NOW + timedelta(minutes=5)


@pytest.fixture
def row(make_tree):
    return [make_tree(name) for name in ("Anna", "Berta", "Carla")]


def manure(tree, now=NOW):
    (entry,) = log_manure(
        site=tree.site,
        trees=[tree],
        touches_soil=False,
        person=None,
        on=TODAY,
        now=now,
    )
    return entry


def test_a_whole_row_is_taken_back_at_once(site, row):
    entries = spray(*row)
    assert trees_of_goes(entries) == {entry.pk: 3 for entry in entries}
    assert undo_go(entry=entries[1], person=None, now=LATER) == 3
    assert set(held_until(site).values()) == {None}
    assert trees_of_goes(LogEntry.objects.all()) == {}
    assert undo_go(entry=entries[1], person=None, now=LATER) == 0


def test_what_was_written_otherwise_stays(site, row):
    entries = spray(*row)
    others = [manure(row[0])]
    take_back(entry=entries[0], person=None, now=LATER)
    assert trees_of_goes(entries[1:] + others) == {entry.pk: 2 for entry in entries[1:]}
    assert undo_go(entry=entries[1], person=None, now=LATER) == 2
    standing = LogEntry.objects.filter(voided_at=None)
    assert [entry.kind for entry in standing] == ["manure"]


def test_an_entry_of_another_kind_is_undone_alone(row):
    felt = [
        observe(tree=tree, what="soil_feel", person=None, on=TODAY, now=NOW, word="dry")
        for tree in row
    ]
    assert trees_of_goes(felt) == {}
    assert undo_go(entry=felt[0], person=None, now=LATER) == 1
    assert LogEntry.objects.filter(voided_at=None).count() == 2
