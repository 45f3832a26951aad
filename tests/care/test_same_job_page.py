"""Asking "the same job, or a second one?" on the pages of members."""

from datetime import timedelta

import pytest
from django.utils import timezone
from lxml import html  # type: ignore[import-untyped]  # lxml ships no types

from care.actions.tasks import complete_task
from care.models import LogEntry
from tests.conftest import TODAY

DAY = timedelta(days=1)
FRAGMENT = {"HX-Request": "true"}


def text(response):
    return " ".join(response.content.decode().split())


def fields_of(response):
    """Return what pressing a button of the question's form would send."""
    tree = html.fromstring(response.content.decode())
    (form,) = tree.xpath("//form[.//button[@name='same_job']]")
    fields = {}
    for name, value in form.form_values():
        fields.setdefault(name, []).append(value)
    answers = form.xpath(".//button[@name='same_job']/@value")
    assert answers == ["same", "second"]
    return form.action, fields


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def owner(cast, client_of):
    return client_of(cast.owner)


@pytest.fixture
def feedings(make_tree, make_task, cast, keep_plan):
    """One done three days ago, another that asks for more."""
    tree = make_tree("Anna")
    values = {"kind": "feeding", "action": "feed", "amount": 400.0, "unit": "g"}
    first, second = (make_task(tree, key=f"2025/{n}", **values) for n in (1, 2))
    complete_task(task=first, person=cast.owner, on=TODAY - 3 * DAY, now=timezone.now())
    keep_plan()
    return second


def done_address(task):
    return f"/s/test-site/tasks/{task.public_id}/done/"


def test_a_feeding_is_asked_about_and_nothing_is_written_yet(grower, feedings):
    posted = {"amount": "380", "note": "half wet", "on": str(TODAY)}
    answer = grower.post(done_address(feedings), posted)
    assert answer.status_code == 409
    page = text(answer)
    assert "Fed Anna, 400 g" in page
    assert "owner, Sunday" in page
    assert LogEntry.objects.count() == 1
    action, fields = fields_of(answer)
    assert action == done_address(feedings)
    assert {name: fields[name] for name in posted} == {
        name: [value] for name, value in posted.items()
    }


def test_the_same_names_both_and_says_so(grower, feedings):
    action, fields = fields_of(grower.post(done_address(feedings), {"amount": "380"}))
    page = text(grower.post(action, {**fields, "same_job": "same"}, follow=True))
    assert "Counted once: owner did it on Sunday; you are named too." in page
    log = text(grower.get("/s/test-site/log/"))
    assert "owner and grower, Sunday" in log
    assert LogEntry.objects.count() == 1


def test_a_second_one_is_written_with_what_was_typed(grower, feedings):
    action, fields = fields_of(grower.post(done_address(feedings), {"amount": "380"}))
    grower.post(action, {**fields, "same_job": "second"})
    assert list(LogEntry.objects.values_list("amount", flat=True)) == [380.0, 400.0]


def test_as_a_fragment_the_question_takes_the_place_of_the_line(grower, feedings):
    answer = grower.post(done_address(feedings), headers=FRAGMENT)
    assert answer.status_code == 200
    assert text(answer).startswith('<li class="line">')
    action, fields = fields_of(answer)
    done = grower.post(action, {**fields, "same_job": "same"}, headers=FRAGMENT)
    assert "you are named too" in text(done)
    assert text(done).startswith("<li")


@pytest.mark.parametrize(
    "answer",
    [
        {"same_job": "perhaps"},
        {"same_job": "same"},
        {"same_job": "second", "seen": "x"},
        {"same_job": "second", "seen": "7f1f9d0c-4a58-4f6e-9a0e-3c1f6f2a9b11"},
    ],
    ids=["no answer", "of nothing", "of no entry", "of another"],
)
def test_an_answer_that_is_none_is_asked_for_again(grower, feedings, answer):
    assert grower.post(done_address(feedings), answer).status_code == 409
    assert LogEntry.objects.count() == 1


def test_a_row_says_which_were_left_to_be_asked(grower, site, feedings):
    block = site.blocks.first()
    page = grower.post(
        f"/s/test-site/blocks/{block.pk}/done/",
        {"kind": "feeding", "action": "feed"},
        follow=True,
    )
    assert "1 tree was left, fed lately" in text(page)
    assert LogEntry.objects.count() == 1


def test_a_sprayed_row_is_asked_about_once_for_all_its_trees(grower, owner, make_tree):
    trees = [make_tree(f"Tree {number}") for number in range(12)]
    address = f"/s/test-site/trees/{trees[0].public_id}/spray/"
    spray = {
        "product": "Soap",
        "waiting_days": "7",
        "on": str(TODAY),
        "reach": "block",
    }
    owner.post(address, spray)
    answer = grower.post(address, spray)
    assert answer.status_code == 409
    assert text(answer).count("Sprayed Tree") == 10
    assert "And 2 more." in text(answer)
    assert "the longer wait counts" in text(answer)
    action, fields = fields_of(answer)
    page = grower.post(action, {**fields, "same_job": "same"}, follow=True)
    assert "Counted once" in text(page)
    assert LogEntry.objects.count() == 12
    assert LogEntry.objects.filter(also_by__username="grower").count() == 12


def test_a_harvest_is_asked_about(grower, owner, make_tree):
    tree = make_tree("Anna")
    address = f"/s/test-site/trees/{tree.public_id}/harvest/"
    owner.post(address, {"mass": "10", "on": str(TODAY)})
    answer = grower.post(address, {"mass": "9.5", "on": str(TODAY)})
    assert answer.status_code == 409
    action, fields = fields_of(answer)
    page = grower.post(action, {**fields, "same_job": "same"}, follow=True)
    assert "Counted once" in text(page)
    assert LogEntry.objects.get().amount == 10.0
    grower.post(action, {**fields, "same_job": "second"})
    assert LogEntry.objects.count() == 2


def test_whoever_may_not_tick_is_not_asked(cast, client_of, feedings):
    assert client_of(cast.viewer).post(done_address(feedings)).status_code == 403


def test_undo_says_whose_name_came_off_and_what_is_stale(
    grower, owner, make_tree, make_task, keep_plan
):
    task = make_task(make_tree("Anna"))
    keep_plan()
    owner.post(done_address(task))
    keep_plan()
    grower.post(done_address(task))
    entry = LogEntry.objects.get()
    undo = f"/s/test-site/log/{entry.public_id}/undo/"
    page = text(grower.post(undo, headers=FRAGMENT))
    assert "Your name is off it; the work stays written down. owner, today" in page
    owner.post(undo)
    keep_plan()
    grower.post(done_address(task))
    stale = text(owner.post(undo, headers=FRAGMENT))
    assert "Already taken back, so nothing was changed. grower, today" in stale
    assert LogEntry.objects.filter(voided_at=None).count() == 1


def test_a_skip_that_was_overruled_tells_by_whom(
    grower, owner, make_tree, make_task, keep_plan
):
    task = make_task(make_tree("Anna"))
    keep_plan()
    grower.post(done_address(task).replace("done", "skip"), {"reason": "no_time"})
    keep_plan()
    owner.post(done_address(task))
    log = text(grower.get("/s/test-site/log/"))
    assert "owner did it after all" in log
    assert "Watered Anna" in log
    said = text(
        grower.post(
            done_address(task).replace("done", "skip"),
            {"reason": "no_time"},
            follow=True,
        )
    )
    assert "owner already did this at" in said
