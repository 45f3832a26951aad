"""All of the round is done: two taps, on the right day, taken back in one."""

import re
from datetime import timedelta

import pytest

from care.models import LogEntry, Task
from tests.conftest import TODAY

ROUND = "/s/test-site/"
YESTERDAY = TODAY - timedelta(days=1)


def text(response):
    return " ".join(response.content.decode().split())


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def three(make_tree, make_task, keep_plan):
    """Two waterings that could be done yesterday, one whose window opens today."""
    tasks = [make_task(make_tree(f"Apple {number}")) for number in range(2)]
    tasks.append(make_task(make_tree("Fig"), earliest=TODAY))
    keep_plan()
    return tasks


def standing():
    return LogEntry.objects.filter(voided_at=None)


def test_the_round_offers_both_days_with_what_each_would_tick(grower, three):
    page = text(grower.get(ROUND))
    # TODAY is Wednesday 2 July 2025.
    assert "All 2 done yesterday, Tuesday 1 July" in page
    assert "All 3 done today, Wednesday 2 July" in page
    assert f'name="on" value="{YESTERDAY}"' in page


def test_all_done_yesterday_ticks_only_what_could_be_done_then(grower, cast, three):
    answer = grower.post(f"{ROUND}all-done/", {"on": str(YESTERDAY)})
    entries = list(standing().order_by("tree__name"))
    assert [(entry.on, entry.amount, entry.person) for entry in entries] == [
        (YESTERDAY, 18.0, cast.grower)
    ] * 2
    three[2].refresh_from_db()
    assert three[2].status == Task.Status.OPEN
    page = text(grower.get(answer.headers["Location"]))
    assert "2 tasks are ticked as done on Tuesday 1 July." in page


def test_the_whole_is_taken_back_in_one_tap(grower, three):
    answer = grower.post(f"{ROUND}all-done/", {"on": str(TODAY)})
    page = text(grower.get(answer.headers["Location"]))
    assert "3 lines of the log were written in one tap." in page
    entry = standing().first()
    grower.post(f"{ROUND}log/{entry.public_id}/undo/", {"all": "ticked"})
    assert not standing().exists()
    statuses = Task.objects.filter(tree__name__in=["Apple 0", "Apple 1", "Fig"])
    assert set(statuses.values_list("status", flat=True)) == {"open"}


def test_pressed_twice_it_ticks_nothing_that_was_not_shown(grower, three):
    page = text(grower.get(ROUND))
    seen = re.search(r'name="seen" value="([^"]+)"', page)
    posted = {"on": str(TODAY), "seen": seen[1]}
    # After the first tap the plan is made anew, and asks for mulch.
    for _ in range(2):
        answer = grower.post(f"{ROUND}all-done/", posted, follow=True)
    assert Task.objects.filter(kind="mulching", status="open", due__lte=TODAY).exists()
    assert standing().count() == 3
    assert "Nothing was to tick on that day." in text(answer)


def test_it_never_feeds_a_tree_twice(grower, site, make_tree, make_task, keep_plan):
    feeds = [
        make_task(make_tree(name), kind="feeding", key=f"2025/{n}", action="feed")
        for n, name in enumerate(["Apple", "Fig"])
    ]
    LogEntry.objects.create(
        site=site,
        tree=feeds[0].tree,
        what="done",
        kind="feeding",
        action="feed",
        on=TODAY - timedelta(days=5),
        recorded_at="2025-06-27T08:00:00Z",
        amount=100,
        unit="g",
    )
    keep_plan()
    answer = grower.post(f"{ROUND}all-done/", {"on": str(TODAY)}, follow=True)
    assert list(standing().filter(task__isnull=False).values_list("tree__name")) == [
        ("Fig",)
    ]
    assert "1 tree was left, fed lately" in text(answer)


def test_a_planting_is_ticked_by_itself(grower, make_tree, make_task, keep_plan):
    task = make_task(make_tree(), kind="planting", action="plant", amount=None, unit="")
    keep_plan()
    grower.post(f"{ROUND}all-done/", {"on": str(TODAY)})
    task.refresh_from_db()
    assert task.status == Task.Status.OPEN


@pytest.mark.parametrize(
    ("on", "words"),
    [
        (TODAY + timedelta(days=1), "That day has not come yet."),
        (TODAY - timedelta(days=8), "That is more than 7 days ago."),
        ("soon", "Write the day as year-month-day"),
    ],
)
def test_a_wrong_day_is_refused_at_its_field(grower, three, on, words):
    answer = grower.post(f"{ROUND}all-done/", {"on": str(on)})
    assert answer.status_code == 422
    assert words in text(answer)
    assert not standing().exists()


def test_another_member_is_not_offered_to_take_it_back(grower, cast, client_of, three):
    answer = grower.post(f"{ROUND}all-done/", {"on": str(TODAY)})
    other = client_of(cast.owner).get(answer.headers["Location"])
    assert "Take all of it back" not in text(other)


def test_a_row_done_in_one_tap_is_taken_back_in_one_tap(grower, three):
    block = three[0].tree.block_id
    posted = {"kind": "watering", "action": "water"}
    answer = grower.post(f"{ROUND}blocks/{block}/done/", posted, follow=True)
    assert "Take all of it back" in text(answer)
