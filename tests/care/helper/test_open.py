"""The link: looked at, swapped for a cookie, ended, guessed at."""

import re
from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from care.models import Helper, HelperLink, LogEntry
from orchard.views.guess_limit import MOST_GUESSES

DAY = timedelta(days=1)


def text(response):
    return " ".join(response.content.decode().split())


def tick(browser, task, **values):
    return browser.post(f"/h/tick/{task.public_id}/", {"note": "", **values})


def entry():
    return LogEntry.objects.get()


def test_looking_at_the_link_says_what_it_is_and_uses_nothing_up(client, link):
    for _ in range(3):
        page = text(client.get(f"/h/{link[1]}/"))
        assert "Test orchard" in page
        assert "Long row, Wednesday 2 July" in page
        assert "Your first name" in page
    assert not Helper.objects.exists()
    assert not client.cookies.get("helper")
    assert client.head(f"/h/{link[1]}/").status_code == 200


def test_a_name_swaps_the_link_for_a_cookie_and_a_clean_address(client, link):
    answer = client.post(f"/h/{link[1]}/", {"name": "  Sam \n "})
    assert answer.headers["Location"] == "/h/"
    cookie = answer.cookies["helper"]
    assert (cookie["httponly"], cookie["samesite"], cookie["path"]) == (
        True,
        "Lax",
        "/h/",
    )
    assert 0 < cookie["max-age"] <= 3 * 86400
    assert cookie.value not in answer.content.decode()
    assert Helper.objects.get().name == "Sam"
    assert link[1] not in text(client.get("/h/"))


def test_over_https_the_cookie_is_the_hosts_alone(client, link, settings):
    settings.SESSION_COOKIE_SECURE = True
    answer = client.post(f"/h/{link[1]}/", {"name": "Sam"})
    cookie = answer.cookies["__Host-helper"]
    assert (cookie["secure"], cookie["httponly"], cookie["path"]) == (True, True, "/")
    assert cookie["domain"] == ""
    assert client.get("/h/").status_code == 200


@pytest.mark.parametrize("name", ["", "   ", "\u202e", "x" * 41, "🌳" * 10_000, "..."])
def test_a_name_that_is_none_is_asked_for_again(client, link, name):
    answer = client.post(f"/h/{link[1]}/", {"name": name})
    assert answer.status_code == 422
    assert not Helper.objects.exists()


def test_a_name_is_shown_as_it_is_and_turns_nothing_round(come):
    page = text(come("<b>S\u202eam</b> O'Hara").get("/h/"))
    assert "&lt;b&gt;Sam&lt;/b&gt; O&#x27;Hara" in page


@pytest.mark.parametrize("where", ["", "units/", "page"])
def test_every_answer_is_kept_out_of_stores_search_and_referrers(
    sam, client, link, where
):
    answers = {
        "": sam.get("/h/"),
        "units/": sam.post("/h/units/", {"units": "us"}),
        "page": client.get(f"/h/{link[1]}/"),
    }
    headers = answers[where].headers
    assert headers["Cache-Control"] == "no-store"
    assert headers["X-Robots-Tag"] == "noindex"
    # Both keep the address, and so the secret in it, from everybody.
    assert headers["Referrer-Policy"] in ("no-referrer", "strict-origin")
    assert "http" not in re.sub(r"http://www\.w3\.org/\S+", "", text(answers[where]))


def test_a_link_opened_again_by_the_same_browser_leads_on(sam, link):
    answer = sam.get(f"/h/{link[1]}/")
    assert answer.headers["Location"] == "/h/"


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"expires_at": timezone.now() - DAY}, "until the day after its round"),
        ({"revoked_at": timezone.now()}, "has closed it"),
    ],
    ids=["expired", "revoked"],
)
def test_an_ended_link_says_so_everywhere(sam, link, anna, change, words):
    tick(sam, anna)
    HelperLink.objects.update(**change)
    answers = [
        sam.get("/h/"),
        sam.get(f"/h/{link[1]}/"),
        Client().get(f"/h/{link[1]}/"),
        Client().post(f"/h/{link[1]}/", {"name": "Kim"}),
        tick(sam, anna),
        sam.post(f"/h/undo/{entry().public_id}/"),
        sam.post(f"/h/note/{anna.public_id}/", {"note": "x"}),
        sam.post("/h/units/", {"units": "us"}),
    ]
    for answer in answers:
        assert answer.status_code == 410
        assert words in text(answer)
        assert "Anna" not in text(answer)
        assert answer.headers["Referrer-Policy"] == "no-referrer"
    assert Helper.objects.count() == 1
    assert entry().voided_at is None


def test_a_wrong_or_missing_cookie_shows_nothing(client, link, anna):
    for value in (None, "guess", link[1]):
        if value:
            client.cookies["helper"] = value
        for answer in (client.get("/h/"), tick(client, anna)):
            assert answer.status_code == 404
            assert "Test orchard" not in text(answer)
    assert not LogEntry.objects.exists()


def test_guesses_are_limited_by_address_whatever_the_method(client, link):
    for number in range(MOST_GUESSES):
        way = client.get if number % 2 else client.post
        assert way(f"/h/guess{number}/").status_code == 404
    assert client.get("/h/one-more/").status_code == 429
    assert client.get(f"/h/{link[1]}/").status_code == 429
    elsewhere = client.get(f"/h/{link[1]}/", REMOTE_ADDR="192.0.2.7")
    assert elsewhere.status_code == 200


def test_opening_without_a_cookie_is_no_guess(client, db):
    for _ in range(MOST_GUESSES + 5):
        assert client.get("/h/").status_code == 404
