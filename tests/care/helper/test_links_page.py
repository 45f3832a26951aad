"""The page of those who arrange: make a link, see it once, see who came, close it."""

import re
from datetime import time, timedelta

import pytest
from django.test import Client
from django.utils import timezone

from care.actions.shifts import make_shift
from care.actions.tasks import complete_task
from care.models import HelperLink, Shift
from orchard.actions.people import hash_of
from orchard.models import Block, Site
from tests.conftest import TODAY

PAGE = "/s/test-site/helpers/"


def text(response):
    return " ".join(response.content.decode().split())


@pytest.fixture
def coordinator(cast, client_of):
    return client_of(cast.coordinator)


@pytest.fixture
def one(anna, berta, make_round, keep_plan):
    found = make_round(TODAY, [anna, berta])
    keep_plan()
    return found


def test_a_new_link_is_shown_once_with_a_square_for_phones(coordinator, one):
    page = text(coordinator.post(PAGE, {"round": str(one.uid)}))
    token = re.search(r"http://testserver/h/([\w-]+)/", page)[1]
    assert HelperLink.objects.get().token_hash == hash_of(token)
    assert "The link for Long row, today" in page
    assert "until the end of" in page
    assert "<svg" in page
    assert "viewBox" in page  # it fills its box, with the quiet zone round it
    assert "style=" not in page  # the content policy would drop it
    again = text(coordinator.get(PAGE))
    assert token not in again
    assert "Long row, today" in again
    assert "Nobody has opened it yet." in again


def test_first_use_says_what_a_helper_is_and_that_no_round_waits(
    coordinator, keep_plan, site
):
    keep_plan()
    page = text(coordinator.get(PAGE))
    assert "A helper opens the link, gives a first name and sees one round" in page
    assert "No round of the next two weeks has anything to tick." in page
    assert "None yet." in page
    assert '<form method="post" class="card"' not in page


@pytest.mark.parametrize("chosen", ["", "x", "00000000-0000-0000-0000-000000000000"])
def test_a_round_that_is_none_makes_no_link(coordinator, one, chosen):
    assert coordinator.post(PAGE, {"round": chosen}).status_code == 422
    assert not HelperLink.objects.exists()


def test_who_came_and_what_they_ticked_stands_under_the_link(
    coordinator, come, anna, client_of
):
    sam = come("Sam")
    come("Kim")
    sam.post(f"/h/tick/{anna.public_id}/", {"note": "", "amount": "15"})
    page = text(coordinator.get(PAGE))
    assert "<strong>Sam</strong>" in page
    assert "Watered Anna, 15 L" in page
    assert page.count("Nothing ticked yet.") == 1


def test_closing_ends_the_link_and_says_so(coordinator, cast, client_of, link, sam):
    revoke = f"{PAGE}{link[0].pk}/revoke/"
    page = text(coordinator.post(revoke, follow=True))
    assert "Closed: the link no longer works." in page
    assert "Closed. Made by coordinator." in page
    assert sam.get("/h/").status_code == 410
    assert Client().get(f"/h/{link[1]}/").status_code == 410
    assert "Closed already." in text(coordinator.post(revoke, follow=True))


def test_an_ended_link_says_that_it_ended(coordinator, link):
    HelperLink.objects.update(expires_at=link[0].made_at)
    assert "Ended at the end of" in text(coordinator.get(PAGE))


def test_nobody_closes_the_link_of_another_orchard(cast, client_of, link):
    stranger = client_of(cast.stranger)
    answer = stranger.post(f"/s/elsewhere/helpers/{link[0].pk}/revoke/")
    assert answer.status_code == 302
    assert HelperLink.objects.get().revoked_at is None
    assert "Long row" not in text(stranger.get("/s/elsewhere/helpers/"))


def test_the_page_asks_the_database_as_often_for_9_helpers_as_for_1(
    coordinator, come, make_task, make_tree, link, keep_plan, django_assert_num_queries
):
    def help_out(number):
        come(f"Helper {number}")
        helper = link[0].helpers.last()
        task = make_task(make_tree(f"Tree {number}"))
        complete_task(
            task=task, person=None, helper=helper, on=TODAY, now=link[0].made_at
        )

    help_out(0)
    keep_plan()
    coordinator.get(PAGE)
    with django_assert_num_queries(11):
        coordinator.get(PAGE)
    for number in range(1, 9):
        help_out(number)
    keep_plan()
    with django_assert_num_queries(11):
        page = text(coordinator.get(PAGE))
    assert page.count("Watered Tree") == 9


def test_the_rounds_of_another_orchard_are_not_offered(cast, client_of, one):
    Site.objects.filter(slug="elsewhere").update(own_today=TODAY)
    stranger = client_of(cast.stranger)
    page = "/s/elsewhere/helpers/"
    assert "Long row" not in text(stranger.get(page))
    assert stranger.post(page, {"round": str(one.uid)}).status_code == 422
    assert not HelperLink.objects.exists()


def test_a_shift_asks_for_the_rounds_of_its_day_one_link_a_block(
    coordinator, cast, client_of, site, one, make_tree, make_task, make_round, keep_plan
):
    wall = Block.objects.create(site=site, name="South wall", position=3)
    other = make_round(TODAY, [make_task(make_tree("Fig", block=wall))])
    later = make_round(
        TODAY + timedelta(days=5), [make_task(make_tree("Clara"), days=5)]
    )
    shift = make_shift(
        site=site,
        values={"name": "Noon", "day": TODAY, "starts_at": time(12), "minutes": 60},
        skills=[""],
        person=cast.owner,
        now=timezone.now(),
    )
    keep_plan()
    path = f"{PAGE}?shift={shift.uid}"
    page = text(coordinator.get(path))
    assert "It covers 2 rounds, one a block" in page
    assert str(later.uid) not in page
    assert "The link for South wall" in text(
        coordinator.post(path, {"round": str(other.uid)})
    )
    assert coordinator.post(path, {"round": str(later.uid)}).status_code == 422
    Shift.objects.update(block=site.blocks.get(name="Long row"))
    assert "It covers this one round." in text(coordinator.get(path))
    Shift.objects.update(day=TODAY + timedelta(days=2))
    assert "No round with anything to tick falls on it." in text(coordinator.get(path))
    for wrong in ("x", "7f1f9d0c-4a58-4f6e-9a0e-3c1f6f2a9b11"):
        assert coordinator.get(f"{PAGE}?shift={wrong}").status_code == 404
    elsewhere = client_of(cast.stranger).get(f"/s/elsewhere/helpers/?shift={shift.uid}")
    assert elsewhere.status_code == 404
