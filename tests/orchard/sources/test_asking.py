"""Asking politely: marks sent back, freshness read, refusals put into words."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, strategies as st

from orchard.sources import asking
from orchard.sources.arriving import SourceUnavailable, Unchanged
from orchard.sources.asking import Asking, retry_after
from orchard.sources.network import Reply

NOW = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)
URL = "https://weather.example.org/forecast"
MODIFIED = "Sun, 01 Mar 2026 11:20:00 GMT"


@pytest.fixture
def service(monkeypatch):
    """Answer what the test says; keep what was sent."""

    class Service:
        reply = Reply(200, {}, b"{}")
        sent: list[dict[str, str]]

    known = Service()
    known.sent = []

    def get(url, headers, line):
        known.sent.append(dict(headers))
        return known.reply

    monkeypatch.setattr(asking, "get", get)
    return known


def begin(memory=None, now=NOW):
    return Asking(
        contact="garden@example.org",
        hosts=frozenset({"weather.example.org"}),
        memory=memory or {},
        now=now,
    )


def test_whoever_asks_says_who_they_are(service):
    begin()(URL)
    assert service.sent[0]["User-Agent"] == "OrchardCare/0.1 (+garden@example.org)"
    assert set(service.sent[0]) == {"User-Agent", "Accept"}


def test_marks_are_sent_back_exactly_as_they_came(service):
    service.reply = Reply(200, {"last-modified": MODIFIED, "etag": 'W/"x1"'}, b"{}")
    first = begin()
    first(URL)
    service.reply = Reply(304, {}, b"")
    with pytest.raises(Unchanged):
        begin(first.memory())(URL)
    assert service.sent[1]["If-Modified-Since"] == MODIFIED
    assert service.sent[1]["If-None-Match"] == 'W/"x1"'


def test_marks_stay_over_an_answer_that_nothing_changed(service):
    service.reply = Reply(200, {"last-modified": MODIFIED}, b"{}")
    first = begin()
    first(URL)
    second = begin(first.memory())
    service.reply = Reply(304, {}, b"")
    with pytest.raises(Unchanged):
        second(URL)
    assert second.memory() == first.memory()


def test_marks_of_another_address_or_of_side_questions_are_not_sent(service):
    service.reply = Reply(200, {"last-modified": MODIFIED}, b"{}")
    first = begin()
    first(URL)
    second = begin(first.memory())
    second(URL + "?other")
    second(URL, is_main=False)
    assert all("If-Modified-Since" not in sent for sent in service.sent)


def test_an_answer_that_was_not_kept_leaves_the_marks_of_the_one_before(service):
    service.reply = Reply(200, {"etag": "one"}, b"{}")
    first = begin()
    first(URL)
    service.reply = Reply(200, {"etag": "two"}, b"{}")
    second = begin(first.memory())
    second(URL)
    second.remember("grid", "10,20")
    third = begin(second.memory(is_kept=False))
    third(URL)
    assert service.sent[2]["If-None-Match"] == "one"
    assert third.recall("grid", no_older_than=timedelta(days=1)) == "10,20"


@pytest.mark.parametrize("mark", ["a\r\n b", "é", "x" * 300])
def test_a_mark_that_no_header_could_hold_is_dropped(service, mark):
    service.reply = Reply(200, {"etag": mark}, b"{}")
    first = begin()
    first(URL)
    begin(first.memory())(URL)
    assert "If-None-Match" not in service.sent[1]


def test_what_is_remembered_grows_old():
    first = begin()
    first.remember("grid", "10,20")
    week = timedelta(days=7)
    assert begin(first.memory()).recall("grid", no_older_than=week) == "10,20"
    later = begin(first.memory(), now=NOW + timedelta(days=8))
    assert later.recall("grid", no_older_than=week) is None
    assert later.recall("nothing", no_older_than=week) is None


def test_memory_does_not_grow_without_end():
    first = begin()
    for number in range(100):
        first.remember(f"n{number}", "x")
    assert first.recall("n99", no_older_than=timedelta(1)) == "x"
    assert first.recall("n0", no_older_than=timedelta(1)) is None


@pytest.mark.parametrize("memory", [{"marks": 3, "notes": []}, {"notes": {"a": "b"}}])
def test_memory_of_another_form_is_no_memory(service, memory):
    ask = begin(memory)
    assert ask(URL) == b"{}"
    assert ask.recall("a", no_older_than=timedelta(1)) is None


def test_an_address_of_somebody_else_is_not_asked(service):
    with pytest.raises(SourceUnavailable, match="none of this service's own"):
        begin()("https://elsewhere.example.org/")
    assert service.sent == []


@pytest.mark.parametrize(
    ("headers", "fresh_for"),
    [
        ({"cache-control": "public, max-age=1800"}, timedelta(minutes=30)),
        ({"cache-control": 'max-age="60"'}, timedelta(minutes=1)),
        ({"expires": "Sun, 01 Mar 2026 12:35:00 GMT"}, timedelta(minutes=35)),
        (
            # The service's clock is two hours late: what counts is the span.
            {
                "date": "Sun, 01 Mar 2026 10:00:00 GMT",
                "expires": "Sun, 01 Mar 2026 10:35:00 GMT",
            },
            timedelta(minutes=35),
        ),
        (
            {"cache-control": "max-age=60", "expires": "Sun, 01 Mar 2026 20:00:00 GMT"},
            timedelta(minutes=1),
        ),
        ({"expires": "Sun, 01 Mar 2026 11:00:00 GMT"}, timedelta(0)),
        ({"cache-control": "max-age=99999999999999"}, timedelta(days=1)),
        ({"expires": "Mon, 01 Mar 2226 11:00:00 GMT"}, timedelta(days=1)),
    ],
)
def test_freshness_is_read_and_no_freshness_is_for_ever(service, headers, fresh_for):
    service.reply = Reply(200, headers, b"{}")
    ask = begin()
    ask(URL)
    assert ask.fresh_until == NOW + fresh_for


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"expires": "0"},
        {"expires": "tomorrow"},
        {"cache-control": "max-age=soon"},
        {"cache-control": "no-store"},
    ],
)
def test_without_a_word_on_freshness_nothing_is_known(service, headers):
    service.reply = Reply(200, headers, b"{}")
    ask = begin()
    ask(URL)
    assert ask.fresh_until is None


def test_side_questions_say_nothing_about_freshness(service):
    service.reply = Reply(200, {"cache-control": "max-age=60"}, b"{}")
    ask = begin()
    ask(URL, is_main=False)
    assert ask.fresh_until is None


@pytest.mark.parametrize(
    ("status", "words", "is_lasting"),
    [
        (400, "did not understand", True),
        (401, "wants an account", True),
        (403, "ORCHARD_CONTACT", True),
        (404, "does not cover this place", True),
        (422, "does not cover this place", True),
        (418, r"strangely \(418\)", False),
        (429, "too often", False),
        (500, "trouble of its own", False),
        (503, "trouble of its own", False),
        (204, "strangely", False),
        (206, "strangely", False),
        (304, "strangely", False),  # to a question without marks
    ],
)
def test_each_refusal_has_its_words(service, status, words, is_lasting):
    service.reply = Reply(status, {}, b"")
    with pytest.raises(SourceUnavailable, match=words) as refused:
        begin()(URL, is_main=False)
    assert refused.value.is_lasting is is_lasting


@pytest.mark.parametrize(
    ("location", "words"),
    [
        ("https://10.0.0.1/x", r"sends on to 10\.0\.0\.1"),
        ("/elsewhere", "sends on to another page"),
        ("https://[::1", "sends on to another page"),
        ("", "sends on to another page"),
    ],
)
def test_a_redirect_is_refused_and_says_where_to(service, location, words):
    service.reply = Reply(301, {"location": location}, b"")
    with pytest.raises(SourceUnavailable, match=words):
        begin()(URL)


def test_who_asked_too_often_waits_as_long_as_told_or_an_hour(service):
    for headers, wait in (
        ({"retry-after": "120"}, timedelta(minutes=2)),
        ({}, timedelta(hours=1)),
    ):
        service.reply = Reply(429, headers, b"")
        with pytest.raises(SourceUnavailable) as refused:
            begin()(URL)
        assert refused.value.wait == wait


def test_an_interface_that_is_called_old_still_answers(service):
    service.reply = Reply(203, {}, b"{}")
    ask = begin()
    assert ask(URL) == b"{}"
    assert "old" in ask.remarks[0]


def test_a_web_page_is_no_weather(service):
    service.reply = Reply(200, {"content-type": "text/html; charset=utf-8"}, b"<html>")
    with pytest.raises(SourceUnavailable, match="web page"):
        begin()(URL)


@pytest.mark.parametrize(
    ("text", "wait"),
    [
        ("120", timedelta(minutes=2)),
        ("Sun, 01 Mar 2026 12:05:00 GMT", timedelta(minutes=5)),
        ("Sun, 01 Mar 2026 11:00:00 GMT", timedelta(0)),
        ("99999999999999999999", timedelta(days=7)),
        ("Sat, 01 Mar 2036 11:00:00 GMT", timedelta(days=7)),
        ("-5", None),
        ("soon", None),
        ("", None),
        ("²", None),
    ],
)
def test_how_long_to_wait_is_read_in_seconds_and_as_a_date(text, wait):
    """RFC 9110, section 10.2.3: delay-seconds or HTTP-date."""
    assert retry_after(text, NOW) == wait


@given(st.text(max_size=40))
def test_no_word_on_waiting_is_too_strange(text):
    wait = retry_after(text, NOW)
    assert wait is None or timedelta(0) <= wait <= timedelta(days=7)
