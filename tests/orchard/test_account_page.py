import pytest
from django.urls import reverse

from orchard.actions.people import make_signin_link
from orchard.models import Person, SigninLink
from tests.orchard.plain_page import errors_of, page_of, text_of

SIGNUP = "/accounts/signup/"
LOGIN = "/accounts/login/"
NEW = {
    "username": "anna",
    "password1": "a good long pass",
    "password2": "a good long pass",
}


def address(person):
    return make_signin_link(person=person).removeprefix("http://testserver")


def signed_in(client):
    return client.session.get("_auth_user_id")


def test_opening_a_signin_link_uses_nothing_up(cast, client):
    url = address(cast.grower)
    for _ in range(2):
        page = page_of(client.get(url))
        assert "Sign in as grower" in text_of(page)
    assert signed_in(client) is None
    assert SigninLink.objects.get().used_at is None


def test_pressing_the_button_signs_in_once(cast, client):
    url = address(cast.grower)
    assert client.post(url).url == "/"
    assert signed_in(client) == str(cast.grower.pk)
    client.logout()
    again = client.post(url)
    assert again.status_code == 410
    assert "used already" in text_of(page_of(again))
    assert signed_in(client) is None


def test_a_link_nobody_made_says_how_to_get_one(client, db):
    answer = client.get("/signin/made-up/")
    assert answer.status_code == 410
    assert "signin_link" in text_of(page_of(answer))


def test_a_signin_page_is_not_kept_by_the_browser(cast, client):
    assert "no-store" in client.get(address(cast.grower))["Cache-Control"]


def test_the_first_account_may_always_be_made(client, db):
    page = page_of(client.get(SIGNUP))
    assert "Make an account" in text_of(page)
    assert client.post(SIGNUP, NEW).status_code == 302
    assert signed_in(client) == str(Person.objects.get(username="anna").pk)


def test_later_accounts_need_an_invitation(cast, client):
    assert "need an invitation" in text_of(page_of(client.get(SIGNUP)))
    client.post(SIGNUP, NEW)
    assert not Person.objects.filter(username="anna").exists()


@pytest.mark.parametrize(
    "changed",
    [
        {"password2": "another long one"},
        {"password1": "short"},
        {"username": ""},
        {"username": "🌳" * 10_000},
        {"username": "anna\nowner"},
        {"email": "anna@example.org\nBcc: all@example.org"},
    ],
)
def test_a_bad_account_is_named(client, db, changed):
    assert errors_of(page_of(client.post(SIGNUP, {**NEW, **changed})))
    assert not Person.objects.exists()


def test_signing_in_with_a_password(cast, client):
    answer = client.post(LOGIN, {"login": "grower", "password": "wrong"})
    page = page_of(answer)
    assert "That did not work" in text_of(page)
    assert page.xpath("//input[@name='login']/@value") == ["grower"]
    client.post(LOGIN, {"login": "grower", "password": "a good long pass"})
    assert signed_in(client) == str(cast.grower.pk)


@pytest.mark.parametrize(
    "name",
    ["account_change_password", "account_logout", "account_email"],
)
def test_the_librarys_pages_wear_our_look(cast, client_of, name):
    page = page_of(client_of(cast.grower).get(reverse(name)))
    assert page.xpath("//main[contains(@class, 'page')]//h1")
    assert page.xpath("//main//button[contains(@class, 'button')]")


@pytest.mark.parametrize(
    "name", ["account_login", "account_signup", "account_reset_password"]
)
def test_the_doors_wear_our_look_and_no_bar(client, db, name, settings):
    settings.HAS_MAIL = True
    page = page_of(client.get(reverse(name)))
    assert page.xpath("//main//button[contains(@class, 'button')]")
    assert not page.xpath("//nav")


def test_a_password_is_changed(cast, client_of, client):
    url = reverse("account_change_password")
    new = "an even longer pass"
    browser = client_of(cast.grower)
    typed = {"oldpassword": "wrong", "password1": new, "password2": new}
    assert errors_of(page_of(browser.post(url, typed)))
    browser.post(url, {**typed, "oldpassword": "a good long pass"})
    assert client.login(username="grower", password=new)


def test_signing_out_needs_a_press(cast, client_of):
    browser = client_of(cast.grower)
    browser.get(reverse("account_logout"))
    assert signed_in(browser)
    browser.post(reverse("account_logout"))
    assert not signed_in(browser)


def test_the_policy_allows_nothing_inline(client, db):
    policy = client.get(LOGIN)["Content-Security-Policy"]
    assert "default-src 'self'" in policy
    assert "unsafe" not in policy
