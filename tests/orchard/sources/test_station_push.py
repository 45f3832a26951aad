"""The fields a station sends, read into SI; what it cannot say is missing or refused."""

from contextlib import suppress
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, strategies as st

from orchard.sources.station_push import PushError, read_push

NOW = datetime(2025, 7, 2, 14, 6, tzinfo=UTC)
WHOLE = {
    "dateutc": "2025-07-02 14:05:00",
    "tempf": "68",
    "dewptf": "50",
    "humidity": "52",
    "windspeedmph": "10",
    "windgustmph": "20",
    "rainin": "0.1",
    "dailyrainin": "0.5",
    "baromin": "29.92",
    "soiltempf": "60",
    "soilmoisture": "40",
    "solarradiation": "640",
    "softwaretype": "anything",
    "action": "updateraw",
}


def test_every_value_comes_out_in_si():
    """Inch, mile and degree: NIST SP 811 (2008), appendix B.8."""
    found = read_push(WHOLE, NOW)
    assert found.at == datetime(2025, 7, 2, 14, 5, tzinfo=UTC)
    assert found.temp_c == pytest.approx(20.0)
    assert found.dew_point_c == pytest.approx(10.0)
    assert found.humidity_percent == 52.0
    assert found.wind_ms == pytest.approx(4.4704)
    assert found.gust_ms == pytest.approx(8.9408)
    assert (found.rain_hour_mm, found.rain_day_mm) == pytest.approx((2.54, 12.7))
    assert found.radiation_wm2 == 640.0


@pytest.mark.parametrize(
    "sent", ["2025-07-02 14:05:00", "2025-07-02+14:05:00", "2025-7-2T14:5:0Z"]
)
def test_the_time_is_read_as_stations_write_it(sent):
    found = read_push({"dateutc": sent, "tempf": "50"}, NOW)
    assert found.at == datetime(2025, 7, 2, 14, 5, tzinfo=UTC)


def test_now_is_when_it_came_and_names_come_in_any_case():
    found = read_push({"DATEUTC": "now", "TempF": "50"}, NOW)
    assert (found.at, found.temp_c) == (NOW, 10.0)


@pytest.mark.parametrize(
    "missing",
    ["", "-9999", "-9999.0", "-999.9", "-99.9", "NaN", "null", "--", "\u22129999"],
)
def test_codes_for_no_value_are_missing_and_never_a_number(missing):
    found = read_push({**WHOLE, "dailyrainin": missing, "tempf": missing}, NOW)
    assert (found.rain_day_mm, found.temp_c) == (None, None)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"dateutc": ""}, "sent no time"),
        ({"dateutc": "yesterday"}, "“yesterday”, is none"),
        ({"dateutc": "2025-02-30 10:00:00"}, "“2025-02-30 10:00:00”, is none"),
        ({"dateutc": "2025-07-02 17:06:00"}, "3 hours ahead: it says 2025-07-02 17:06"),
        ({"dateutc": "2025-06-29 14:06:00"}, "3 days behind"),
        ({"tempf": "warm"}, "tempf: “warm” is not a number"),
        ({"tempf": "1e9"}, "tempf: “1e9” is not a number"),
        ({"humidity": "inf"}, "humidity: “inf” is not a number"),
        ({"dailyrainin": "-0.2"}, "dailyrainin: -0.2 cannot be below zero"),
        ({"windspeedmph": "4\x00<b>"}, "windspeedmph: “4?<b>” is not a number"),
    ],
)
def test_what_cannot_be_taken_is_refused_in_words(changed, words):
    with pytest.raises(PushError, match=words.replace("?", r"\?")):
        read_push({**WHOLE, **changed}, NOW)


def test_a_station_without_weather_is_refused():
    with pytest.raises(PushError, match="sent no weather, such as tempf"):
        read_push({"dateutc": "now", "baromin": "29.9", "tempf": "-9999"}, NOW)


@pytest.mark.parametrize("behind", [timedelta(days=2), -timedelta(minutes=15)])
def test_the_edges_of_what_a_clock_may_say_are_taken(behind):
    moment = f"{NOW - behind:%Y-%m-%d %H:%M:%S}"
    assert read_push({"dateutc": moment, "tempf": "50"}, NOW).at == NOW - behind


@given(st.dictionaries(st.sampled_from(sorted(WHOLE)), st.text(max_size=40)))
def test_whatever_is_sent_is_taken_or_refused_in_words(fields):
    with suppress(PushError):
        found = read_push(fields, NOW)
        assert found.at - NOW <= timedelta(minutes=15)
        assert found.rain_day_mm is None or found.rain_day_mm >= 0
