"""Calendar links: made, shown once, revoked; and the file behind one."""

import re
from datetime import timedelta

import pytest
from django.db.models import F
from django.utils import timezone

from care.actions.calendar_links import make_calendar_link
from care.models import CalendarLink
from orchard.actions.in_care import take
from orchard.actions.people import hash_of
from orchard.models import Membership, Site
from tests.conftest import TODAY

LINKS = "/s/test-site/calendar/"


def text(response):
    return " ".join(response.content.decode().split())


def unfold(content):
    """Undo the folding of long lines (RFC 5545, section 3.1)."""
    return content.decode().replace("\r\n ", "")


@pytest.fixture
def secret(cast):
    membership = Membership.objects.get(person=cast.grower)
    return make_calendar_link(membership=membership, label="Phone")[1]


@pytest.fixture
def planned_round(make_tree, make_task, make_round, keep_plan):
    water = make_task(make_tree("Anna"))
    feed = make_task(
        make_tree("Berta"),
        kind="feeding",
        key="2025/1",
        action="feed",
        amount=480.0,
        unit="g",
    )
    one = make_round(TODAY + timedelta(days=1), [water, feed])
    keep_plan()
    return one


def test_a_new_address_is_shown_once_and_only_its_hash_is_kept(cast, client_of, site):
    viewer = client_of(cast.viewer)
    page = text(viewer.post(LINKS, {"label": "My phone"}))
    token = re.search(r"http://testserver/calendar/([\w-]+)\.ics", page)[1]
    assert f"webcal://testserver/calendar/{token}.ics" in page
    assert CalendarLink.objects.get().token_hash == hash_of(token)
    again = text(viewer.get(LINKS))
    assert token not in again
    assert "My phone" in again
    assert "not read yet" in again


def test_a_link_needs_a_name(cast, client_of, site):
    answer = client_of(cast.viewer).post(LINKS, {"label": ""})
    assert answer.status_code == 422
    assert not CalendarLink.objects.exists()


def test_the_page_says_which_calendars_can_reach_a_server_at_home(
    cast, client_of, site
):
    page = text(client_of(cast.viewer).get(LINKS))
    assert "cannot reach a server at home" in page


def test_nobody_closes_the_link_of_another_member(cast, client_of, secret):
    link = CalendarLink.objects.get()
    client_of(cast.owner).post(f"{LINKS}{link.pk}/revoke/")
    link.refresh_from_db()
    assert link.revoked_at is None


def test_the_file_tells_the_round_as_one_all_day_event(client, secret, planned_round):
    answer = client.get(f"/calendar/{secret}.ics")
    assert answer.headers["Content-Type"] == "text/calendar; charset=utf-8"
    content = unfold(answer.content)
    assert content.count("BEGIN:VEVENT") == 1
    assert f"UID:{planned_round.uid}" in content
    assert "DTSTART;VALUE=DATE:20250703" in content
    assert "SUMMARY:Long row: water 1\\, feed 1" in content
    assert "Water Anna\\, 18 L\\nFeed Berta\\, 480 g" in content


def test_amounts_are_in_the_members_units(client, cast, secret, planned_round):
    cast.grower.units = "us"
    cast.grower.save()
    assert "4.8 gal" in unfold(client.get(f"/calendar/{secret}.ics").content)


def test_the_file_is_guarded_against_copies_and_search_engines(
    client, secret, planned_round
):
    headers = client.get(f"/calendar/{secret}.ics").headers
    assert headers["Cache-Control"] == "private, max-age=900"
    assert headers["X-Robots-Tag"] == "noindex"
    assert headers["Referrer-Policy"] == "no-referrer"
    assert "Set-Cookie" not in headers


def test_an_unchanged_file_is_not_sent_again(client, secret, planned_round):
    address = f"/calendar/{secret}.ics"
    tag = client.get(address).headers["ETag"]
    for known in (tag, f"W/{tag}", f'"other", {tag}', "*"):
        same = client.get(address, headers={"If-None-Match": known})
        assert (same.status_code, same.content) == (304, b"")
        assert same.headers["ETag"] == tag
    other = client.get(address, headers={"If-None-Match": '"other"'})
    assert other.status_code == 200


def test_a_change_of_day_changes_the_tag(client, secret, planned_round):
    address = f"/calendar/{secret}.ics"
    before = client.get(address).headers["ETag"]
    planned_round.day += timedelta(days=1)
    planned_round.sequence += 1
    planned_round.save()
    assert client.get(address).headers["ETag"] != before


