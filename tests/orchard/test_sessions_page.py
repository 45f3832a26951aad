import pytest
from allauth.usersessions.models import UserSession
from django.core.cache import cache
from django.test import Client

from orchard.actions.people import make_signin_link
from tests.orchard.plain_page import page_of, text_of

URL = "/accounts/sessions/"
PASSWORD = "a good long pass"


@pytest.fixture(autouse=True)
def fresh_limits():
    cache.clear()


def signed_in(name, user_agent="Firefox (Android)"):
    browser = Client(headers={"user-agent": user_agent})
    browser.post("/accounts/login/", {"login": name, "password": PASSWORD})
    return browser


def is_in(browser):
    return browser.get("/you/").status_code == 200


def test_each_place_one_is_signed_in_is_listed_in_words(cast):
    here, _ = signed_in("grower"), signed_in("grower", "Safari (iPhone)")
    signed_in("owner", "Opera OPR (Windows)")
    words = text_of(page_of(here.get(URL)))
    assert "Firefox on Android, this one" in words
    assert "Safari on iPhone since" in words
    assert "Opera" not in words


def test_a_one_time_link_is_listed_as_any_other_way_in(cast):
    here = Client(headers={"user-agent": "Firefox (Linux)"})
    here.post(make_signin_link(person=cast.grower).removeprefix("http://testserver"))
    assert "Firefox on Linux, this one" in text_of(page_of(here.get(URL)))


def test_one_is_ended_and_no_other(cast):
    here, lost, home = (signed_in("grower") for _ in range(3))
    session = UserSession.objects.get(session_key=lost.session.session_key)
    here.post(f"/you/sessions/{session.pk}/end/")
    assert [is_in(browser) for browser in (here, lost, home)] == [True, False, True]


def test_all_others_are_ended_and_nobody_elses(cast):
    here, lost, other = signed_in("grower"), signed_in("grower"), signed_in("owner")
    here.post(URL)
    assert [is_in(browser) for browser in (here, lost, other)] == [True, False, True]
    assert "Nowhere else" in text_of(page_of(here.get(URL)))


def test_another_persons_is_not_found_and_stays(cast):
    here, theirs = signed_in("grower"), signed_in("owner")
    session = UserSession.objects.get(user=cast.owner)
    assert here.post(f"/you/sessions/{session.pk}/end/").status_code == 404
    assert is_in(theirs)


def test_ending_the_one_in_hand_is_signing_out(cast):
    here = signed_in("grower")
    session = UserSession.objects.get(user=cast.grower)
    answer = here.post(f"/you/sessions/{session.pk}/end/")
    assert answer.url == "/accounts/logout/"
    assert is_in(here)


def test_a_changed_password_ends_every_other_place(cast):
    here, lost = signed_in("grower"), signed_in("grower")
    new = "an even longer pass"
    typed = {"oldpassword": PASSWORD, "password1": new, "password2": new}
    assert here.post("/accounts/password/change/", typed).url == "/you/"
    assert [is_in(browser) for browser in (here, lost)] == [True, False]
