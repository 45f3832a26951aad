import json
from datetime import date, timedelta
from urllib.parse import parse_qs, urlsplit

import pytest

from orchard.sources.column_forecast import address, fetch, parse
from orchard.sources.distance import distance_km
from orchard.sources.problems import SourceError
from tests.orchard.sources.answers import Service, fixture, place

BODY = fixture("column_hours.json")
BASE = "https://forecast.example.org/v1/forecast"


def changed(**changes):
    fields = json.loads(BODY)
    for name, value in changes.items():
        fields[name] = value
    return json.dumps(fields).encode()


def with_unit(name, unit, convert=lambda value: value):
    fields = json.loads(BODY)
    fields["hourly_units"][name] = unit
    fields["hourly"][name] = [convert(value) for value in fields["hourly"][name]]
    return json.dumps(fields).encode()


def daily(times, lows, highs, offset=-28800, unit="°C", **columns):
    return json.dumps(
        {
            "utc_offset_seconds": offset,
            "daily_units": {
                "temperature_2m_min": unit,
                "temperature_2m_max": unit,
                "precipitation_sum": "inch",
            },
            "daily": {
                "time": times,
                "temperature_2m_min": lows,
                "temperature_2m_max": highs,
                **columns,
            },
        }
    ).encode()


def test_the_hours_make_the_days_of_the_place():
    answer = parse(BODY, place())
    today, tomorrow = answer.days
    # By hand: local midnight is 8:00 in UTC; sums are of the hour before their time.
    assert (today.day, tomorrow.day) == (date(2026, 11, 26), date(2026, 11, 27))
    assert (today.tmin_c, today.tmax_c, today.hours) == (2.0, 9.0, 24)
    assert (tomorrow.tmin_c, tomorrow.tmax_c) == (3.0, 10.0)
    assert today.rain_mm == pytest.approx(0.5)
    assert tomorrow.rain_mm == pytest.approx(3.0)
    assert today.radiation_mj == pytest.approx(7 * 100 * 3600 / 1e6)
    assert today.et0_mm == pytest.approx(0.35)
    assert (today.gust_ms, today.humidity_percent) == (11.5, 80.0)
    # FAO-56, equation 47: 2.5 m/s at 10 m are 1.87 m/s at 2 m; gusts stay as they are.
    assert (today.wind_ms, today.wind_height_m) == (pytest.approx(1.87, abs=0.005), 2.0)
    assert (answer.warnings, answer.remarks, answer.issued_at) == (None, (), None)


@pytest.mark.parametrize(
    ("name", "unit", "convert"),
    [
        ("temperature_2m", "°F", lambda value: value * 1.8 + 32),
        ("precipitation", "inch", lambda value: value / 25.4),
        ("wind_speed_10m", "km/h", lambda value: value * 3.6),
        ("wind_speed_10m", "mp/h", lambda value: value / 0.44704),
        ("wind_speed_10m", "kn", lambda value: value * 3600 / 1852),
        ("shortwave_radiation", "MJ/m²", lambda value: value * 0.0036),
    ],
)
def test_the_unit_is_believed_not_what_was_asked_for(name, unit, convert):
    for found, expected in zip(
        parse(with_unit(name, unit, convert), place()).days,
        parse(BODY, place()).days,
        strict=True,
    ):
        assert found.tmin_c == pytest.approx(expected.tmin_c)
        assert found.rain_mm == pytest.approx(expected.rain_mm)
        assert found.wind_ms == pytest.approx(expected.wind_ms)
        assert found.radiation_mj == pytest.approx(expected.radiation_mj)


def test_one_offset_counts_for_the_whole_answer():
    # The week the clocks change: the answer's clock stays that of the day it was asked.
    fields = json.loads(BODY)
    fields["hourly"]["time"] = [
        f"2026-10-{int(text[8:10]) - 2}{text[10:]}" for text in fields["hourly"]["time"]
    ]
    berlin = place("Europe/Berlin", "2026-10-24T10:00", (52.5, 13.4), 40)
    fields["utc_offset_seconds"] = 7200
    fields |= {"latitude": 52.5, "longitude": 13.4, "elevation": 40.0}
    days = parse(json.dumps(fields).encode(), berlin).days
    assert [(each.day.day, each.hours) for each in days] == [
        (24, 24),
        (25, 25),
        (26, 23),
    ]


def test_older_names_of_columns_are_known():
    fields = json.loads(BODY)
    for part in ("hourly", "hourly_units"):
        fields[part]["windspeed_10m"] = fields[part].pop("wind_speed_10m")
        fields[part]["relativehumidity_2m"] = fields[part].pop("relative_humidity_2m")
    today = parse(json.dumps(fields).encode(), place()).days[0]
    assert today.wind_ms == pytest.approx(1.87, abs=0.005)
    assert today.humidity_percent == 80.0


