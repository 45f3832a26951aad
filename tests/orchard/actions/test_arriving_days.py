"""What a forecast leaves behind: one batch a day, kept whole or not at all."""

from datetime import UTC, date, datetime, timedelta

import pytest

from orchard.actions.arriving_days import (
    keep_days,
    keep_warnings,
    known_days,
    thin_forecasts,
)
from orchard.models import OfficialWarning, WeatherBatch, WeatherDay, WeatherSeries
from orchard.sources.arriving import ForecastDay, IssuedWarning
from orchard.sources.problems import SourceError

TODAY = date(2026, 3, 2)
NOW = datetime(2026, 3, 2, 18, 0, tzinfo=UTC)
DAY = timedelta(days=1)


@pytest.fixture
def series(db):
    return WeatherSeries.objects.create(
        kind="forecast", source="us", cell="1,2,0,UTC", name="A service"
    )


def days(count=3, first=TODAY, **values):
    usual = {"tmin_c": 3.0, "tmax_c": 12.0, "rain_mm": 1.5}
    return [
        ForecastDay(first + DAY * number, **{**usual, **values})
        for number in range(count)
    ]


def stored(series, *names):
    rows = WeatherDay.objects.filter(batch__series=series).order_by("issued_on", "day")
    return list(rows.values_list(*(names or ("issued_on", "day", "tmin_c"))))


def test_each_day_to_come_is_kept_with_the_day_it_was_forecast(series):
    values = {"gust_ms": 14.0, "humidity_percent": 80.0, "et0_mm": 2.0}
    assert keep_days(series=series, days=days(2, **values), today=TODAY)
    row = WeatherDay.objects.get(day=TODAY + DAY)
    assert row.issued_on == TODAY
    assert (row.tmin_c, row.tmax_c, row.rain_mm) == (3.0, 12.0, 1.5)
    assert (row.gust_ms, row.humidity_percent, row.et0_mm) == (14.0, 80.0, 2.0)
    assert row.radiation_mj is None


def test_a_later_answer_of_the_day_takes_the_earlier_ones_place(series):
    keep_days(series=series, days=days(5), today=TODAY)
    keep_days(series=series, days=days(2, tmin_c=-1.0), today=TODAY)
    assert WeatherBatch.objects.count() == 1
    assert stored(series) == [(TODAY, TODAY, -1.0), (TODAY, TODAY + DAY, -1.0)]


def test_another_days_answer_stands_beside_it(series):
    keep_days(series=series, days=days(2), today=TODAY)
    keep_days(series=series, days=days(2, first=TODAY + DAY), today=TODAY + DAY)
    assert [row[0] for row in stored(series)] == [TODAY] * 2 + [TODAY + DAY] * 2


def test_a_forecast_for_yesterday_is_left_out(series):
    keep_days(series=series, days=days(4, first=TODAY - 2 * DAY), today=TODAY)
    assert [row[1] for row in stored(series)] == [TODAY, TODAY + DAY]


def test_a_forecast_of_the_past_alone_changes_nothing(series):
    keep_days(series=series, days=days(2), today=TODAY)
    before = stored(series)
    with pytest.raises(SourceError, match="no forecast for today or later"):
        keep_days(series=series, days=days(2, first=TODAY - 5 * DAY), today=TODAY)
    assert stored(series) == before


@pytest.mark.parametrize(
    "strange",
    [
        days(1, tmin_c=99.9, tmax_c=99.9),
        days(1, tmin_c=float("nan")),
        days(1, rain_mm=-3.0),
        days(1, rain_mm=900.0),
        days(1, tmin_c=15.0, tmax_c=3.0),
        days(1, humidity_percent=900.0),
        days(1, gust_ms=400.0),
        days(1) + days(1),
    ],
)
def test_one_strange_value_and_nothing_of_the_answer_is_kept(series, strange):
    keep_days(series=series, days=days(3), today=TODAY)
    before = stored(series)
    rest = days(3, first=TODAY + DAY, tmin_c=0.0)
    with pytest.raises(SourceError):
        keep_days(series=series, days=strange + rest, today=TODAY)
    assert stored(series) == before


def test_what_the_evening_does_not_say_of_today_stays_as_of_the_morning(series):
    keep_days(series=series, days=days(2), today=TODAY)
    evening = [ForecastDay(TODAY, tmin_c=1.0, hours=5), *days(1, first=TODAY + DAY)]
    keep_days(series=series, days=evening, today=TODAY)
    keep_days(series=series, days=days(1, first=TODAY + DAY), today=TODAY)
    row = WeatherDay.objects.get(day=TODAY)
    assert (row.tmin_c, row.tmax_c, row.rain_mm) == (1.0, 12.0, 1.5)


def test_a_warmer_evening_low_than_the_mornings_high_holds_both(series):
    keep_days(series=series, days=days(1, tmin_c=-2.0, tmax_c=1.0), today=TODAY)
    keep_days(series=series, days=[ForecastDay(TODAY, tmin_c=2.0)], today=TODAY)
    row = WeatherDay.objects.get(day=TODAY)
    assert (row.tmin_c, row.tmax_c) == (1.0, 2.0)


