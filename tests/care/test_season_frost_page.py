"""Frost and heat on the page of the season."""

from datetime import date, timedelta

import numpy as np
import pytest

from orchard.actions.weather import import_days
from orchard.models import Site
from tests.care.planning.test_frost_outlook import record
from tests.care.test_season_page import (
    SEASON,
    grower,  # noqa: F401 (a fixture)
    read_seattle,
    text,
)

TODAY = date(2011, 2, 1)


def set_today(site, today, **values):
    Site.objects.filter(pk=site.pk).update(own_today=today, **values)
    site.refresh_from_db()


@pytest.fixture
def untyped(site):
    names = (
        "last_frost_month",
        "last_frost_day",
        "first_frost_month",
        "first_frost_day",
    )
    set_today(site, TODAY, **dict.fromkeys(names))
    return site


def test_ten_years_show_chances(untyped, grower):  # noqa: F811
    series = record()
    # No two days alike: a sensor that stands still is not believed.
    lows = series.tmin_c + np.where(series.tmin_c > 0, np.arange(len(series)) % 3, 0)
    days = [
        (
            series.start + timedelta(days=place),
            {
                "tmin_c": float(low),
                "tmax_c": float(low) + 10,
                "rain_mm": 0.0,
            },
        )
        for place, low in enumerate(lows)
    ]
    import_days(site=untyped, days=days, label="record", person=None)
    page = text(grower.get(SEASON))
    assert "Chances of frost" in page
    assert "21 April" in page
    assert "tender trees are planted from then on" in page
    assert "Hardiness zone" in page


def test_a_short_record_shows_extremes_and_says_how_short(site, grower):  # noqa: F811
    today = date(2015, 2, 1)
    set_today(site, today)
    read_seattle(site, date(2012, 1, 1), date(2015, 1, 31))
    page = text(grower.get(SEASON))
    assert "Chances of frost" not in page
    assert "Plans go by the dates that were typed: last frost 20 March" in page
    assert "A short record: the map uses 30 winters" in page
    assert "heat zone" in page
