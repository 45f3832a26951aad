"""Times and reaches of a weather service, as people say them."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from orchard.actions.arriving_days import keep_days
from orchard.actions.weather_services import choose_source
from orchard.models import SeriesFetch
from orchard.sources.arriving import ForecastDay
from orchard.views.weather_source_words import clock_words, service_state

ZONE = ZoneInfo("America/Los_Angeles")
NOW = datetime(2026, 3, 1, 20, 0, tzinfo=UTC)  # noon


@pytest.mark.parametrize(
    ("hours", "words"),
    [
        (2.5, "at 14:30"),
        (13, "tomorrow at 01:00"),
        (35, "tomorrow at 23:00"),
        (37, "on 3 March at 01:00"),
        # The clocks go forward on 8 March 2026.
        (24 * 7, "on 8 March at 13:00"),
    ],
)
def test_a_time_to_come_is_said_by_the_clock_of_the_place(hours, words):
    assert clock_words(NOW + timedelta(hours=hours), NOW, ZONE) == words


def test_a_forecast_that_has_run_out_is_called_so(site, settings):
    settings.ORCHARD_CONTACT = "garden@example.org"
    site.own_today = None
    site.save(update_fields=["own_today"])
    series = choose_source(site=site, key="us")
    today = date(2026, 2, 20)
    keep_days(series=series, days=[ForecastDay(today, tmin_c=1.0)], today=today)
    SeriesFetch.objects.update(
        fetched_at=NOW - timedelta(days=9), failures=9, error="Silence."
    )
    state = service_state(site, NOW)
    assert state.is_trouble
    assert "It reached to 20 February, so no forecast is left." in state.lines[0]
