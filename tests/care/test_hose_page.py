"""A hose run: minutes a tree in walking order, and what is logged of it."""

import pytest

from care.models import LogEntry, Task
from orchard.models import Feature
from tests.conftest import TODAY

HOSE = "/s/test-site/hose/"


def text(response):
    return " ".join(response.content.decode().split())


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def row_of_two(site, make_tree, make_task, keep_plan):
    """Two trees on the plan, the second nearer to the tap, and a third without work."""
    far, near = make_tree("Far", x_m=1, y_m=1), make_tree("Near", x_m=9, y_m=1)
    tasks = [make_task(far), make_task(near, amount=6.0)]
    make_tree("Content", x_m=5, y_m=1)
    Feature.objects.create(
        site=site, kind="tap", name="Shed", points_m=[[10, 1]], flow_l_per_min=12
    )
    keep_plan()
    return tasks


def posted(*tasks, **more):
    trees = [str(task.tree.public_id) for task in tasks]
    boxes = {f"litres-{task.tree.public_id}": f"{task.amount:g}" for task in tasks}
    return {"trees": trees, "on": str(TODAY), **boxes, **more}


def test_minutes_follow_from_the_flow_of_the_plans_tap(grower, row_of_two):
    page = text(grower.get(HOSE))
    # 18 L at 12 L a minute run 90 s, 6 L run 30 s.
    assert "Shed: 12 L in a minute" in page
    assert "1 min 30 s" in page
    assert "30 s" in page
    assert "Those that are due take 2 min." in page
    # From the tap at 10 m: the nearest first.
    assert page.index(">Near<") < page.index(">Content<") < page.index(">Far<")


def test_a_timed_bucket_says_what_the_hose_gives(grower, row_of_two):
    # 10 L in 40 s are 15 L a minute: 18 L run 72 s.
    page = text(grower.get(HOSE, {"bucket": "10", "seconds": "40"}))
    assert "Reckoned with 15 L in a minute." in page
    assert "1 min 12 s" in page


def test_without_a_flow_it_asks_for_one_and_logs_all_the_same(
    grower, make_tree, make_task, keep_plan
):
    task = make_task(make_tree())
    keep_plan()
    assert "Say how much the hose gives, and the minutes" in text(grower.get(HOSE))
    grower.post(f"{HOSE}run/", posted(task))
    assert LogEntry.objects.get().amount == 18.0


def test_a_bucket_without_its_time_is_refused(grower, row_of_two):
    answer = grower.get(HOSE, {"bucket": "10"})
    assert answer.status_code == 422
    assert "Both are needed: the bucket and its time." in text(answer)


def test_a_run_ticks_what_waits_and_is_taken_back_as_a_whole(grower, row_of_two):
    changed = {f"litres-{row_of_two[0].tree.public_id}": "20"}
    answer = grower.post(f"{HOSE}run/", posted(*row_of_two, **changed), follow=True)
    assert "Watered by hose: 2 trees, 26 L together." in text(answer)
    assert "Take all of it back" in text(answer)
    given = LogEntry.objects.order_by("amount").values_list("amount", "task__status")
    assert list(given) == [(6.0, "done"), (20.0, "done")]
    entry = LogEntry.objects.first()
    grower.post(f"/s/test-site/log/{entry.public_id}/undo/", {"all": "ticked"})
    assert not LogEntry.objects.filter(voided_at=None).exists()
    assert not Task.objects.exclude(status="open").exists()


def test_a_chosen_tree_needs_its_litres(grower, row_of_two):
    empty = {f"litres-{row_of_two[0].tree.public_id}": ""}
    answer = grower.post(f"{HOSE}run/", posted(*row_of_two, **empty))
    assert answer.status_code == 422
    assert "About how much did it get?" in text(answer)
    assert not LogEntry.objects.exists()


def test_a_tree_of_another_site_is_refused(grower, row_of_two):
    other = "00000000-0000-4000-8000-000000000000"
    answer = grower.post(f"{HOSE}run/", {**posted(row_of_two[0]), "trees": [other]})
    assert answer.status_code == 422
    assert not LogEntry.objects.exists()


def test_gallons_are_logged_as_litres(cast, client_of, row_of_two):
    cast.grower.units = "us"
    cast.grower.save()
    grower = client_of(cast.grower)
    box = {f"litres-{row_of_two[0].tree.public_id}": "2"}
    grower.post(f"{HOSE}run/", posted(row_of_two[0], **box))
    # 2 US gal are 7.570823568 L: NIST SP 811 (2008), appendix B.8.
    assert LogEntry.objects.get().amount == pytest.approx(7.570823568, abs=1e-9)


def test_of_too_many_trees_it_shows_those_that_are_due(grower, row_of_two, monkeypatch):
    monkeypatch.setattr("care.views.hose_sheet.TREES_SHOWN", 2)
    page = text(grower.get(HOSE))
    assert ">Near<" in page
    assert ">Content<" not in page
    assert "1 more tree stands there: choose a block to see it." in page
