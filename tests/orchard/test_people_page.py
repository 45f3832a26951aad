from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from orchard.actions.invites import accept_invite, make_invite, revoke_invite
from orchard.actions.people import found_orchard, person_of_signin_link
from orchard.models import Invite, Membership, Person, SigninLink
from orchard.views.people_words import seen_words
from tests.conftest import person
from tests.orchard.plain_page import errors_of, page_of, text_of


@pytest.fixture
def url(site):
    return reverse("people", args=[site.slug])


@pytest.fixture
def member(site):
    return lambda someone: Membership.objects.get(
        person=someone, orchard=site.orchard_id
    )


@pytest.fixture
def act(site):
    """Return the address of something done to one member."""
    return lambda name, membership: reverse(name, args=[site.slug, membership.pk])


def names_on(page):
    members = page.xpath("//section[@aria-labelledby='members']")[0]
    return [
        " ".join(each.text_content().split())
        for each in members.xpath(".//*[contains(@class, 'line__what')]")
    ]


def forms_of(page):
    """Return where the page's forms lead, but for signing out."""
    return [a for a in page.xpath("//main//form/@action") if "logout" not in a]


def test_everybody_stands_there_with_their_role_in_words(cast, client_of, url):
    page = page_of(client_of(cast.owner).get(url))
    assert names_on(page) == ["coordinator", "grower", "owner (you)", "viewer"]
    words = text_of(page)
    assert "4 people" in words
    assert "Grower: ticks work, writes down what they see" in words
    assert "Viewer: reads everything, changes nothing" in words
    assert "has not signed in yet" in words  # the others never did


@pytest.mark.parametrize("role", ["viewer", "grower"])
def test_who_may_not_invite_sees_names_and_roles_and_may_leave(
    cast, client_of, url, role, site
):
    page = page_of(client_of(getattr(cast, role)).get(url))
    assert names_on(page) == [
        each + (" (you)" if each == role else "")
        for each in ("coordinator", "grower", "owner", "viewer")
    ]
    assert forms_of(page) == [reverse("people_leave", args=[site.slug])]
    words = text_of(page.xpath("//main")[0])
    assert "signed in" not in words
    assert "Invitations" not in words
    assert "up to owners and coordinators" in words


def test_a_coordinator_invites_but_changes_no_role_and_sees_no_trail(
    cast, client_of, url, site
):
    page = page_of(client_of(cast.coordinator).get(url))
    assert sorted(forms_of(page)) == [
        reverse("people_invite", args=[site.slug]),
        reverse("people_leave", args=[site.slug]),
    ]
    roles = page.xpath("//input[@name='role']/@value")
    assert roles == ["coordinator", "grower", "viewer"]
    assert page.xpath("//input[@name='role'][@checked]/@value") == ["grower"]
    assert not page.xpath(f"//a[@href='{reverse('people_trail', args=[site.slug])}']")


def test_the_first_one_is_told_how_others_come(client_of, db):
    alone = person("alone")
    orchard = found_orchard(person=alone, name="Ours")
    site = orchard.sites.create(
        name="Ours", slug="ours", latitude_deg=47.0, longitude_deg=8.0
    )
    words = text_of(page_of(client_of(alone).get(reverse("people", args=[site.slug]))))
    assert "1 person" in words
    assert "alone here so far" in words
    assert "An orchard needs an owner" in words  # in place of a button to leave


def sixty(orchard):
    people = Person.objects.bulk_create(
        Person(username=f"gardener{number:02}", first_name=f"Gardener {number:02}")
        for number in range(60)
    )
    Membership.objects.bulk_create(
        Membership(person=each, orchard=orchard, role="grower") for each in people
    )


def test_a_family_is_found_by_looking_and_a_garden_by_searching(
    cast, client_of, url, site
):
    browser = client_of(cast.owner)
    assert not page_of(browser.get(url)).xpath("//input[@name='find']")
    sixty(site.orchard)
    page = page_of(browser.get(url))
    assert page.xpath("//input[@name='find']")
    assert len(names_on(page)) == 64
    assert names_on(page_of(browser.get(url, {"find": "ener 07"}))) == ["Gardener 07"]
    assert names_on(page_of(browser.get(url, {"find": "GARDENER31"}))) == [
        "Gardener 31"
    ]
    nobody = page_of(browser.get(url, {"find": "Zoë"}))
    assert names_on(nobody) == []
    assert "Nobody fits" in text_of(nobody)
    by_role = names_on(page_of(browser.get(url, {"sort": "role"})))
    assert by_role[0] == "owner (you)"
    assert by_role[-1] == "viewer"


def test_the_latest_to_sign_in_come_first_and_those_who_never_did_last(
    cast, client_of, url
):
    browser = client_of(cast.owner)
    now = timezone.now()
    Person.objects.filter(pk=cast.viewer.pk).update(last_login=now)
    Person.objects.filter(pk=cast.owner.pk).update(last_login=now - timedelta(days=9))
    page = page_of(browser.get(url, {"sort": "seen"}))
    assert names_on(page) == ["viewer", "owner (you)", "coordinator", "grower"]