def test_whether_anything_is_different_is_told(series):
    assert keep_days(series=series, days=days(3), today=TODAY)
    assert not keep_days(series=series, days=days(3), today=TODAY)
    assert keep_days(series=series, days=days(3, rain_mm=9.0), today=TODAY)
    # The same again the day after is nothing new, though a batch of its own.
    tomorrow = days(2, first=TODAY + DAY, rain_mm=9.0)
    assert not keep_days(series=series, days=tomorrow, today=TODAY + DAY)
    assert WeatherBatch.objects.count() == 2


def test_the_newest_word_on_each_value_is_what_is_known(series):
    keep_days(series=series, days=days(3), today=TODAY)
    newer = [ForecastDay(TODAY + DAY, tmin_c=-4.0)]
    keep_days(series=series, days=newer, today=TODAY + DAY)
    assert known_days(series, TODAY + DAY) == {
        TODAY + DAY: {"tmin_c": -4.0, "tmax_c": 12.0, "rain_mm": 1.5},
        TODAY + 2 * DAY: {"tmin_c": 3.0, "tmax_c": 12.0, "rain_mm": 1.5},
    }


def test_what_was_said_of_today_on_other_days_stays_too(series):
    """A computer that is switched on in the evenings alone."""
    keep_days(series=series, days=days(3, first=TODAY - DAY), today=TODAY - DAY)
    evening = [ForecastDay(TODAY, tmin_c=1.0, hours=5), *days(1, first=TODAY + DAY)]
    keep_days(series=series, days=evening, today=TODAY)
    row = WeatherDay.objects.get(day=TODAY, issued_on=TODAY)
    assert (row.tmin_c, row.tmax_c, row.rain_mm) == (1.0, 12.0, 1.5)


def test_of_old_forecasts_mondays_stay_whole_and_others_say_their_own_day(series):
    monday = date(2025, 1, 6)
    for number in range(8):
        issued = monday + DAY * number
        keep_days(series=series, days=days(3, first=issued), today=issued)
    # Two days ahead of each of Tuesday to Friday; what follows is not old yet.
    assert thin_forecasts(series=series, today=monday + timedelta(days=405)) == 8
    left = [(issued, (day - issued).days) for issued, day, _ in stored(series)]
    assert left == [
        *((monday, ahead) for ahead in range(3)),
        *((monday + DAY * number, 0) for number in range(1, 5)),
        *((monday + DAY * n, ahead) for n in range(5, 8) for ahead in range(3)),
    ]


def warning(identifier="urn:1", **values):
    usual = {
        "event": "Frost Advisory",
        "sent_at": NOW,
        "begins_at": NOW + timedelta(hours=6),
        "ends_at": NOW + timedelta(hours=14),
        "expires_at": NOW + timedelta(hours=14),
        "headline": "Frost tonight",
    }
    return IssuedWarning(identifier, **{**usual, **values})


def test_a_warning_is_kept_once_however_often_it_is_listed(series):
    assert keep_warnings(series=series, warnings=[warning()], now=NOW)
    assert not keep_warnings(series=series, warnings=[warning()], now=NOW)
    assert OfficialWarning.objects.get().headline == "Frost tonight"


def test_a_warning_that_changes_changes(series):
    keep_warnings(series=series, warnings=[warning()], now=NOW)
    changed = warning(headline="Hard frost tonight")
    assert keep_warnings(series=series, warnings=[changed], now=NOW)
    assert OfficialWarning.objects.get().headline == "Hard frost tonight"


def test_a_warning_that_is_listed_no_longer_is_withdrawn_and_may_come_back(series):
    keep_warnings(series=series, warnings=[warning(), warning("urn:2")], now=NOW)
    assert keep_warnings(series=series, warnings=[warning("urn:2")], now=NOW + DAY / 24)
    gone = OfficialWarning.objects.get(identifier="urn:1")
    assert gone.withdrawn_at == NOW + DAY / 24
    assert keep_warnings(series=series, warnings=[warning()], now=NOW + DAY / 12)
    gone.refresh_from_db()
    assert gone.withdrawn_at is None


def test_a_warning_whose_time_is_over_is_not_called_withdrawn(series):
    keep_warnings(series=series, warnings=[warning()], now=NOW)
    assert not keep_warnings(series=series, warnings=[], now=NOW + DAY)
    assert OfficialWarning.objects.get().withdrawn_at is None


def test_endless_texts_are_cut_to_what_their_field_holds(series):
    long = warning("x" * 500, text="a\0b" * 9000, event="E" * 300)
    keep_warnings(series=series, warnings=[long], now=NOW)
    kept = OfficialWarning.objects.get()
    kept.full_clean(exclude=["withdrawn_at"])
    assert kept.text.startswith("abab")
