import json
from datetime import UTC, date, datetime

import pytest

from orchard.sources.norwegian_forecast import address, fetch, parse
from orchard.sources.problems import SourceError
from tests.orchard.sources.answers import Service, fixture, oslo, place

BODY = fixture("norwegian_complete.json")


def changed(change):
    fields = json.loads(BODY)
    change(fields["properties"])
    return json.dumps(fields).encode()


def at(number, part):
    """Return the details of one moment, to be changed."""
    return lambda properties: properties["timeseries"][number]["data"][part]["details"]


def test_hours_and_six_hours_make_local_days():
    answer = parse(BODY, oslo())
    (tomorrow,) = answer.days
    # By hand: today has 17 hours left and the 28th only eight, too few; of the rain
    # from 18:00 to 24:00 UTC, 0.6 mm, five sixths fall before local midnight.
    assert tomorrow.day == date(2026, 11, 27)
    assert (tomorrow.tmin_c, tomorrow.tmax_c) == (-2.5, 5.5)
    assert tomorrow.rain_mm == pytest.approx(0.2 + 0.0 + 3.0 + 6.0 + 0.5)
    assert tomorrow.humidity_percent == pytest.approx((80 + 90 * 23) / 24)
    assert (tomorrow.gust_ms, tomorrow.hours) == (8.0, 24)
    assert answer.issued_at == datetime(2026, 11, 26, 5, 12, 40, tzinfo=UTC)
    assert answer.warnings is None


def test_no_hour_is_summed_twice():
    def six_hours_everywhere(properties):
        for item in properties["timeseries"][:18]:
            item["data"]["next_6_hours"] = {"details": {"precipitation_amount": 60.0}}

    found = parse(changed(six_hours_everywhere), oslo()).days
    assert found[-1].rain_mm == parse(BODY, oslo()).days[-1].rain_mm


def test_six_hours_stand_in_for_hours_that_are_missing():
    # Midnight in Oslo is 23:00 UTC; asked at 22:30 the day before, all of it is ahead.
    def only_six(properties):
        del properties["timeseries"][:12]
        for item in properties["timeseries"]:
            item["data"].pop("next_1_hours", None)
        properties["timeseries"][0]["data"]["next_6_hours"] = {
            "details": {"precipitation_amount": 6.0}
        }

    (tomorrow,) = parse(changed(only_six), oslo()).days
    # From 18:00 to 24:00 UTC: one hour of six is tomorrow's.
    assert tomorrow.rain_mm == pytest.approx(1.0 + 0.0 + 3.0 + 6.0 + 0.5)


def test_wide_steps_without_extremes_tell_none():
    def no_extremes(properties):
        for item in properties["timeseries"]:
            details = item["data"].get("next_6_hours", {}).get("details", {})
            details.pop("air_temperature_min", None)

    (tomorrow,) = parse(changed(no_extremes), oslo()).days
    assert (tomorrow.tmin_c, tomorrow.tmax_c) == (None, None)
    assert tomorrow.rain_mm == pytest.approx(9.7)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda p: p["meta"]["units"].update(wind_speed="knots"), "in “knots” instead"),
        (lambda p: p.update(timeseries=[]), "it has 0 moments"),
        (lambda p: p["timeseries"].reverse(), "not in order"),
        (lambda p: p["timeseries"][3].update(time="2026-11-26T09:00"), "with its zone"),
        (lambda p: p["timeseries"][3].pop("data"), "“data” is missing"),
        (lambda p: p["timeseries"][3].update(data={"instant": 4}), "not an object"),
        (lambda p: at(3, "instant")(p).update(air_temperature=-99.9), "not possible"),
        (lambda p: at(0, "next_1_hours")(p).update(precipitation_amount=-2), "-2.0 mm"),
        (lambda p: at(19, "next_6_hours")(p).update(air_temperature_min=9), "above"),
        (lambda p: p["meta"].pop("updated_at"), "“updated_at”"),
        (lambda p: p.pop("meta"), "“meta” is missing"),
    ],
)
def test_what_cannot_be_is_refused(change, words):
    with pytest.raises(SourceError, match=words):
        parse(changed(change), oslo())


def test_all_in_the_past_is_no_forecast():
    with pytest.raises(SourceError, match="no forecast for today or later"):
        parse(BODY, oslo("2026-12-24T10:00"))


def test_it_asks_with_four_decimals_and_the_height():
    service = Service({"https://api.met.no/": BODY})
    assert fetch(oslo(), service) == parse(BODY, oslo())
    assert service.asked == [(address(oslo()), True)]
    assert address(place(at=(-0.123456, 36.7), height=-4.6)).endswith(
        "/locationforecast/2.0/complete?lat=-0.1235&lon=36.7000&altitude=-5"
    )
