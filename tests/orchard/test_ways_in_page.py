"""What an account page offers: never what cannot work at this address or server."""

import pytest
from allauth.account.models import EmailAddress
from django.core import mail
from django.core.cache import cache
from django.urls import reverse

from orchard.models import Person
from tests.orchard.plain_page import one_error, page_of, text_of

LOGIN, SIGNUP = "/accounts/login/", "/accounts/signup/"
PASSWORD = "a good long pass"
BUTTON = "//button[@id='passkey_login']"


@pytest.fixture(autouse=True)
def fresh_limits():
    cache.clear()


@pytest.fixture(autouse=True)
def any_host(settings):
    settings.ALLOWED_HOSTS = ["*"]


@pytest.mark.parametrize("scheme", ["http", "https"])
@pytest.mark.parametrize("host", ["localhost", "localhost:8000", "plum.localhost"])
def test_passkeys_are_offered_on_the_computer_itself(client, db, host, scheme):
    page = page_of(client.get(LOGIN, HTTP_HOST=host, secure=scheme == "https"))
    assert page.xpath(BUTTON)


def test_passkeys_are_offered_over_https(client, db):
    page = page_of(client.get(LOGIN, HTTP_HOST="trees.example.org", secure=True))
    assert page.xpath(BUTTON)


@pytest.mark.parametrize(
    ("host", "secure", "words"),
    [
        ("trees.lan:8000", False, "Passkeys need an https address"),
        ("192.168.1.20:8000", False, "Passkeys need an https address"),
        ("[fd00::20]:8000", False, "Passkeys need an https address"),
        ("127.0.0.1:8000", False, "localhost instead of 127.0.0.1"),
        ("[::1]:8000", False, "localhost instead of 127.0.0.1"),
        ("192.168.1.20", True, "an address with a name in it"),
        ("notlocalhost", False, "Passkeys need an https address"),
    ],
)
def test_elsewhere_the_page_says_why_there_are_none(client, db, host, secure, words):
    page = page_of(client.get(LOGIN, HTTP_HOST=host, secure=secure))
    assert not page.xpath(BUTTON)
    assert words in text_of(page)


def test_the_password_works_over_plain_http_at_home(cast, client):
    sent = {"login": "grower", "password": PASSWORD}
    answer = client.post(LOGIN, sent, HTTP_HOST="192.168.1.20:8000")
    assert answer.url == "/"
    assert client.session["_auth_user_id"] == str(cast.grower.pk)


def test_the_pages_of_passkeys_say_it_too(cast, client_of):
    browser = client_of(cast.grower)
    for name in ("mfa_index", "mfa_list_webauthn"):
        page = page_of(browser.get(reverse(name), HTTP_HOST="192.168.1.20"))
        assert "over plain http" in text_of(page)
        assert not page.xpath(f"//a[@href='{reverse('mfa_add_webauthn')}']")
        assert "Add a passkey" not in text_of(page)


@pytest.mark.parametrize("what", ["invite", "closed"])
def test_the_door_offers_no_account_that_cannot_be_made(cast, client, settings, what):
    settings.SIGNUP = what
    page = page_of(client.get(LOGIN))
    assert "need an invitation" in text_of(page)
    assert not page.xpath(f"//a[@href='{SIGNUP}']")


def test_an_open_server_offers_one(cast, client, settings):
    settings.SIGNUP = "open"
    assert page_of(client.get(LOGIN)).xpath(f"//a[@href='{SIGNUP}']")


def test_without_mail_nothing_that_needs_it_is_offered(cast, client):
    page = page_of(client.get(LOGIN))
    assert "one-time sign-in link" in text_of(page)
    assert not page.xpath("//a[contains(@href, 'reset')]")
    page = page_of(client.get("/accounts/password/reset/"))
    assert "This server sends no mail" in text_of(page)
    assert not page.xpath("//main//form")


def test_with_mail_a_forgotten_password_is_reset_by_mail(cast, client, settings):
    settings.HAS_MAIL = True
    cast.grower.email = "grower@example.org"
    cast.grower.save()
    page = page_of(client.get(LOGIN))
    assert page.xpath("//a[contains(@href, 'reset')]")
    client.post("/accounts/password/reset/", {"email": "grower@example.org"})
    assert [each.to for each in mail.outbox] == [["grower@example.org"]]


