"""What a volunteer is warned of: weather that is dangerous to people at work."""

from datetime import timedelta

import pytest
from django.utils import timezone

from orchard.models import OfficialWarning
from orchard.sources.official_warnings import site_moment
from tests.conftest import TODAY

DAY = timedelta(days=1)


@pytest.fixture
def series(site):
    series = site.private_series.create(kind="forecast", name="Service")
    site.readings.create(series=series, rank=9)
    return series


def text(response):
    return " ".join(response.content.decode().split())


def warn(series, site, event):
    moment = site_moment(site, timezone.now())
    OfficialWarning.objects.create(
        series=series,
        identifier=event,
        event=event,
        headline=f"{event} <soon>",
        text="First line\nSecond & last",
        sent_at=moment,
        begins_at=moment,
        ends_at=moment + DAY / 4,
        expires_at=moment + DAY / 4,
    )


def test_heat_and_wind_stand_first_among_what_to_mind(sam, series):
    batch = series.batches.create(label="forecast")
    batch.days.create(day=TODAY, issued_on=TODAY, tmax_c=39.0, gust_ms=15.0)
    page = text(sam.get("/h/"))
    words = ("Mind first", "Up to 39 °C today.", "are heat stroke", "High wind likely")
    places = [page.index(word) for word in words]
    assert places == sorted(places)
    # Anna's own task says it too, and once is enough.
    assert page.count("Stop if you feel dizzy.") == 1


def test_official_warnings_for_people_are_quoted_and_frost_is_not(sam, series, site):
    warn(series, site, "Severe Thunderstorm Warning")
    warn(series, site, "Frost Advisory")
    page = text(sam.get("/h/"))
    assert "Severe Thunderstorm Warning &lt;soon&gt;" in page
    assert "First line<br>Second &amp; last" in page
    assert "Issued by Service" in page
    assert "no ladders" in page
    assert "Frost Advisory" not in page


def test_on_a_calm_day_nothing_is_said(sam):
    page = text(sam.get("/h/"))
    assert "Official warning" not in page
    assert "High wind" not in page
