"""One tree at a time: the walk in large type, in order, with undo."""

import re
from datetime import timedelta

import pytest
from django.utils import timezone

from care.models import LogEntry
from tests.conftest import TODAY

PAGE = "/s/test-site/round/tree/"


def text(response):
    return " ".join(response.content.decode().split())


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def two(make_tree, make_task, keep_plan):
    first, second = make_tree("Apple", position=1), make_tree("Fig", position=2)
    tasks = [make_task(first, cautions=["feel_soil_first"]), make_task(second)]
    keep_plan()
    return tasks


def test_the_walk_goes_from_tree_to_tree_and_says_where_it_is(grower, two):
    page = text(grower.get(PAGE))
    assert page.index("1 of 2 · Long row") < page.index("Water Apple")
    assert page.index("Water Apple") < page.index("2 of 2") < page.index("Water Fig")
    assert f'href="#t-{two[1].public_id}"' in page
    assert "Feel the soil first" in page
    assert page.count("18 L") >= 2


def test_done_leads_to_the_next_tree_and_offers_undo(grower, two):
    back = f"{PAGE}#t-{two[1].public_id}"
    answer = grower.post(
        f"/s/test-site/tasks/{two[0].public_id}/done/",
        {"one": "1", "back": back, "amount": "12", "minutes": "3"},
    )
    assert answer.headers["Location"] == back
    entry = LogEntry.objects.get()
    assert (entry.amount, entry.minutes_spent) == (12.0, 3.0)
    page = text(grower.get(PAGE))
    assert "Watered Apple, 12 L." in page
    assert f"log/{entry.public_id}/undo/" in page
    assert re.search(r"2 of \d+ · Long row", page)
    # It says so once, with undo, and not in a message of its own as well.
    assert page.count("Watered Apple") == 2  # the line and what the phone would keep


def test_undo_is_offered_for_a_while_and_never_of_anothers_work(
    grower, cast, client_of, two
):
    grower.post(f"/s/test-site/tasks/{two[0].public_id}/done/", {"one": "1"})
    assert "Watered Apple" not in text(client_of(cast.owner).get(PAGE))
    LogEntry.objects.update(recorded_at=timezone.now() - timedelta(minutes=16))
    assert "Watered Apple" not in text(grower.get(PAGE))


def test_a_skip_takes_one_of_its_reasons_in_one_tap(grower, two):
    page = text(grower.get(PAGE))
    assert re.search(r'name="reason" value="still_wet">The soil is still wet', page)
    grower.post(
        f"/s/test-site/tasks/{two[0].public_id}/skip/",
        {"one": "1", "reason": "still_wet", "back": PAGE},
    )
    assert LogEntry.objects.get().reason == "still_wet"


def test_the_end_of_the_walk_says_so(grower, keep_plan, make_tree):
    make_tree()
    keep_plan()
    assert "Nothing is left of this walk." in text(grower.get(PAGE))


def test_who_may_only_look_is_told_whom_to_ask(cast, client_of, two):
    page = text(client_of(cast.viewer).get(PAGE))
    assert "ask an owner or coordinator" in page
    assert "tasks/" in page
    assert "/done/" not in page


def test_a_long_walk_is_shown_in_parts(
    grower, make_tree, make_task, keep_plan, monkeypatch
):
    monkeypatch.setattr("care.views.under_tree.STEPS_SHOWN", 2)
    for number in range(5):
        make_task(make_tree(f"Tree {number}", position=number))
    keep_plan()
    page = text(grower.get(PAGE))
    assert "1 of 5" in page
    assert "3 more follow once these are done." in page
    assert "Water Tree 2" not in page


def test_it_asks_as_little_of_the_database_for_many_trees(
    grower, make_tree, make_task, keep_plan, django_assert_max_num_queries
):
    for number in range(30):
        make_task(make_tree(f"Tree {number}"), earliest=TODAY)
    keep_plan()
    grower.get(PAGE)
    with django_assert_max_num_queries(40):
        grower.get(PAGE)
