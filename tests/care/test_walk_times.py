"""The round's page tells how long the work takes, and asks how long it took."""

import pytest
from django.utils import timezone

from care.models import LogEntry, Round, Task
from care.planning.learned_minutes import WalkTime
from care.views.calendar_rounds import rounds_of
from care.views.walk_words import about, minutes_words, work_words
from orchard.actions.places import block_named
from orchard.models import Corner
from orchard.units import UnitSystem
from tests.conftest import TODAY

ROUND = "/s/test-site/"
WALK = f"{ROUND}walk-minutes/"


def text(response):
    return " ".join(response.content.decode().split())


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


@pytest.mark.parametrize(
    ("time", "said"),
    [
        (WalkTime(0.0), ""),
        (WalkTime(1.0), "About 5 minutes of work."),
        (WalkTime(33.0), "About 35 minutes of work."),
        (
            WalkTime(33.0, (19.0, 36.0)),
            "About 35 minutes of work; 20\N{EN DASH}35 usually.",
        ),
        (WalkTime(33.0, (33.0, 34.0)), "About 35 minutes of work."),
        (WalkTime(140.0), "About 2 h 20 min of work."),
        (
            WalkTime(118.0, (90.0, 131.0)),
            "About 2 h of work; 90 minutes to 2 h 10 min usually.",
        ),
    ],
)
def test_work_is_told_in_steps_of_five_minutes(time, said):
    assert work_words(time) == said


def test_single_times_are_told_as_they_are():
    assert [minutes_words(n) for n in (1, 12, 120)] == ["1 minute", "12 minutes", "2 h"]
    assert about(2) == "about 5 minutes"


def test_the_page_tells_the_minutes_of_all_and_of_each_block(
    grower, site, make_tree, make_task, keep_plan
):
    patio = block_named(site=site, name="Patio")
    make_task(make_tree("Anna"), effort_minutes=40)
    keep_plan()
    page = text(grower.get(ROUND))
    assert "About 45 minutes of work." in page  # 40 * 1.08
    assert 'class="state">About' not in page
    make_task(make_tree("Berta", block=patio), effort_minutes=20)
    keep_plan()
    page = text(grower.get(ROUND))
    assert "About 65 minutes of work." in page
    assert 'class="state">About 45 minutes' in page
    assert 'class="state">About 20 minutes' in page


def test_a_walk_goes_by_place_and_keeps_its_order_once_it_began(
    grower, site, make_tree, make_task, make_round, keep_plan
):
    Corner.objects.create(site=site, name="gate", x_m=0.0, y_m=0.0)
    far = make_tree("Far", x_m=30.0, y_m=0.0)
    near = make_tree("Near", x_m=5.0, y_m=0.0)
    make_round(TODAY, [make_task(far), make_task(near)])
    keep_plan()
    page = text(grower.get(ROUND))
    assert page.index("Water Near") < page.index("Water Far")
    assert "Start walking" in page
    (shown,) = rounds_of(site.orchard, timezone.now(), UnitSystem.METRIC)
    assert shown.description.index("Water Near") < shown.description.index("Water Far")
    begun = grower.post(f"{ROUND}begin/", follow=True)
    assert "The walk has begun." in text(begun)
    assert Round.objects.get().order == [near.pk, far.pk]
    Corner.objects.update(x_m=60.0)
    page = text(grower.get(ROUND))
    assert page.index("Water Near") < page.index("Water Far")
    assert "Start walking" not in page
    assert "has begun already" in text(grower.post(f"{ROUND}begin/", follow=True))


def test_the_time_of_a_walk_is_noted_corrected_and_taken_back(
    grower, cast, client_of, make_tree, make_task, make_round, keep_plan
):
    task = make_task(make_tree())
    make_round(TODAY, [task])
    keep_plan()
    assert "How long did the walk take?" not in text(grower.get(ROUND))
    grower.post(f"{ROUND}tasks/{task.public_id}/done/", {"minutes": "12"})
    assert LogEntry.objects.get().minutes_spent == 12
    keep_plan()
    page = text(grower.get(ROUND))
    assert "How long did the walk take?" in page
    assert "It began at " in page
    assert "grower, today · 12 minutes" in page
    assert "Noted: 40 minutes." in text(
        grower.post(WALK, {"minutes": "40"}, follow=True)
    )
    page = text(grower.get(ROUND))
    assert "Timed the walk, 40 min" in page
    assert 'value="40"' in page
    assert "Timed the walk" not in text(client_of(cast.owner).get(ROUND))
    grower.post(WALK, {"minutes": "35 min"})
    standing = LogEntry.objects.filter(kind="walk_minutes", voided_at=None)
    assert [one.amount for one in standing] == [35.0]
    grower.post(WALK, {"minutes": ""})
    assert not standing.all().exists()


@pytest.mark.parametrize("typed", ["0", "-5", "2000", "an hour", "1e9", "nan"])
def test_times_that_cannot_be_are_refused_at_the_field_and_kept(
    grower, make_tree, make_task, keep_plan, typed
):
    task = make_task(make_tree())
    keep_plan()
    walk = grower.post(WALK, {"minutes": typed})
    tick = grower.post(
        f"{ROUND}tasks/{task.public_id}/done/", {"minutes": typed, "note": "hot"}
    )
    for answer in (walk, tick):
        assert answer.status_code == 422
        assert "field__error" in text(answer)
        assert f'value="{typed}"' in text(answer)
    assert "hot" in text(tick)
    assert not LogEntry.objects.exists()


def test_a_viewer_may_neither_begin_nor_time_a_walk(cast, client_of, make_tree):
    viewer = client_of(cast.viewer)
    assert viewer.post(f"{ROUND}begin/").status_code == 403
    assert viewer.post(WALK, {"minutes": "9"}).status_code == 403


def test_the_page_asks_as_often_for_many_placed_and_timed_trees_as_for_few(
    grower,
    cast,
    site,
    make_tree,
    make_task,
    make_round,
    keep_plan,
    django_assert_num_queries,
):
    Corner.objects.create(site=site, name="gate", x_m=0.0, y_m=0.0)
    tasks = [make_task(make_tree(f"A{n}", x_m=n, y_m=0.0)) for n in range(12)]
    one = make_round(TODAY, tasks[:3])

    def tick(task):
        grower.post(f"{ROUND}tasks/{task.public_id}/done/", {"minutes": "9"})
        keep_plan()

    tick(tasks[0])
    grower.post(WALK, {"minutes": "40"})
    grower.get(ROUND)
    with django_assert_num_queries(21):
        grower.get(ROUND)
    Task.objects.filter(pk__in=[task.pk for task in tasks[3:]]).update(round=one)
    tick(tasks[1])
    tick(tasks[4])
    with django_assert_num_queries(21):
        grower.get(ROUND)
