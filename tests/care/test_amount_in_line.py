"""The amount in a line of the round: planned, changed in place, refused in place."""

import pytest

from care.models import LogEntry

ROUND = "/s/test-site/"


def text(response):
    return " ".join(response.content.decode().split())


def done_address(task):
    return f"{ROUND}tasks/{task.public_id}/done/"


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


def test_a_line_holds_the_planned_amount_to_be_changed_in_place(
    grower, cast, make_tree, make_task, keep_plan
):
    task = make_task(make_tree(), amount=18.123456)
    keep_plan()
    page = text(grower.get(ROUND))
    assert "How much it got, in L" in page
    assert 'name="amount" value="18.12"' in page
    # What nobody touched keeps the plan's own amount, however it was rounded.
    grower.post(done_address(task), {"amount": "18.12"})
    assert LogEntry.objects.get(person=cast.grower).amount == 18.123456


def test_a_wrong_amount_in_a_line_comes_back_in_the_line(
    grower, make_tree, make_task, keep_plan
):
    task = make_task(make_tree())
    keep_plan()
    answer = grower.post(
        done_address(task), {"amount": "lots"}, headers={"HX-Request": "true"}
    )
    assert answer.status_code == 422
    line = text(answer)
    assert line.startswith('<li class="line"')
    assert 'value="lots"' in line
    assert 'aria-invalid="true"' in line
    assert "field__error" in line
    assert not LogEntry.objects.exists()


def test_another_amount_is_logged_in_litres(
    cast, client_of, make_tree, make_task, keep_plan
):
    cast.grower.units = "us"
    cast.grower.save()
    task = make_task(make_tree())
    keep_plan()
    grower = client_of(cast.grower)
    assert "How much it got, in gal" in text(grower.get(ROUND))
    grower.post(done_address(task), {"amount": "3"})
    # 3 US gal are 11.356235352 L: NIST SP 811 (2008), appendix B.8.
    assert LogEntry.objects.get().amount == pytest.approx(11.356235352, abs=1e-9)


def test_who_may_only_look_reads_the_amount_and_gets_no_box(
    cast, client_of, make_tree, make_task, keep_plan
):
    make_task(make_tree())
    keep_plan()
    page = text(client_of(cast.viewer).get(ROUND))
    assert '<span class="amount">18 L</span>' in page
    assert 'name="amount"' not in page