@pytest.mark.parametrize("email", ["grower@example.org", "nobody@example.org"])
def test_asking_for_mail_where_none_goes_out_says_so(cast, client, email):
    cast.grower.email = "grower@example.org"
    cast.grower.save()
    answer = client.post("/accounts/password/reset/", {"email": email}, follow=True)
    assert "sends no mail" in text_of(page_of(answer))
    assert mail.outbox == []


def test_an_account_is_made_without_mail(db, client):
    made = {"username": "anna", "email": "anna@example.org"}
    answer = client.post(SIGNUP, made | {"password1": PASSWORD, "password2": PASSWORD})
    assert answer.status_code == 302
    assert Person.objects.get().email == "anna@example.org"
    assert mail.outbox == []


def test_the_email_serves_for_signing_in(db, client):
    made = {"username": "anna", "email": "anna@example.org"}
    client.post(SIGNUP, made | {"password1": PASSWORD, "password2": PASSWORD})
    client.logout()
    client.post(LOGIN, {"login": "Anna@Example.org", "password": PASSWORD})
    assert client.session["_auth_user_id"]


def test_without_mail_a_new_email_counts_at_once(cast, client_of, client):
    browser = client_of(cast.grower)
    for email in ("one@example.org", "two@example.org"):
        sent = {"email": email, "action_add": ""}
        answer = browser.post("/accounts/email/", sent, follow=True)
        assert f"It is {email}." in text_of(page_of(answer))
        assert "Your email is changed." in text_of(page_of(answer))
    cast.grower.refresh_from_db()
    assert cast.grower.email == "two@example.org"
    kept = EmailAddress.objects.get(user=cast.grower)
    assert (kept.email, kept.primary, kept.verified) == ("two@example.org", True, False)
    client.post(LOGIN, {"login": "two@example.org", "password": PASSWORD})
    assert client.session["_auth_user_id"] == str(cast.grower.pk)


@pytest.mark.parametrize(
    ("email", "words"),
    [
        ("owner@example.org", "already"),
        ("a@example.org\nBcc: b@example.org", "valid email"),
        ("not an address", "valid email"),
        ("🌳" * 10_000 + "@example.org", "valid email"),
        ("", "required"),
    ],
)
def test_a_bad_email_is_named_and_nothing_changes(cast, client_of, email, words):
    cast.owner.email = "owner@example.org"
    cast.owner.save()
    answer = client_of(cast.grower).post(
        "/accounts/email/", {"email": email, "action_add": ""}
    )
    one_error(answer, words)
    cast.grower.refresh_from_db()
    assert cast.grower.email == ""


def test_guessing_a_password_is_slowed_down(cast, client):
    wrong = {"login": "grower", "password": "wrong"}
    said = [text_of(page_of(client.post(LOGIN, wrong))) for _ in range(6)]
    assert "Too many failed login attempts" in said[-1]
    client.post(LOGIN, {"login": "grower", "password": PASSWORD})
    assert "_auth_user_id" not in client.session


@pytest.mark.parametrize(
    ("path", "allowed"),
    [
        ("/accounts/password/change/", 5),
        ("/accounts/email/", 10),
        ("/accounts/reauthenticate/", 10),
    ],
)
def test_changing_a_way_in_is_slowed_down(cast, client_of, path, allowed):
    browser = client_of(cast.grower)
    typed = {
        "oldpassword": "wrong",
        "password": "wrong",
        "email": "x",
        "action_add": "",
    }
    answers = [browser.post(path, typed) for _ in range(allowed + 1)]
    last = answers[-1]
    words = text_of(page_of(last))
    assert last.status_code == 429 or "Too many" in words
    assert all(answer.status_code != 429 for answer in answers[:allowed])


def test_making_accounts_is_slowed_down(cast, client, settings):
    settings.SIGNUP = "open"
    answers = [client.post(SIGNUP, {"username": ""}) for _ in range(21)]
    assert [answer.status_code for answer in answers[-2:]] == [200, 429]
    assert "Too many tries" in text_of(page_of(answers[-1]))