def test_a_head_request_says_the_same_without_the_file(client, secret, planned_round):
    address = f"/calendar/{secret}.ics"
    head = client.head(address)
    assert (head.status_code, head.content) == (200, b"")
    assert head.headers["ETag"] == client.get(address).headers["ETag"]


def test_unknown_revoked_and_departed_get_the_same_answer(
    client, cast, secret, planned_round
):
    address = f"/calendar/{secret}.ics"
    unknown = client.get("/calendar/nobody-knows-this.ics")
    CalendarLink.objects.update(revoked_at=timezone.now())
    revoked = client.get(address)
    CalendarLink.objects.update(revoked_at=None)
    assert client.get(address).status_code == 200
    Membership.objects.filter(person=cast.grower).delete()
    departed = client.get(address)
    for answer in (unknown, revoked, departed):
        assert answer.status_code == 404
        assert answer.content == unknown.content
        assert answer.headers["Content-Type"] == "text/plain"


def test_withdrawn_and_far_rounds_are_left_out(
    client, secret, planned_round, make_tree, make_task, make_round, keep_plan
):
    for number, values in enumerate(
        (
            {"day": TODAY - timedelta(days=31)},
            {"day": TODAY + timedelta(days=401)},
            {"day": TODAY, "is_withdrawn": True},
        )
    ):
        make_round(tasks=[make_task(make_tree(f"Out {number}"))], **values)
    keep_plan()
    content = unfold(client.get(f"/calendar/{secret}.ics").content)
    assert content.count("BEGIN:VEVENT") == 1


def test_the_days_of_a_demonstration_are_shifted_to_the_present(
    client, site, secret, planned_round
):
    Site.objects.filter(pk=site.pk).update(calendar_shift_days=366)
    content = unfold(client.get(f"/calendar/{secret}.ics").content)
    assert "DTSTART;VALUE=DATE:20260704" in content


def test_the_file_holds_no_place_that_a_finder_could_visit(
    client, site, secret, planned_round
):
    content = unfold(client.get(f"/calendar/{secret}.ics").content)
    assert "GEO" not in content
    assert "LOCATION" not in content
    assert str(site.latitude_deg) not in content


def test_reading_is_remembered_for_the_member(client, secret, planned_round):
    client.get(f"/calendar/{secret}.ics")
    assert CalendarLink.objects.get().last_read_at is not None


def test_the_file_asks_the_database_as_often_for_many_rounds(
    client,
    secret,
    planned_round,
    make_tree,
    make_task,
    make_round,
    keep_plan,
    django_assert_num_queries,
):
    address = f"/calendar/{secret}.ics"
    client.get(address)
    with django_assert_num_queries(5):
        client.get(address)
    for days in range(2, 22):
        make_round(TODAY + timedelta(days=days), [make_task(make_tree(f"Tree {days}"))])
    keep_plan()
    with django_assert_num_queries(5):
        client.get(address)


def arrange(cast, role, tree):
    member = Membership.objects.get(person=getattr(cast, role))
    take(by=member, member=member, thing=tree, now=timezone.now())


def test_a_link_may_hold_only_what_is_in_my_care(
    client, client_of, cast, site, planned_round, make_tree, make_task, make_round
):
    anna, berta = site.trees.get(name="Anna"), site.trees.get(name="Berta")
    arrange(cast, "grower", anna)
    arrange(cast, "owner", berta)
    nobodys = make_task(make_tree("Cleo"))
    make_round(TODAY + timedelta(days=2), [nobodys])
    Site.objects.update(planned_revision=F("revision"))
    grower = client_of(cast.grower)
    page = text(grower.post(LINKS, {"label": "Phone", "only_in_care": "on"}))
    assert "Only what is in your care." in page
    token = re.search(r"http://testserver/calendar/([\w-]+)\.ics", page)[1]
    content = unfold(client.get(f"/calendar/{token}.ics").content)
    assert content.count("BEGIN:VEVENT") == 1
    assert "SUMMARY:Long row: water 1\r\n" in content
    assert "Anna" in content
    assert "Berta" not in content
    assert "Cleo" not in content


def test_other_links_hold_everything_whatever_is_in_care(
    client, cast, site, secret, planned_round
):
    arrange(cast, "grower", site.trees.get(name="Anna"))
    content = unfold(client.get(f"/calendar/{secret}.ics").content)
    assert "Anna" in content
    assert "Berta" in content
