"""What a mail server adds: a forgotten password, an email that must be confirmed."""

import re

import pytest
from django.core import mail
from django.core.cache import cache

from tests.orchard.plain_page import page_of, text_of

RESET, EMAIL = "/accounts/password/reset/", "/accounts/email/"
NEW = "an even longer pass"


@pytest.fixture(autouse=True)
def mail_server(settings):
    cache.clear()
    settings.HAS_MAIL = True
    settings.ACCOUNT_EMAIL_VERIFICATION = "optional"
    settings.ACCOUNT_EMAIL_NOTIFICATIONS = True
    settings.ACCOUNT_PREVENT_ENUMERATION = True


@pytest.fixture
def grower(cast):
    cast.grower.email = "grower@example.org"
    cast.grower.save()
    return cast.grower


def link_in(message):
    return re.search(r"http://testserver(/\S+)", message.body)[1]


def test_a_forgotten_password_is_set_anew_by_the_link_in_a_mail(grower, client):
    answer = client.post(RESET, {"email": "grower@example.org"}, follow=True)
    assert "a link is on its way" in text_of(page_of(answer))
    link = link_in(mail.outbox[0])
    form = client.get(link, follow=True)
    path = form.redirect_chain[-1][0]
    assert "Choose a new password" in text_of(page_of(form))
    done = client.post(path, {"password1": NEW, "password2": NEW}, follow=True)
    assert "Your password is changed" in text_of(page_of(done))
    assert client.login(username="grower", password=NEW)
    client.logout()
    again = client.get(link, follow=True)
    assert "This link no longer works" in text_of(page_of(again))


def test_nobody_learns_whether_an_address_is_known(grower, client):
    answers = [
        client.post(RESET, {"email": email}, follow=True)
        for email in ("grower@example.org", "nobody@example.org")
    ]
    words = [text_of(page_of(answer)) for answer in answers]
    assert words[0] == words[1]
    assert [message.to for message in mail.outbox] == [["grower@example.org"]]


def test_a_new_email_counts_once_it_is_confirmed(grower, client_of):
    browser = client_of(grower)
    grower.emailaddress_set.create(
        email="grower@example.org", primary=True, verified=True
    )
    sent = {"email": "new@example.org", "action_add": ""}
    page = page_of(browser.post(EMAIL, sent, follow=True))
    assert "It is grower@example.org." in text_of(page)
    assert "A link went to new@example.org" in text_of(page)
    grower.refresh_from_db()
    assert grower.email == "grower@example.org"
    (message,) = (one for one in mail.outbox if one.to == ["new@example.org"])
    link = link_in(message)
    assert "Is this your email?" in text_of(page_of(browser.get(link)))
    grower.refresh_from_db()
    assert grower.email == "grower@example.org"  # looking confirms nothing
    browser.post(link)
    grower.refresh_from_db()
    assert grower.email == "new@example.org"
    told = [one for one in mail.outbox if one.to == ["grower@example.org"]]
    assert told  # the old address hears of it


def test_a_made_up_confirmation_is_refused(grower, client_of):
    page = page_of(client_of(grower).get("/accounts/confirm-email/made-up/"))
    assert "This link no longer works" in text_of(page)


def test_a_changed_password_is_told_by_mail(grower, client_of):
    typed = {"oldpassword": "a good long pass", "password1": NEW, "password2": NEW}
    client_of(grower).post("/accounts/password/change/", typed)
    assert [message.to for message in mail.outbox] == [["grower@example.org"]]
