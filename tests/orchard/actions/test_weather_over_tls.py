"""A whole round over a real connection: asked, kept, and the second time unchanged."""

from datetime import UTC, datetime, timedelta

import pytest

from orchard.actions.people import found_orchard
from orchard.actions.places import add_site
from orchard.actions.weather_asking import ask_due
from orchard.actions.weather_services import choose_source
from orchard.models import Person, SeriesFetch, WeatherDay
from tests.orchard.sources.answers import fixture
from tests.orchard.sources.hostile_server import Authority, says, serving

NOW = datetime(2026, 11, 26, 5, 30, tzinfo=UTC)
MODIFIED = "Thu, 26 Nov 2026 05:12:41 GMT"


@pytest.mark.django_db
def test_a_forecast_comes_over_tls_and_the_next_time_nothing_is_newer(
    settings, tmp_path
):
    settings.ORCHARD_CONTACT = "garden@example.org"
    orchard = found_orchard(person=Person.objects.create_user("p"), name="Places")
    values = {
        "name": "North",
        "latitude_deg": 59.91,
        "longitude_deg": 10.75,
        "time_zone": "Europe/Oslo",
    }
    choose_source(site=add_site(orchard=orchard, values=values), key="norwegian")
    answers = [
        says(
            "200 OK",
            f"Last-Modified: {MODIFIED}",
            body=fixture("norwegian_complete.json"),
        ),
        says("304 Not Modified"),
        says("429 Too Many Requests", "Retry-After: 7200"),
    ]
    authority = Authority()
    context = authority.server_context(tmp_path, "api.met.no")
    outcomes = []

    def behave(connection):
        answers.pop(0)(connection)

    with serving(behave, context, authority.roots) as service:
        for hours in (0, 3, 6, 7):
            now = NOW + timedelta(hours=hours)
            outcomes += ask_due(now=lambda at=now: at, line=service.line())
    assert [outcome.what for outcome in outcomes] == ["new", "same", "failed"]
    assert WeatherDay.objects.filter(issued_on="2026-11-26").exists()
    first, second, _third = service.requests
    assert b"GET /weatherapi/locationforecast/2.0/complete?lat=59.9100&" in first
    assert b"If-Modified-Since" not in first
    assert f"If-Modified-Since: {MODIFIED}\r\n".encode() in second
    fetch = SeriesFetch.objects.get()
    assert fetch.fetched_at == NOW + timedelta(hours=3)
    assert fetch.wait_until >= NOW + timedelta(hours=8)
    assert "asked too often" in fetch.error
