"""A fresh plan is offered quietly, looked at, and used only when a person says so."""

from datetime import timedelta

import pytest
from django.utils import timezone

from care.models import Round, Task
from care.planning.fresh_plan import find_fresh_plan
from care.planning.plan_site import plan_site
from orchard.models import AuditEntry, Membership, Offered
from tests.conftest import TODAY

ROUND = "/s/test-site/"
PAGE = f"{ROUND}fresh-plan/"
DAY = timedelta(days=1)


def text(response):
    return " ".join(response.content.decode().split())


@pytest.fixture
def coordinator(cast, client_of):
    return client_of(cast.coordinator)


def span(earliest, due, latest):
    first, best, last = (TODAY + number * DAY for number in (earliest, due, latest))
    return {"earliest": first, "due": best, "latest": last}


@pytest.fixture
def apart(site, make_tree, make_task, make_round, keep_plan):
    """Two walks whose tasks do not fit each other's day, though both fit day 4."""
    early = [make_task(make_tree(name), **span(2, 3, 5)) for name in ("Anna", "Berta")]
    late = [make_task(make_tree("Cleo"), **span(4, 6, 8))]
    make_round(TODAY + 3 * DAY, early)
    make_round(TODAY + 7 * DAY, late)
    keep_plan()
    return early + late


def test_a_fresh_plan_is_offered_to_who_may_change_things_and_to_nobody_else(
    apart,
    coordinator,
    cast,
    client_of,
    make_task,
    keep_plan,
    django_assert_max_num_queries,
):
    page = text(coordinator.get(ROUND))
    assert "A fresh plan saves 1 walk and moves" in page
    assert "Use it" in page
    assert "fresh plan" not in text(client_of(cast.grower).get(ROUND))
    shown = text(coordinator.get(PAGE))
    assert "Water Cleo, Long row" in shown
    assert client_of(cast.grower).post(PAGE).status_code == 403
    site = apart[0].site
    with django_assert_max_num_queries(6):
        find_fresh_plan(site, TODAY)
    assert Round.objects.filter(is_withdrawn=False).count() == 2


def test_where_nothing_is_to_be_saved_the_page_says_so(
    coordinator, make_tree, make_task, make_round, keep_plan
):
    make_round(TODAY, [make_task(make_tree())])
    keep_plan()
    assert "A fresh plan" not in text(coordinator.get(ROUND))
    assert "No fresh plan is worth its moves" in text(coordinator.get(PAGE))
    answer = coordinator.post(PAGE, {"seen": "x"}, follow=True)
    assert "Something changed since you looked." in text(answer)


def test_using_it_moves_the_walks_and_stands_in_the_trail(
    site, cast, coordinator, make_tree
):
    make_tree()
    plan_site(site, TODAY, timezone.now())
    # The walks are planned; then somebody says that Saturdays suit.
    member = Membership.objects.get(person=cast.owner)
    Offered.objects.create(membership=member, weekday=5, wish=1)
    found = find_fresh_plan(site, TODAY)
    assert found is not None
    assert any(move.new.weekday() == 5 for move in found.moves)
    site.refresh_from_db()
    days = {move.task.pk: move.new for move in found.moves}
    answer = coordinator.post(PAGE, {"seen": str(site.revision)}, follow=True)
    moved = "1 task" if len(days) == 1 else f"{len(days)} tasks"
    assert f"The fresh plan stands: {moved} moved." in text(answer)
    stored = Task.objects.filter(pk__in=days).values_list("pk", "round__day")
    assert dict(stored) == days
    entry = AuditEntry.objects.get(what="fresh_plan_used")
    assert entry.after["tasks_moved"] == len(days)
    # Once more: whoever pressed with the old page open changes nothing.
    again = coordinator.post(PAGE, {"seen": str(site.revision)}, follow=True)
    assert "Something changed since you looked." in text(again)
    site.refresh_from_db()
    nothing = coordinator.post(PAGE, {"seen": str(site.revision)}, follow=True)
    assert "Nothing is left to save" in text(nothing)
