"""Moves of a tree, and that taking them back in any order leaves no trace on it."""

import random
from datetime import UTC, date, datetime, timedelta

import pytest
from django.forms import model_to_dict

from care.actions.grafts import GraftedError, add_graft, end_graft
from care.actions.logbook import log_loss, log_move
from care.actions.tasks import complete_task, take_back
from care.actions.tree_moves import (
    MoveError,
    Pot,
    Spot,
    dig_up,
    plant_out,
    repot,
    want_instead,
)
from care.models import LogEntry
from orchard.models import AuditEntry, Graft, Planting, Stay, Tree
from tests.conftest import TODAY

NOW = datetime(2025, 7, 2, 15, tzinfo=UTC)
DAY = timedelta(days=1)
BY = {"person": None, "now": NOW}
BIG = Pot(60.0, 0.45, "soil")


@pytest.fixture
def pot(make_tree):
    return make_tree(
        "Lemon",
        species_key="lemon",
        in_container=True,
        container_litres=20.0,
        x_m=1.0,
        y_m=2.0,
    )


def state(tree):
    """Return everything of a tree that a move may change."""
    fresh = Tree.objects.get(pk=tree.pk)
    return (
        model_to_dict(fresh),
        sorted(fresh.stays.values_list("since", "place")),
        sorted(fresh.grafts.values_list("cultivar", "ended_on")),
    )


def back(entry):
    fresh = LogEntry.objects.select_related("task", "tree", "site").get(pk=entry.pk)
    assert take_back(entry=fresh, person=None, now=NOW)


def test_a_larger_pot_ticks_the_potting_that_was_asked_for(pot, make_task):
    task = make_task(pot, kind="potting", key="2025/repot", action="pot_up")
    before = state(pot)
    revision = pot.site.revision
    entry = repot(tree=pot, pot=BIG, on=TODAY, **BY)
    task.refresh_from_db()
    assert (task.status, entry.task, entry.key) == ("done", task, "2025/repot")
    assert (entry.kind, entry.action, entry.amount) == ("potting", "pot_up", 60.0)
    tree = Tree.objects.get(pk=pot.pk)
    assert tree.container_litres == 60.0
    assert tree.container_diameter_m == 0.45
    assert tree.container_medium == "soil"
    assert tree.site.revision > revision
    back(entry)
    task.refresh_from_db()
    assert task.status == "open"
    assert state(pot) == before


def test_the_same_size_again_is_no_step_up(pot):
    entry = repot(tree=pot, pot=Pot(20.0), on=TODAY, **BY)
    assert (entry.action, entry.task, entry.before) == ("repot", None, None)


def test_out_of_its_pot_a_tree_is_newly_planted(pot):
    log_move(tree=pot, place="indoors_heated", on=TODAY - 90 * DAY, **BY)
    before = state(pot)
    spot = Spot(block_id=None)
    entry = plant_out(
        tree=pot, ball_litres=18.0, spot=spot, on=TODAY, drainage_hours=5.0, **BY
    )
    tree = Tree.objects.get(pk=pot.pk)
    assert (tree.in_container, tree.container_litres) == (False, None)
    assert (tree.planted_on, tree.stock, tree.stock_litres) == (
        TODAY,
        "container_grown",
        18.0,
    )
    assert (tree.drainage_hours, tree.block, tree.x_m) == (5.0, None, None)
    assert tree.stays.latest("since").place == Stay.Place.OUTDOORS
    back(entry)
    assert state(pot) == before


def test_dug_up_it_stands_in_a_pot_outdoors(make_tree):
    tree = make_tree("Fig", species_key="fig", x_m=3.0, y_m=4.0)
    before = state(tree)
    spot = Spot(tree.block_id, keeps_place=True)
    entry = dig_up(tree=tree, pot=BIG, spot=spot, on=TODAY, **BY)
    moved = Tree.objects.get(pk=tree.pk)
    assert (moved.in_container, moved.container_litres) == (True, 60.0)
    assert (moved.planted_on, moved.x_m) == (TODAY, 3.0)
    assert moved.stays.get().place == Stay.Place.OUTDOORS
    back(entry)
    assert state(tree) == before


def test_what_cannot_be_is_refused_and_leaves_nothing(pot, make_tree):
    ground, lost = make_tree(), make_tree("Lost")
    log_loss(tree=lost, status="lost", reason="Frost", on=TODAY, **BY)
    written = LogEntry.objects.count()
    for tree in (ground, lost):
        with pytest.raises(MoveError):
            repot(tree=tree, pot=BIG, on=TODAY, **BY)
        with pytest.raises(MoveError):
            plant_out(tree=tree, ball_litres=9.0, spot=Spot(), on=TODAY, **BY)
    for tree in (pot, lost):
        with pytest.raises(MoveError):
            dig_up(tree=tree, pot=BIG, spot=Spot(), on=TODAY, **BY)
    assert LogEntry.objects.count() == written


