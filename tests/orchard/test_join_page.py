from datetime import timedelta

import pytest
from django.core.cache import cache
from django.urls import reverse
from django.utils import timezone

from orchard.actions.invites import accept_invite, make_invite, revoke_invite
from orchard.models import AuditEntry, Invite, Membership, Person
from tests.conftest import person
from tests.orchard.plain_page import page_of, text_of

PASSWORD = "a quite long pass phrase"


@pytest.fixture(autouse=True)
def no_guesses_yet():
    cache.clear()
    yield
    cache.clear()


@pytest.fixture
def owner(cast, site):
    return Membership.objects.get(person=cast.owner, orchard=site.orchard)


@pytest.fixture
def token(owner):
    return make_invite(membership=owner, role="grower", note="Ana", now=timezone.now())[
        1
    ]


@pytest.fixture
def url(token):
    return reverse("join", args=[token])


def test_a_stranger_reads_who_invites_where_and_to_what(client, url):
    answer = client.get(url)
    words = text_of(page_of(answer))
    assert "owner invites you" in words
    assert "Test orchard" in words
    assert "Grower: somebody who ticks work" in words
    assert "no-store" in answer.headers["Cache-Control"]


def test_an_owner_to_be_is_told_so_in_good_english(client, owner):
    token = make_invite(membership=owner, role="owner", note="Ana", now=timezone.now())[
        1
    ]
    words = text_of(page_of(client.get(reverse("join", args=[token]))))
    assert "You would be an Owner: somebody who does everything" in words


def test_looking_never_uses_an_invitation_up(client, url, client_of, cast, token):
    for browser in (client, client_of(cast.viewer), client_of(person("ana"))):
        for _ in range(2):
            assert browser.get(url).status_code == 200
            assert browser.head(url).status_code == 200
    invite = Invite.objects.get()
    assert (invite.used_at, invite.used_by) == (None, None)
    assert Membership.objects.filter(orchard=invite.orchard).count() == 4


def test_somebody_signed_in_joins_by_pressing(client_of, url, site):
    ana = person("ana")
    browser = client_of(ana)
    assert "Join as ana" in text_of(page_of(browser.get(url)))
    answer = browser.post(url)
    assert answer.url == reverse("round", args=[site.slug])
    assert Membership.objects.get(person=ana).role == "grower"
    assert AuditEntry.objects.filter(what="member_joined", person=ana).exists()
    again = text_of(page_of(browser.get(url)))
    assert "You belong to Test orchard already" in again
    assert "still unused" not in again


def test_a_member_is_told_so_and_the_invitation_stays_unused(cast, client_of, url):
    browser = client_of(cast.viewer)
    for answer in (browser.get(url), browser.post(url)):
        words = text_of(page_of(answer))
        assert "You belong to Test orchard already" in words
        assert "still unused" in words
    assert Membership.objects.get(person=cast.viewer).role == "viewer"
    assert client_of(person("ana")).post(url).status_code == 302


@pytest.mark.parametrize("signup", ["invite", "open"])
def test_a_newcomer_makes_an_account_and_comes_back_to_join(
    client, url, settings, signup
):
    settings.SIGNUP = signup
    address = page_of(client.get(url)).xpath("//a[contains(@href, 'signup')]/@href")[0]
    page = page_of(client.get(address))
    assert page.xpath("//input[@name='next']/@value") == [url]
    answer = client.post(
        address,
        {
            "username": "ana",
            "password1": PASSWORD,
            "password2": PASSWORD,
            "next": url,
        },
    )
    assert answer.url == url
    assert client.post(url).status_code == 302
    assert Membership.objects.get(person__username="ana").role == "grower"


def test_where_new_accounts_need_an_invitation_only_an_open_one_counts(
    client, url, settings, owner
):
    settings.SIGNUP = "invite"
    signup = reverse("account_signup")
    assert "need an invitation" in text_of(page_of(client.get(signup)))
    client.get(url)
    assert "Make an account" in text_of(page_of(client.get(signup)))
    invite = Invite.objects.get()
    revoke_invite(membership=owner, invite_id=invite.pk, now=timezone.now())
    values = {"username": "ana", "password1": PASSWORD, "password2": PASSWORD}
    client.post(signup, values)
    assert not Person.objects.filter(username="ana").exists()


