"""A forecast that stopped coming is told once to those who can do something."""

from datetime import UTC, datetime, timedelta

import pytest

from orchard.actions.arriving_weather import keep_failure, take_lease
from orchard.actions.messages import Told, choose_messages
from orchard.actions.weather_services import choose_source
from orchard.models import Message, SeriesFetch, Site

NOW = datetime(2026, 3, 1, 20, 0, tzinfo=UTC)
DAY = timedelta(days=1)


@pytest.fixture
def here(site):
    site.own_today = None
    site.save(update_fields=["own_today"])
    choose_source(site=site, key="us")
    return site


def fail(times, *, start=NOW, is_lasting=False):
    for number in range(times):
        now = start + number * DAY
        fetch = take_lease(SeriesFetch.objects.get().pk, now)
        keep_failure(
            fetch=fetch, words="Silence.", memory={}, is_lasting=is_lasting, now=now
        )


def people():
    return sorted(Message.objects.values_list("person__username", flat=True))


def test_one_failure_or_seven_are_nobodys_business(here, cast):
    fail(7)
    assert people() == []


def test_eight_in_a_row_are_told_to_those_who_choose_the_service(here, cast):
    SeriesFetch.objects.update(fetched_at=NOW - DAY)
    fail(8)
    assert people() == ["coordinator", "owner"]
    message = Message.objects.first()
    assert message.body["title"] == "No forecast comes for Test site"
    assert message.body["lines"][0] == (
        "National Weather Service gave its last good answer on 28 February at 12:00."
    )
    assert message.body["path"] == "/s/test-site/weather/services/"


def test_a_refusal_is_told_when_it_lasted_a_day(here, cast):
    fail(1, is_lasting=True)
    assert people() == []
    fail(1, start=NOW + 2 * DAY, is_lasting=True)
    assert people() == ["coordinator", "owner"]
    assert "not given a good answer yet" in Message.objects.first().body["lines"][0]


def test_one_silence_is_told_once_and_the_next_one_again(here, cast):
    fail(12)
    assert len(people()) == 2
    SeriesFetch.objects.update(fetched_at=NOW + 20 * DAY, failures=0)
    fail(8, start=NOW + 21 * DAY)
    assert len(people()) == 4


def test_who_does_not_want_to_hear_of_it_does_not(here, cast):
    choose_messages(person=cast.owner, wanted=[Told.COLD_TONIGHT])
    fail(8)
    assert people() == ["coordinator"]


def test_demonstrations_are_told_nothing(here, cast, site):
    fail(7)
    fetch = take_lease(SeriesFetch.objects.get().pk, NOW + 20 * DAY)
    Site.objects.filter(pk=site.pk).update(own_today="2025-07-02")
    keep_failure(fetch=fetch, words="Silence.", memory={}, now=NOW + 20 * DAY)
    assert people() == []