def test_an_old_move_is_taken_off_as_it_was(pot):
    # Entries written before they kept where a pot had stood name no change at all.
    entry = LogEntry.objects.create(
        site=pot.site,
        tree=pot,
        what="done",
        kind="cold",
        action="move_in",
        on=TODAY,
        recorded_at=NOW,
    )
    Stay.objects.create(tree=pot, since=TODAY, place="indoors_unheated")
    back(entry)
    assert not pot.stays.exists()


def test_bringing_in_keeps_where_the_pot_stood(pot, make_task):
    log_move(tree=pot, place="under_cover", on=TODAY, **BY)
    before = state(pot)
    task = make_task(pot, kind="cold", key="next", action="move_in")
    entry = complete_task(task=task, on=TODAY, **BY).entry
    assert pot.stays.get().place == "indoors_unheated"
    back(entry)
    assert state(pot) == before


def test_grafts_live_end_and_are_taken_back(make_tree):
    tree = make_tree(cultivar="Gala")
    made = {"tree": tree, "species_key": "apple", "on": TODAY - DAY, **BY}
    first = add_graft(cultivar="Fuji", **made)
    with pytest.raises(GraftedError):
        add_graft(cultivar="Fuji", **made)
    graft = Graft.objects.get()
    with pytest.raises(GraftedError):
        end_graft(graft=graft, on=TODAY - 2 * DAY, **BY)
    ended = end_graft(graft=graft, on=TODAY, **BY)
    with pytest.raises(GraftedError):
        end_graft(graft=graft, on=TODAY, **BY)
    anew = add_graft(cultivar="Fuji", **made)
    back(ended)  # another one lives in its place by now
    assert sorted(Graft.objects.values_list("ended_on", flat=True), key=str) == [
        TODAY,
        None,
    ]
    back(anew)
    back(first)
    assert not Graft.objects.exists()
    assert (first.product, ended.action) == ("Fuji", "end_graft")


def test_a_new_tree_is_wanted_where_an_old_one_stood(make_tree, cast):
    old = make_tree("Old Gala", x_m=3.0, y_m=4.0, rootstock="M.9")
    wish = {
        "tree": old,
        "planting_name": "Replacements",
        "name": "New Gala",
        "values": {"species_key": "apple", "cultivar": "Gala"},
        "at_its_place": True,
        "today": TODAY,
        "person": cast.owner,
    }
    with pytest.raises(MoveError):
        want_instead(**wish)
    log_loss(tree=old, status="removed", reason="Canker", on=TODAY, **BY)
    wanted = want_instead(**wish)
    assert want_instead(**wish) == wanted
    assert (wanted.replaces, wanted.block) == (old, old.block)
    assert (wanted.x_m, wanted.y_m) == (3.0, 4.0)
    Planting.objects.update(is_put_away=True)
    second = want_instead(**{**wish, "at_its_place": False})
    assert (second.planting, second.x_m) == (wanted.planting, None)
    assert not Planting.objects.get().is_put_away
    assert AuditEntry.objects.filter(what="trees_wanted", person=cast.owner).exists()


def _random_move(chance, tree, on):
    """Make one move that can be made now; return its entry."""
    tree.refresh_from_db()
    size = Pot(chance.choice([10.0, 20.0, 40.0]), chance.choice([None, 0.3]))
    living = list(tree.grafts.filter(ended_on=None))
    if chance.random() < 0.3:
        if living:
            return end_graft(graft=living[0], on=TODAY, **BY)
        return add_graft(tree=tree, species_key="lemon", cultivar="Eureka", on=on, **BY)
    spot = Spot(chance.choice([None, tree.block_id]), chance.random() < 0.5)
    if not tree.in_container:
        return dig_up(tree=tree, pot=size, spot=spot, on=on, **BY)
    if chance.random() < 0.3:
        return plant_out(tree=tree, ball_litres=size.litres, spot=spot, on=on, **BY)
    if chance.random() < 0.5:
        return repot(tree=tree, pot=size, on=on, **BY)
    return log_move(tree=tree, place=chance.choice(Stay.Place.values), on=on, **BY)


@pytest.mark.parametrize("seed", range(6))
def test_moves_taken_back_in_any_order_leave_no_trace(pot, seed):
    chance = random.Random(seed)
    Stay.objects.create(tree=pot, since=date(2025, 3, 1), place="under_cover")
    before = state(pot)
    entries = [
        _random_move(chance, pot, TODAY - chance.randrange(3) * DAY) for _ in range(8)
    ]
    chance.shuffle(entries)
    for entry in entries:
        back(entry)
    assert state(pot) == before
