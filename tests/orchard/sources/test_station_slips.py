from datetime import date, timedelta

import pytest

from orchard.sources.station_columns import (
    ColumnChoice,
    ColumnMapping,
    ColumnUnit,
    StationQuantity as Q,
)
from orchard.sources.station_day import StationDay
from orchard.sources.station_slips import slips

METRIC = {Q.TMAX: ColumnUnit.CELSIUS, Q.RAIN: ColumnUnit.MILLIMETRES}
US = {Q.TMAX: ColumnUnit.FAHRENHEIT, Q.RAIN: ColumnUnit.INCHES}


def asked(units, count=90, low=8.0, high=18.0, rain=2.0, wind=None):
    mapping = ColumnMapping(
        {q: ColumnChoice(n, unit) for n, (q, unit) in enumerate(units.items())}
    )
    first = date(2026, 1, 1)
    days = [
        StationDay(
            first + timedelta(days=number),
            low,
            high,
            None if rain is None else rain if number % 3 == 0 else 0.0,
            wind_ms=wind,
        )
        for number in range(count)
    ]
    return " ".join(slips(days, mapping))


@pytest.mark.parametrize("units", [METRIC, US])
def test_usual_weather_is_not_asked_about(units):
    assert asked(units) == ""
    assert asked(units, 3, 30.0, 40.0, None) == ""


def test_inches_taken_for_millimetres():
    # Rome's usual year of 800 mm is 31.5 in.
    rain = 31.5 / 365.25 * 3
    assert "Is the rain in inches?" in asked(METRIC, rain=rain)
    assert asked(METRIC, 30, rain=rain) == ""
    assert asked(METRIC, rain=0.0) == ""


def test_millimetres_taken_for_inches():
    assert "Is the rain in millimetres?" in asked(US, 3, rain=12 * 25.4)
    assert "Is the rain in millimetres?" in asked(US, rain=4 * 25.4)


def test_fahrenheit_taken_for_celsius():
    assert "in °F?" in asked(METRIC, low=35.0, high=45.0)
    assert "in °F?" in asked(METRIC, 2, low=35.0, high=50.0)
    # A winter of 14 to 38 °F: possible one by one, too wide a span together.
    assert "in °F?" in asked(METRIC, low=14.0, high=38.0)


def test_celsius_taken_for_fahrenheit():
    # 8 and 18 read as °F.
    assert "in °C?" in asked(US, low=-13.3, high=-7.8)
    assert asked(US, low=-20.0, high=-8.0) == ""


def test_wind_in_another_unit():
    assert "km/h or mph?" in asked({Q.WIND: ColumnUnit.METRES_A_SECOND}, wind=12.0)
    assert "Is it in m/s?" in asked({Q.WIND: ColumnUnit.KILOMETRES_AN_HOUR}, wind=0.3)
    assert asked({Q.WIND: ColumnUnit.METRES_A_SECOND}, wind=3.0) == ""
