import json
from datetime import UTC, date, datetime, timedelta

import pytest

from orchard.sources.arriving import SourceUnavailable, Unchanged
from orchard.sources.problems import SourceError
from orchard.sources.us_forecast import (
    duration_of,
    fetch,
    grid_address,
    parse,
    point_address,
    span,
)
from tests.orchard.sources.answers import Service, fixture, place

POINT, GRID = fixture("us_point.json"), fixture("us_grid.json")
ALERTS = fixture("us_alerts.json")
HOST = "https://api.weather.gov"
SQUARE = f"{HOST}/gridpoints/SEW/121,57"


def changed(change):
    fields = json.loads(GRID)
    change(fields["properties"])
    return json.dumps(fields).encode()


@pytest.mark.parametrize(
    ("text", "hours"),
    [
        ("PT1H", 1),
        ("PT3H", 3),
        ("P1D", 24),
        ("P1DT6H", 30),
        ("P7DT12H", 180),
        ("PT30M", 0.5),
        ("PT1H30M", 1.5),
        ("P2DT1H30M", 49.5),
    ],
)
def test_lengths_of_time(text, hours):
    # The first five: computed independently from ISO 8601-1, 5.5.2.
    assert duration_of(text) == timedelta(hours=hours)


@pytest.mark.parametrize(
    "text", ["", "P", "PT", "P1DT", "1H", "PT1S", "P1W", "PT-1H", "P1M", "PT٣H"]
)
def test_what_is_no_length_of_time(text):
    with pytest.raises(SourceError, match="not a length of time"):
        duration_of(text)


@pytest.mark.parametrize("text", ["PT0H", "P17D", "P999DT9999H"])
def test_spans_of_no_time_or_of_weeks_are_refused(text):
    with pytest.raises(SourceError, match="lasts"):
        span(f"2026-11-26T08:00:00+00:00/{text}")


def test_layers_become_local_days():
    answer = parse(GRID, place())
    today, tomorrow, after = answer.days
    # By hand: local midnight is 8:00 UTC. 8 mm over PT4H from 6:00 UTC have it in
    # their middle, so 4 mm each; the low of a night is the day's it ends on.
    assert (today.day, today.hours) == (date(2026, 11, 26), 24)
    assert (today.tmin_c, today.tmax_c) == (1.0, 8.5)
    assert today.rain_mm == pytest.approx(1.1 + 4.0)
    assert tomorrow.rain_mm == pytest.approx(4.0)
    assert (tomorrow.tmin_c, tomorrow.tmax_c) == (-1.5, 6.0)
    # FAO-56, equation 47: 18 km/h at 10 m are 3.74 m/s at 2 m.
    assert today.wind_ms == pytest.approx(3.74, abs=0.005)
    assert today.gust_ms == pytest.approx(10.0)
    assert tomorrow.gust_ms == pytest.approx(7.5)
    assert (after.day, after.tmin_c, after.tmax_c) == (date(2026, 11, 28), -3.0, None)
    assert (after.rain_mm, after.wind_ms) == (None, None)
    assert answer.issued_at == datetime(2026, 11, 26, 5, 40, tzinfo=UTC)


