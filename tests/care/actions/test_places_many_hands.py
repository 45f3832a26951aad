"""A thousand tries to take one place at once: one gets it, on either database.

PostgreSQL has its own connections for threads. SQLite's tests run in memory, which one
connection sees: there the tries run on a file that holds the same rows, as the program
itself keeps them.
"""

import re
import sqlite3
import threading
from collections import Counter
from contextlib import contextmanager

import pytest
from django.db import connection, connections

from care.actions.place_changes import PlaceError, Trouble
from care.actions.places import claim
from care.models import HandOver, ShiftPlace
from care.planning.place_rules import Stop
from tests.care.shift_people import NOW, helper, places_of, shift_on

HANDS, TRIES = 20, 50


def grab(places, members, tries=TRIES):
    """Let every member try for the places again and again, all from the same instant."""
    gate = threading.Barrier(len(members))
    results: Counter[tuple[str, str]] = Counter()
    failures: list[BaseException] = []
    lock = threading.Lock()

    def run(member):
        gate.wait()
        try:
            for number in range(tries):
                found = attempt(places[number % len(places)], member)
                with lock:
                    results[member.person.username, found] += 1
        except Exception as error:  # noqa: BLE001 (the test raises it)
            failures.append(error)
        finally:
            connections.close_all()

    threads = [threading.Thread(target=run, args=(one,)) for one in members]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []
    return results


def attempt(place, member):
    try:
        return "won" if claim(place=place, by=member, now=NOW).is_new else "mine"
    except PlaceError as error:
        return ",".join(error.codes)


@contextmanager
def rows_in_a_file(folder):
    """Give new connections a file with the rows of the one in memory."""
    path = folder / "places.sqlite3"
    connection.ensure_connection()
    # Its own transaction is open, so that a backup would wait for it for ever.
    with sqlite3.connect(path) as file:
        file.create_function("REGEXP", 2, re.search)
        file.executescript("\n".join(connection.connection.iterdump()))
    file.close()
    known = connections.settings["default"]
    name, tested = known["NAME"], connection.settings_dict
    connections.settings["default"] = {**known, "NAME": str(path)}
    try:
        yield path
    finally:
        connections.settings["default"] = known
        assert connection.settings_dict is tested
        assert known["NAME"] == name


def one_of_a_thousand(results):
    assert results.total() == HANDS * TRIES == 1000
    won = [who for who, what in results.elements() if what == "won"]
    assert len(won) == 1
    others = {what for who, what in results if who != won[0]}
    assert others == {Trouble.QUICKER}
    assert {what for who, what in results if who == won[0]} <= {"won", "mine"}
    return won[0]


@pytest.mark.skipif(connection.vendor != "sqlite", reason="is about SQLite's files")
@pytest.mark.django_db
def test_of_a_thousand_tries_in_a_file_one_wins(site, tmp_path):
    members = [helper(site, f"hand{number}") for number in range(HANDS)]
    place = places_of(shift_on(site))[0]
    with rows_in_a_file(tmp_path) as path:
        winner = one_of_a_thousand(grab([place], members))
    with sqlite3.connect(path) as file:
        rows = file.execute(
            "select p.username, s.version from care_shiftplace s"
            " join orchard_person p on p.id = s.holder_id"
        ).fetchall()
        told = file.execute("select count(*) from care_handover").fetchone()
    file.close()
    assert (rows, told) == ([(winner, 1)], (1,))
    place.refresh_from_db()
    assert place.holder is None  # the rows in memory were left alone


@pytest.mark.postgresql
@pytest.mark.django_db(transaction=True)
def test_of_a_thousand_tries_one_wins(site):
    members = [helper(site, f"hand{number}") for number in range(HANDS)]
    place = places_of(shift_on(site))[0]
    winner = one_of_a_thousand(grab([place], members))
    place.refresh_from_db()
    assert (place.holder.username, place.version) == (winner, 1)
    assert HandOver.objects.count() == 1


@pytest.mark.postgresql
@pytest.mark.django_db(transaction=True)
def test_nobody_gets_two_shifts_of_one_day_by_trying_for_all_at_once(site):
    """Shifts are locked one by one; the day is kept by the database."""
    members = [helper(site, f"hand{number}") for number in range(HANDS // 2)]
    shifts = [shift_on(site, name=f"Row {number}") for number in range(5)]
    places = [place for shift in shifts for place in places_of(shift)]
    results = grab(places, members, tries=len(places))
    assert {what for _, what in results} <= {
        *("won", "mine"),
        *(Trouble.QUICKER, Stop.SAME_DAY),
    }
    held = ShiftPlace.objects.exclude(holder=None)
    holders = list(held.values_list("holder", flat=True))
    assert len(holders) == len(set(holders)) == len(members)
    assert HandOver.objects.count() == len(members)
