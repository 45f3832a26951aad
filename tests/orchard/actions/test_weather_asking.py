"""One round of asking, with services that answer, refuse, stumble and talk nonsense."""

import json
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from orchard.actions import weather_asking
from orchard.actions.arriving_weather import take_lease
from orchard.actions.people import found_orchard
from orchard.actions.places import add_site
from orchard.actions.weather_asking import OUR_MISTAKE, ask_due
from orchard.actions.weather_services import choose_source
from orchard.models import OfficialWarning, Person, SeriesFetch, WeatherDay
from orchard.sources import asking, registry
from orchard.sources.arriving import Answer, ForecastDay, SourceUnavailable, Unchanged
from orchard.sources.network import Reply
from orchard.sources.problems import whole_problem

NOW = datetime(2026, 3, 1, 20, 0, tzinfo=UTC)


@pytest.fixture(autouse=True)
def contact(settings):
    settings.ORCHARD_CONTACT = "garden@example.org"


@pytest.fixture
def service(monkeypatch):
    """Let the norwegian service answer by ``service.fetch``."""

    class Service:
        asked: list[str]

        def fetch(self, place, ask):
            return Answer(days=(ForecastDay(place.today, tmin_c=1.0, tmax_c=8.0),))

    known = Service()
    known.asked = []

    def fetch(place, ask):
        known.asked.append(f"{place.latitude_deg:g}")
        return known.fetch(place, ask)

    changed = replace(registry.service_of("norwegian"), fetch=fetch)
    monkeypatch.setattr(weather_asking, "service_of", lambda key: changed)
    return known


@pytest.fixture
def places(db):
    """Four places far apart that all read one service."""
    orchard = found_orchard(person=Person.objects.create_user("p"), name="Places")
    found = []
    for number in range(4):
        site = add_site(
            orchard=orchard,
            values={"name": f"P{number}", "latitude_deg": number, "longitude_deg": 9.0},
        )
        choose_source(site=site, key="norwegian")
        found.append(site)
    return found


def go(**values):
    return ask_due(now=lambda: NOW, **values)


def raiser(error):
    def fetch(place, ask):
        raise error

    return fetch


def test_everything_due_is_asked_once(service, places):
    assert [outcome.what for outcome in go()] == ["new"] * 4
    assert go() == []
    assert service.asked == ["0", "1", "2", "3"]
    assert WeatherDay.objects.count() == 4


def test_without_a_contact_nobody_is_asked(service, places, settings):
    settings.ORCHARD_CONTACT = ""
    assert go() == []
    assert service.asked == []


def test_what_another_worker_asks_is_left_to_it(service, places):
    take_lease(SeriesFetch.objects.first().pk, NOW)
    go()
    assert service.asked == ["1", "2", "3"]


def test_a_round_may_ask_for_everything(service, places):
    go()
    assert len(go(is_everything=True)) == 4


def test_a_service_that_is_silent_rests_until_the_next_round(service, places):
    service.fetch = raiser(SourceUnavailable("Silence."))
    outcomes = go()
    assert [(outcome.what, outcome.words) for outcome in outcomes] == [
        ("failed", "Silence.")
    ] * 3
    assert SeriesFetch.objects.filter(asked_at=None).count() == 1


def test_a_stumble_over_one_answer_leaves_the_others_theirs(service, places, caplog):
    usual, surprise = service.fetch, "surprise"

    def fetch(place, ask):
        if place.latitude_deg == 1:
            raise KeyError(surprise)
        return usual(place, ask)

    service.fetch = fetch
    assert [outcome.what for outcome in go()] == ["new", "failed", "new", "new"]
    assert "surprise" in caplog.text
    assert SeriesFetch.objects.get(failures=1).error == OUR_MISTAKE


@pytest.mark.parametrize(
    "answer",
    [
        Answer(days=(ForecastDay(NOW.date(), tmin_c=-99.9, tmax_c=3.0),)),
        Answer(days=(ForecastDay(NOW.date() - timedelta(days=1), tmin_c=1.0),)),
    ],
)
def test_nonsense_is_an_error_and_not_kept(service, places, answer):
    service.fetch = lambda place, ask: answer
    assert {outcome.what for outcome in go()} == {"failed"}
    assert not WeatherDay.objects.exists()
    assert "cannot be read" in SeriesFetch.objects.filter(failures=1).first().error


def test_an_answer_that_cannot_be_read_is_told_in_its_words(service, places):
    service.fetch = raiser(whole_problem("The answer is a poem."))
    assert go()[0].words == "The answer is a poem."


def test_nothing_newer_is_no_failure(service, places):
    service.fetch = raiser(Unchanged())
    assert {outcome.what for outcome in go()} == {"same"}
    assert SeriesFetch.objects.filter(fetched_at=NOW, failures=0).count() == 4


def test_what_a_source_remembers_comes_back_to_it_also_after_a_failure(service, places):
    heard = []

    def fetch(place, ask):
        heard.append(ask.recall("grid", no_older_than=timedelta(days=1)))
        ask.remember("grid", f"{len(heard)}")
        msg = f"Silence {len(heard)}."
        raise SourceUnavailable(msg)

    service.fetch = fetch
    for _ in range(2):
        go(is_everything=True)
    assert heard[:3] == [None, None, None]
    # The one that waited longest comes first, and for the first time.
    assert heard[3:] == [None, "1", "2"]


def test_a_whole_round_with_the_real_reader_of_a_service(places, monkeypatch):
    """The column form of the answer, by hand: one day of 24 hours for each place."""
    hours = [f"2026-03-0{1 + h // 24}T{h % 24:02}:00" for h in range(48)]
    body = {
        "utc_offset_seconds": 0,
        "hourly_units": {"temperature_2m": "°C", "precipitation": "mm"},
        "hourly": {
            "time": hours,
            "temperature_2m": [5.0 + h % 24 / 2 for h in range(48)],
            "precipitation": [0.25] * 48,
        },
    }
    asked = []

    def get(url, headers, line):
        asked.append((url, headers))
        return Reply(200, {"cache-control": "max-age=86400"}, json.dumps(body).encode())

    monkeypatch.setattr(asking, "get", get)
    choose_source(site=places[0], key="columns")
    outcome = next(outcome for outcome in go() if outcome.source == "columns")
    assert (outcome.what, outcome.wait_until > NOW + timedelta(days=1)) == ("new", True)
    day = WeatherDay.objects.get(day="2026-03-02", batch__series__source="columns")
    assert (day.tmin_c, day.tmax_c) == (5.0, 16.5)
    agents = {url.split("&")[0]: headers["User-Agent"] for url, headers in asked}
    mine = "https://api.open-meteo.com/v1/forecast?latitude=0.0000"
    assert agents[mine].endswith("(+garden@example.org)")
    assert not OfficialWarning.objects.exists()