@pytest.mark.parametrize(
    ("ago", "words"),
    [
        (None, "has not signed in yet"),
        (timedelta(hours=23), "within the last day"),
        (timedelta(days=1), "within the last week"),
        (timedelta(days=30), "within the last month"),
        (timedelta(days=200), "last signed in in"),
    ],
)
def test_a_sign_in_is_told_loosely(ago, words):
    now = timezone.now()
    assert words in seen_words(now - ago if ago else None, now)


def test_sixty_people_cost_no_more_questions_than_four(
    cast, client_of, url, site, django_assert_num_queries
):
    browser = client_of(cast.owner)
    browser.get(url)
    with CaptureQueriesContext(connection) as counted:
        browser.get(url)
    sixty(site.orchard)
    by = Membership.objects.get(person=cast.owner)
    for number in range(20):
        make_invite(membership=by, role="grower", note=str(number), now=timezone.now())
    with django_assert_num_queries(len(counted)):
        browser.get(url)


def test_more_than_a_hundred_come_page_by_page(cast, client_of, url, site):
    sixty(site.orchard)
    Membership.objects.bulk_create(
        Membership(person=each, orchard=site.orchard, role="viewer")
        for each in Person.objects.bulk_create(
            Person(username=f"reader{number}") for number in range(60)
        )
    )
    browser = client_of(cast.owner)
    first = page_of(browser.get(url))
    assert len(names_on(first)) == 100
    address = first.xpath("//a[@rel='next']/@href")[0]
    assert len(names_on(page_of(browser.get(url + address)))) == 24


def test_an_invitation_is_shown_once_to_copy_and_to_scan(cast, client_of, url, site):
    browser = client_of(cast.owner)
    answer = browser.post(
        reverse("people_invite", args=[site.slug]),
        {"note": "Ana\nfrom next door", "role": "grower"},
    )
    page = page_of(answer)
    address = page.xpath("//input[@id='secret-address']/@value")[0]
    assert address.startswith("http://testserver/join/")
    assert page.xpath("//*[contains(@class, 'square')]")
    assert "no-store" in answer.headers["Cache-Control"]
    assert Invite.objects.get().note == "Ana from next door"
    again = browser.get(url).content.decode()
    assert address.rsplit("/", 2)[1] not in again
    assert "not used yet; works until" in again


def test_an_address_of_this_computer_only_says_so(cast, client_of, site, settings):
    settings.BASE_URL = "http://localhost:8000"
    answer = client_of(cast.owner).post(
        reverse("people_invite", args=[site.slug]), {"note": "Ana", "role": "grower"}
    )
    assert "on this very computer only" in text_of(page_of(answer))


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"note": "", "role": "grower"}, "Write for whom it is"),
        ({"note": " \n ", "role": "grower"}, "Write for whom it is"),
        ({"note": "🌳" * 10_000, "role": "grower"}, "at most 80 characters"),
        ({"note": "Ana", "role": "owner"}, "not one of the available choices"),
        ({"note": "Ana"}, "required"),
    ],
)
def test_a_bad_invitation_is_refused_in_words(cast, client_of, site, values, words):
    answer = client_of(cast.coordinator).post(
        reverse("people_invite", args=[site.slug]), values
    )
    assert answer.status_code == 422
    assert any(words in error for error in errors_of(page_of(answer)))
    assert not Invite.objects.exists()


def test_each_state_of_an_invitation_is_told(cast, client_of, url, member):
    by, now = member(cast.owner), timezone.now()
    made = {
        note: make_invite(membership=by, role="viewer", note=note, now=when)
        for note, when in (
            ("open", now),
            ("used", now),
            ("closed", now),
            ("old", now - timedelta(days=8)),
        )
    }
    accept_invite(token=made["used"][1], person=person("ana"), now=now)
    revoke_invite(membership=by, invite_id=made["closed"][0].pk, now=now)
    page = page_of(client_of(cast.owner).get(url))
    section = page.xpath("//section[@aria-labelledby='invites']")[0]
    words = {
        line.xpath("string(.//*[@class='line__what'])"): text_of(line)
        for line in section.xpath(".//li")
    }
    assert next(iter(words)) == "open"
    assert "works until" in words["open"]
    assert "ana joined with it" in words["used"]
    assert "closed on" in words["closed"]
    assert "ran out on" in words["old"]
    assert len(section.xpath(".//button")) == 1


def test_an_invitation_is_closed_by_a_press_and_not_twice(
    cast, client_of, member, site
):
    invite, _ = make_invite(
        membership=member(cast.owner), role="viewer", note="Ana", now=timezone.now()
    )
    browser = client_of(cast.coordinator)
    close = reverse("invite_revoke", args=[site.slug, invite.pk])
    first = text_of(page_of(browser.post(close, follow=True)))
    assert "The invitation is closed." in first
    assert "closed on" in first
    again = text_of(page_of(browser.post(close, follow=True)))
    assert "It was not open any more." in again