def test_holes_stay_holes():
    fields = json.loads(BODY)
    fields["hourly"]["precipitation"][8:20] = [None] * 12
    fields["hourly"]["wind_gusts_10m"] = [None] * 72
    fields["hourly_units"]["wind_gusts_10m"] = "undefined"
    del fields["hourly"]["et0_fao_evapotranspiration"]
    today, tomorrow = parse(json.dumps(fields).encode(), place()).days
    assert (today.rain_mm, today.gust_ms, today.et0_mm) == (None, None, None)
    assert tomorrow.rain_mm == pytest.approx(3.0)


def test_a_column_without_a_unit_is_left_out():
    days = parse(with_unit("temperature_2m", "undefined"), place()).days
    assert [each.tmin_c for each in days] == [None, None]
    assert days[0].rain_mm == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("body", "words"),
    [
        (b'{"error": true, "reason": "Latitude must be in range"}', "Latitude must be"),
        (changed(utc_offset_seconds=None), "how far its clock is from UTC"),
        (changed(utc_offset_seconds=1e9), "how far its clock is from UTC"),
        (changed(hourly={"time": []}), "it has 0 times"),
        (changed(hourly=[]), "“hourly” is not an object"),
        (changed(hourly=None), "“daily” is missing"),
        (with_unit("temperature_2m", "K", lambda _: 280), "is in “K”, which is not"),
        (
            with_unit("temperature_2m", "°C", lambda _: -99.9),
            "-99.9 °C is not possible",
        ),
        (with_unit("precipitation", "mm", lambda _: -1), "-1.0 mm is not possible"),
        (with_unit("precipitation", "mm", lambda _: "1"), "instead of a number"),
        (with_unit("time", "", lambda text: text + "Z"), "is not a local time"),
        (with_unit("time", "", lambda _: "2026-11-26T00:00"), "evenly"),
        (
            with_unit("time", "", lambda text: text.replace("2026", "2020")),
            "no forecast",
        ),
    ],
)
def test_what_cannot_be_is_refused_whole(body, words):
    with pytest.raises(SourceError, match=words):
        parse(body, place())


def test_a_column_of_another_length_is_refused():
    fields = json.loads(BODY)
    fields["hourly"]["precipitation"].pop()
    with pytest.raises(SourceError, match="71 values for 72 times"):
        parse(json.dumps(fields).encode(), place())


def test_a_cell_far_away_is_told():
    answer = parse(changed(latitude=48.45, elevation=1320.0), place())
    # A degree of latitude is 111 km (60 nautical miles).
    assert answer.remarks == (
        "The forecast is for a point 111 km away.",
        "The forecast is for a point 1200 m higher.",
    )
    assert distance_km(0.0, 179.5, 0.0, -179.5) == pytest.approx(111.2, abs=0.1)


def test_days_count_where_there_are_no_hours():
    body = daily(
        ["2026-11-25", "2026-11-26", "2026-11-27"],
        [30.0, 34.0, None],
        [40.0, 50.0, 50.0],
        unit="°F",
        precipitation_sum=[1.0, 0.5, None],
    )
    today, tomorrow = parse(body, place()).days
    assert (today.day, today.rain_mm) == (date(2026, 11, 26), pytest.approx(12.7))
    assert (today.tmin_c, today.tmax_c) == (pytest.approx(10 / 9), pytest.approx(10.0))
    assert (tomorrow.tmin_c, tomorrow.rain_mm) == (None, None)


@pytest.mark.parametrize(
    ("body", "words"),
    [
        (daily(["2026-11-26"], [9.0], [3.0]), "the high, 3.0 °C, is below the low"),
        (daily(["2026-11-26"], [1.0], [3.0], offset=3600), "this place's clock"),
        (daily(["2026-11-26"] * 2, [1.0] * 2, [3.0] * 2), "is in it twice"),
        (daily(["2026-11-26"], [None], [None]), "no forecast for today or later"),
    ],
)
def test_strange_days_are_refused(body, words):
    with pytest.raises(SourceError, match=words):
        parse(body, place())


def test_it_asks_for_hours_in_utc_and_names_every_unit(settings):
    settings.ORCHARD_FORECAST_URL = BASE
    service = Service({BASE: BODY})
    assert fetch(place(), service) == parse(BODY, place())
    ((url, is_main),) = service.asked
    query = parse_qs(urlsplit(url).query)
    assert is_main
    assert query["latitude"] == ["47.4500"]
    assert query["wind_speed_unit"] == query["windspeed_unit"] == ["ms"]
    assert query["temperature_unit"] == ["celsius"]
    assert query["precipitation_unit"] == ["mm"]
    assert (query["timezone"], query["past_days"]) == (["GMT"], ["1"])
    assert address(BASE + "?key=a", place()).startswith(BASE + "?key=a&latitude=")


def test_quarters_and_threes_of_hours_are_steps_too():
    fields = json.loads(BODY)
    hourly = fields["hourly"]
    fields["hourly"] = {name: column[::3] for name, column in hourly.items()}
    today = parse(json.dumps(fields).encode(), place()).days[0]
    # Power lasts for the three hours before its time: 12:00 and 15:00 here.
    assert today.radiation_mj == pytest.approx(
        sum(hourly["shortwave_radiation"][9:33:3]) * 3 * 3600 / 1e6
    )
    assert timedelta(hours=today.hours) == timedelta(days=1)