def test_older_prefixes_and_other_units_are_known():
    def in_older_words(properties):
        properties["quantitativePrecipitation"]["uom"] = "unit:mm"
        wind = properties["windSpeed"]
        wind["unitCode"] = "unit:m_s-1"
        del wind["uom"]
        properties["temperature"]["uom"] = "degC"

    today = parse(changed(in_older_words), place()).days[0]
    assert today.rain_mm == pytest.approx(5.1)
    assert today.wind_ms == pytest.approx(18.0 * 0.748, abs=0.005)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda p: p["temperature"].update(uom="wmoUnit:K"), "in “wmoUnit:K”"),
        (lambda p: p["windSpeed"].pop("uom"), "“windSpeed” is in “”"),
        (lambda p: p.update(temperature=[]), "“temperature” is not an object"),
        (lambda p: p["temperature"].update(values={}), "“values” is not a list"),
        (lambda p: p["temperature"]["values"].append(3), "is not an object"),
        (lambda p: p["temperature"]["values"][0].update(value=-99.9), "not possible"),
        (lambda p: p["temperature"]["values"][0].update(value="3"), "of a number"),
        (
            lambda p: p["temperature"]["values"][0].update(
                validTime="2026-11-26T08:00:00+00:00/PT9H"
            ),
            "overlap",
        ),
        (lambda p: p.update(updateTime="today"), "“updateTime”"),
        (lambda p: p["temperature"].update(values=[{}] * 2001), "2001 values"),
    ],
)
def test_what_cannot_be_is_refused(change, words):
    with pytest.raises(SourceError, match=words):
        parse(changed(change), place())


def test_a_point_names_its_square():
    assert grid_address(POINT) == SQUARE
    assert point_address(place()) == f"{HOST}/points/47.45,-122.31"
    assert point_address(place(at=(40.0, -100.0))) == f"{HOST}/points/40,-100"
    assert point_address(place(at=(-0.00001, 1.5))) == f"{HOST}/points/0,1.5"


@pytest.mark.parametrize(
    "properties",
    [
        {"gridId": "../x", "gridX": 1, "gridY": 2},
        {"gridId": "SEW", "gridX": "1/../..", "gridY": 2},
        {"gridId": "SEW", "gridX": True, "gridY": 2},
        {"gridId": "SEW", "gridX": 1.5, "gridY": 2},
        {"gridId": "SEW", "gridY": 2},
    ],
)
def test_a_square_leads_nowhere_else(properties):
    with pytest.raises(SourceError):
        grid_address(json.dumps({"properties": properties}).encode())


def test_the_square_is_remembered():
    service = Service({f"{HOST}/alerts": ALERTS, f"{HOST}/points": POINT, SQUARE: GRID})
    answer = fetch(place(), service)
    assert answer.days == parse(GRID, place()).days
    assert [each.event for each in answer.warnings] == ["Flood Watch", "Freeze Warning"]
    assert [is_main for _, is_main in service.asked] == [False, False, True]
    fetch(place(), service)
    assert [url for url, _ in service.asked[3:]] == [service.asked[0][0], SQUARE]


def test_a_square_that_moved_is_found_again():
    old = f"{HOST}/gridpoints/SEW/1,1"
    gone = SourceUnavailable("The service does not cover this place.", is_lasting=True)
    answers = {old: gone, f"{HOST}/alerts": ALERTS, f"{HOST}/points": POINT}
    service = Service(answers | {SQUARE: GRID}, {"grid": old})
    assert fetch(place(), service).days
    assert service.known["grid"] == SQUARE
    busy = Service(answers | {old: SourceUnavailable("Busy.")}, {"grid": old})
    with pytest.raises(SourceUnavailable, match="Busy"):
        fetch(place(), busy)


@pytest.mark.parametrize("answer", [SourceUnavailable("Busy."), b"<html>"])
def test_without_warnings_the_forecast_still_counts(answer):
    service = Service({f"{HOST}/alerts": answer, SQUARE: GRID}, {"grid": SQUARE})
    found = fetch(place(), service)
    assert found.warnings is None
    assert found.remarks == ("The official warnings could not be read this time.",)
    assert found.days


def test_new_warnings_count_where_the_forecast_is_unchanged():
    service = Service({f"{HOST}/alerts": ALERTS, SQUARE: Unchanged()}, {"grid": SQUARE})
    found = fetch(place(), service)
    assert (found.days, len(found.warnings)) == ((), 2)
    service.answers[f"{HOST}/alerts"] = SourceUnavailable("Busy.")
    with pytest.raises(Unchanged):
        fetch(place(), service)