def test_an_owner_changes_a_role_and_takes_a_member_out(cast, client_of, act, member):
    browser = client_of(cast.owner)
    viewer = member(cast.viewer)
    answer = browser.post(act("people_role", viewer), {"role": "grower"}, follow=True)
    assert "Now a Grower." in text_of(page_of(answer))
    assert member(cast.viewer).role == "grower"
    answer = browser.post(act("people_remove", viewer), follow=True)
    assert "viewer is out" in text_of(page_of(answer))
    assert not Membership.objects.filter(pk=viewer.pk).exists()
    assert browser.post(act("people_remove", viewer)).status_code == 404


@pytest.mark.parametrize("role", ["", "gardener"])
def test_an_unknown_role_changes_nothing(cast, client_of, act, member, role):
    viewer = member(cast.viewer)
    answer = client_of(cast.owner).post(
        act("people_role", viewer), {"role": role}, follow=True
    )
    assert "Choose one of the roles" in text_of(page_of(answer))
    assert member(cast.viewer).role == "viewer"


def test_the_last_owner_is_told_why_they_must_stay(cast, client_of, act, member, site):
    browser = client_of(cast.owner)
    owner = member(cast.owner)
    for address, values in (
        (act("people_role", owner), {"role": "viewer"}),
        (reverse("people_leave", args=[site.slug]), {}),
    ):
        answer = browser.post(address, values, follow=True)
        assert "An orchard needs an owner" in text_of(page_of(answer))
    answer = browser.post(act("people_remove", owner), follow=True)
    assert "use “Leave” below" in text_of(page_of(answer))
    assert member(cast.owner).role == "owner"


def test_whoever_leaves_their_only_orchard_is_signed_out(cast, client_of, site):
    browser = client_of(cast.grower)
    answer = browser.post(reverse("people_leave", args=[site.slug]), follow=True)
    assert answer.redirect_chain[-1][0].startswith("/accounts/login/")
    assert "You have left Test orchard." in text_of(page_of(answer))


def test_whoever_leaves_one_of_two_orchards_goes_to_the_other(cast, client_of, site):
    found_orchard(person=cast.grower, name="Own")
    browser = client_of(cast.grower)
    browser.post(reverse("people_leave", args=[site.slug]))
    assert browser.get(reverse("people", args=[site.slug])).status_code == 404
    assert browser.get("/you/").status_code == 200


def test_an_owner_hands_a_way_in_over_and_it_is_shown_once(
    cast, client_of, act, member, url
):
    browser = client_of(cast.owner)
    page = page_of(browser.post(act("people_help_in", member(cast.grower))))
    address = page.xpath("//input[@id='secret-address']/@value")[0]
    token = address.rstrip("/").rsplit("/", 1)[1]
    assert person_of_signin_link(token=token, now=timezone.now()) == cast.grower
    assert token not in browser.get(url).content.decode()


def test_no_way_in_is_offered_or_made_to_whoever_is_elsewhere(
    cast, client_of, act, member, url
):
    found_orchard(person=cast.grower, name="Own")
    grower, browser = member(cast.grower), client_of(cast.owner)
    page = page_of(browser.get(url))
    assert act("people_help_in", grower) not in forms_of(page)
    assert "belongs to another orchard too" in text_of(page)
    answer = browser.post(act("people_help_in", grower), follow=True)
    assert "belongs to another orchard too" in text_of(page_of(answer))
    assert not SigninLink.objects.exists()


def test_a_name_of_any_length_and_script_is_only_a_name(cast, client_of, url):
    Person.objects.filter(pk=cast.viewer.pk).update(
        first_name="<script>alert(1)</script> " + "أحمد " * 20
    )
    page = page_of(client_of(cast.owner).get(url))
    assert any("<script>alert(1)</script>" in name for name in names_on(page))


@pytest.mark.parametrize("name", ["people_role", "people_remove", "people_help_in"])
def test_a_member_of_another_orchard_is_not_found(cast, client_of, act, name):
    stranger = Membership.objects.get(person=cast.stranger)
    answer = client_of(cast.owner).post(act(name, stranger), {"role": "viewer"})
    assert answer.status_code == 404
    stranger.refresh_from_db()
    assert stranger.role == "owner"


def test_another_orchards_people_and_invitations_are_not_shown(cast, client_of, url):
    make_invite(
        membership=Membership.objects.get(person=cast.stranger),
        role="grower",
        note="Canary",
        now=timezone.now(),
    )
    answer = client_of(cast.owner).get(url)
    assert "Canary" not in answer.content.decode()
    assert "stranger" not in answer.content.decode()


def test_invitations_do_not_even_reach_the_page_of_who_may_not_invite(
    cast, client_of, url, member
):
    make_invite(
        membership=member(cast.owner), role="grower", note="Ana", now=timezone.now()
    )
    assert len(client_of(cast.coordinator).get(url).context["invites"]) == 1
    assert client_of(cast.grower).get(url).context["invites"] == []