def test_the_session_holds_no_secret(client, url, token):
    client.get(url)
    assert token not in str(dict(client.session))


def test_where_the_server_takes_no_accounts_only_signing_in_is_offered(
    client, url, settings
):
    settings.SIGNUP = "closed"
    page = page_of(client.get(url))
    assert not page.xpath("//a[contains(@href, 'signup')]")
    assert "takes no new accounts" in text_of(page)
    client.post(
        reverse("account_signup"),
        {"username": "ana", "password1": PASSWORD, "password2": PASSWORD},
    )
    assert not Person.objects.filter(username="ana").exists()


def test_somebody_with_an_account_signs_in_and_comes_back(client, url):
    Person.objects.create_user("ana", password=PASSWORD)
    address = page_of(client.get(url)).xpath(
        "//main//a[contains(@href, 'login')]/@href"
    )[0]
    answer = client.post(address, {"login": "ana", "password": PASSWORD, "next": url})
    assert answer.url == url


def test_pressing_without_being_signed_in_leads_to_signing_in(client, url):
    answer = client.post(url)
    assert answer.url.startswith(reverse("account_login"))
    assert Invite.objects.get().used_at is None


@pytest.mark.parametrize("method", ["get", "post"])
@pytest.mark.parametrize(
    ("state", "words"),
    [
        ("used", "used already"),
        ("revoked", "closed it"),
        ("expired", "more than a week old"),
        ("unknown", "no such invitation"),
    ],
)
def test_a_dead_invitation_says_why_and_names_no_orchard(
    client_of, owner, url, token, state, words, method
):
    if state == "used":
        accept_invite(token=token, person=person("ben"), now=timezone.now())
    elif state == "revoked":
        revoke_invite(
            membership=owner, invite_id=Invite.objects.get().pk, now=timezone.now()
        )
    elif state == "expired":
        Invite.objects.update(expires_at=timezone.now() - timedelta(seconds=1))
    else:
        url = reverse("join", args=["made-up"])
    ana = person("ana")
    answer = getattr(client_of(ana), method)(url)
    assert answer.status_code == 410
    page = text_of(page_of(answer))
    assert words in page
    assert "Test orchard" not in page
    assert not Membership.objects.filter(person=ana).exists()


def test_whoever_presses_a_moment_too_late_is_told_so(
    client_of, url, token, monkeypatch
):
    ana, ben = person("ana"), person("ben")

    def somebody_is_faster(*, token, person, now):
        accept_invite(token=token, person=ben, now=now)
        return accept_invite(token=token, person=person, now=now)

    monkeypatch.setattr("orchard.views.join.accept_invite", somebody_is_faster)
    answer = client_of(ana).post(url)
    assert answer.status_code == 410
    assert "used already" in text_of(page_of(answer))
    assert not Membership.objects.filter(person=ana).exists()


def test_guessing_is_slowed_down_after_twenty_in_a_minute(client, url):
    guess = reverse("join", args=["made-up"])
    answers = [client.get(guess).status_code for _ in range(25)]
    assert answers == [410] * 20 + [429] * 5
    assert client.get(url).status_code == 429  # guessed right, yet not let through


def test_opening_a_real_invitation_often_is_no_guessing(client, url):
    assert {client.get(url).status_code for _ in range(25)} == {200}


def test_an_inviter_whose_account_is_gone_is_not_named(client, url):
    Invite.objects.update(made_by=None)
    assert "You are invited" in text_of(page_of(client.get(url)))


def test_an_orchard_without_a_place_leads_home(cast, client_of, url, site):
    site.delete()
    ana = person("ana")
    assert client_of(ana).post(url).url == reverse("home")
    assert Membership.objects.filter(person=ana).exists()


def test_one_home_guesses_as_one_and_another_home_is_not_slowed(client, url):
    guess = reverse("join", args=["made-up"])
    for number in range(20):  # a home's phones share the first half of the address
        client.get(guess, REMOTE_ADDR=f"2001:db8:0:1::{number + 1}")
    neighbour = client.get(guess, REMOTE_ADDR="2001:db8:0:1::ffff")
    assert neighbour.status_code == 429
    assert client.get(guess, REMOTE_ADDR="2001:db8:0:2::1").status_code == 410
    assert client.get(url, REMOTE_ADDR="192.0.2.7").status_code == 200
