from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from orchard.sources.problems import SourceError
from orchard.sources.station_columns import (
    Clock,
    ColumnChoice,
    ColumnMapping,
    ColumnUnit,
    RainMode,
    StationQuantity as Q,
    guess_mapping,
)
from orchard.sources.station_csv import parse_days, read_table
from orchard.sources.station_rows import with_rows_guessed

TODAY = date(2026, 6, 10)
BERLIN = ZoneInfo("Europe/Berlin")
HEAD = "date,time,temp_c,rain_mm\n"


def rows(
    begin, count, step=1.0, rain=lambda number: 0.0, temp=lambda number: 15 + number % 3
):
    """Return a table of rows on a clock that never changes."""
    at = datetime.fromisoformat(begin)
    lines = []
    for number in range(count):
        moment = at + timedelta(hours=step * number)
        lines.append(f"{moment:%Y-%m-%d,%H:%M},{temp(number)},{rain(number)}")
    return HEAD + "\n".join(lines)


def folded(text, today=TODAY, zone=BERLIN, head=HEAD, **choice):
    table = read_table(text.encode())
    mapping = with_rows_guessed(table, guess_mapping(table.header))
    assert mapping.is_several
    kept = {"clock": Clock.UTC} | choice
    columns = kept.pop("columns", mapping.columns)
    mapping = ColumnMapping(columns, is_several=True, **kept)
    return parse_days(table, mapping, today, zone)


def of_day(found, day):
    return next(each for each in found.days if each.day == day)


def test_hours_become_the_days_of_the_place():
    # Local midnight is 22:00 UTC; a row tells of the hour up to it.
    text = rows(
        "2026-06-01 23:00",
        48,
        rain=lambda number: 1.0 if number in {23, 24} else 0.0,
        temp=lambda number: 10 + number % 24,
    )
    found = folded(text)
    first = of_day(found, date(2026, 6, 2))
    assert (first.tmin_c, first.tmax_c, first.rain_mm) == (10.0, 33.0, pytest.approx(1))
    assert of_day(found, date(2026, 6, 3)).rain_mm == pytest.approx(1.0)
    assert found.problems == ()


def test_a_day_of_few_rows_is_left_out_and_counted():
    found = folded(rows("2026-06-01 23:00", 43))
    assert [each.day.day for each in found.days] == [2]
    assert found.thin_days == 1
    # Of nearly all of its hours a day is known; today is not over.
    assert [each.day.day for each in folded(rows("2026-06-01 23:00", 44)).days] == [
        2,
        3,
    ]
    assert folded(rows("2026-06-01 23:00", 44), date(2026, 6, 3)).thin_days == 0


def test_a_temperature_that_stands_alone_is_left_out_and_counted():
    def with_a_spike(number):
        return -10.5 if number == 12 else 15 + number % 5

    found = folded(rows("2026-06-01 23:00", 24, temp=with_a_spike))
    assert (found.days[0].tmin_c, found.doubted) == (15.0, 1)


def test_every_five_minutes_are_a_day_too():
    found = folded(
        rows("2026-06-01 22:05", 288, 1 / 12, lambda _: 0.1, lambda number: number % 7)
    )
    assert found.days[0].rain_mm == pytest.approx(28.8)


def test_rows_too_far_apart_are_told():
    found = folded(
        "date,time,temp_c\n2026-06-01,00:00,1\n2026-06-01,06:00,2\n2026-06-01,12:00,3\n"
    )
    assert "more than 3 hours apart" in str(found.problems[0])


class TestRainThatKeepsCounting:
    def test_since_midnight(self):
        # On the site's own clock: 0.5 mm an hour, the count begins anew at midnight.
        text = rows("2026-06-01 23:00", 48, rain=lambda number: (number % 24 + 1) * 0.5)
        found = folded(text, rain_mode=RainMode.SINCE_MIDNIGHT)
        assert [each.rain_mm for each in found.days] == [
            pytest.approx(12.0),
            pytest.approx(12.0),
        ]

    def test_a_first_count_at_midnight_tells_of_no_day(self):
        text = rows("2026-06-01 22:00", 25, rain=lambda number: number % 24 * 0.5)
        found = folded(text, rain_mode=RainMode.SINCE_MIDNIGHT)
        # What fell in the last hour is lost where the count is set back on the stroke.
        assert [(each.day.day, each.rain_mm) for each in found.days] == [(2, 11.5)]

    def test_for_months(self):
        text = rows("2026-06-01 22:00", 49, rain=lambda number: 900 + number * 0.5)
        found = folded(text, rain_mode=RainMode.TOTAL)
        assert [each.rain_mm for each in found.days] == [
            pytest.approx(12.0),
            pytest.approx(12.0),
        ]
        assert found.problems == ()

    def test_a_gauge_that_is_set_back_starts_again(self):
        def emptied(number):
            return 20.0 + number if number < 12 else number - 11.0

        found = folded(
            rows("2026-06-01 22:00", 25, rain=emptied), rain_mode=RainMode.TOTAL
        )
        # From 20 to 31, then from 0 to 13.
        assert found.days[0].rain_mm == pytest.approx(11.0 + 13.0)

    @pytest.mark.parametrize(("grown", "known"), [(0.0, 0.0), (9.0, None)])
    def test_rain_in_a_hole_across_midnight_is_no_days_own(self, grown, known):
        text = rows(
            "2026-06-01 22:00", 49, rain=lambda n: 5.0 + (grown if n > 24 else 0)
        )
        lines = text.splitlines()
        del lines[23:27]
        found = folded("\n".join(lines), rain_mode=RainMode.TOTAL)
        assert [each.rain_mm for each in found.days] == [known, known]

    def test_a_hole_within_a_day_keeps_its_rain(self):
        lines = rows("2026-06-01 22:00", 25, rain=float).splitlines()
        del lines[8:18]
        found = folded("\n".join(lines), rain_mode=RainMode.TOTAL)
        assert found.days[0].rain_mm == pytest.approx(24.0)
        assert found.days[0].tmin_c is None

    def test_a_hole_over_midnight_leaves_today_known(self):
        text = rows("2026-06-01 23:00", 48, rain=lambda number: (number % 24 + 1) * 0.5)
        lines = text.splitlines()
        del lines[18:28]
        found = folded("\n".join(lines), rain_mode=RainMode.SINCE_MIDNIGHT)
        # Seven hours of the day before are missing, so nothing of it is known.
        assert [(each.day.day, each.rain_mm) for each in found.days] == [
            (3, pytest.approx(12.0))
        ]

    def test_less_than_nothing_is_refused(self):
        text = rows("2026-06-01 22:00", 3, rain=lambda _: -0.2)
        found = folded(text, rain_mode=RainMode.TOTAL)
        assert str(found.problems[0]).startswith("Line 2, rain_mm: -0.2 mm is not")

    def test_more_than_any_day_has_is_refused(self):
        text = rows("2026-06-01 23:00", 24, rain=lambda _: 30.0)
        assert "2026-06-02: 720.0 mm is not possible" in str(folded(text).problems[0])

    def test_day_by_day_too(self):
        text = (
            "date,tmin,tmax,rain_mm\n2026-06-01,1,2,700\n2026-06-02,1,2,712\n"
            "2026-06-03,1,2,3\n2026-06-05,1,2,4\n2026-06-06,1,2,4\n"
        )
        table = read_table(text.encode())
        mapping = ColumnMapping(
            guess_mapping(table.header).columns, rain_mode=RainMode.TOTAL
        )
        found = parse_days(table, mapping, TODAY)
        assert [each.rain_mm for each in found.days] == [None, 12.0, 3.0, None, 0.0]
        assert found.problems == ()


class TestClocksThatChange:
    def table(self, lines):
        return "date,time,temp_c\n" + "\n".join(lines)

    def test_the_hour_that_comes_twice(self):
        # 25 October 2026 in Berlin: from 3:00 back to 2:00 (tz database).
        hours = ["00", "01", "02", "02", *[f"{hour:02}" for hour in range(3, 24)]]
        lines = [f"2026-10-25,{hour}:30,{n}" for n, hour in enumerate(hours)]
        found = folded(self.table(lines), date(2026, 10, 26), clock=Clock.LOCAL)
        assert found.problems == ()
        assert (found.days[0].tmin_c, found.days[0].tmax_c) == (0.0, 24.0)
        backwards = folded(
            self.table(lines[::-1]), date(2026, 10, 26), clock=Clock.LOCAL
        )
        assert backwards == found

    def test_the_hour_that_is_left_out_asks_for_the_clock(self):
        lines = [f"2026-03-29,{hour:02}:30,{hour}" for hour in range(24)]
        found = folded(self.table(lines), clock=Clock.LOCAL)
        assert str(found.problems[0]).startswith("Line 4, date: 2026-03-29 02:30 was")
        assert "keep winter time all year?" in str(found.problems[0])
        assert folded(self.table(lines), clock=Clock.WINTER).problems == ()

    def test_twice_the_same_time_otherwise_is_a_mistake(self):
        lines = ["2026-06-01,01:00,1", "2026-06-01,02:00,1", "2026-06-01,02:00,2"]
        found = folded(self.table(lines), clock=Clock.LOCAL)
        assert "2026-06-01 02:00 is on line 3 already" in str(found.problems[0])

    @pytest.mark.parametrize(
        ("time", "words"),
        [
            ("25:00", "not a time"),
            ("13:00 PM", "not a time"),
            ("late", "not a time"),
            ("12:00+99:00", "no time zone"),
        ],
    )
    def test_what_is_no_time(self, time, words):
        found = folded(self.table(["2026-06-01,00:00,1", f"2026-06-01,{time},2"]))
        assert words in str(found.problems[0])

    @pytest.mark.parametrize(
        "time", ["1:05 pm", "13:05", "1305", "13:05:00", "11:05Z", "14:05+03:00"]
    )
    def test_ways_to_write_five_past_one(self, time):
        # Berlin is two hours ahead of UTC in June.
        lines = [f"2026-06-01,{time},2", "2026-06-01,13:05,2"]
        found = folded(self.table(lines), clock=Clock.LOCAL)
        assert "2026-06-01 13:05 is on line 2 already" in str(found.problems[0])

    def test_the_last_midnight_is_that_days(self):
        found = folded(
            self.table([f"2026-06-01,{hour}:00,{hour}" for hour in range(1, 25)]),
            clock=Clock.LOCAL,
        )
        assert [(each.day.day, each.tmax_c) for each in found.days] == [(1, 24.0)]

    def test_the_day_after_today_is_to_come(self):
        found = folded(self.table(["2026-06-12,01:00,1", "2026-06-12,02:00,1"]))
        assert "still to come; today is 2026-06-10" in str(found.problems[0])


def test_wind_humidity_and_sunshine_are_means_or_sums():
    at = datetime(2026, 6, 1, 23, tzinfo=UTC)
    times = [at + timedelta(hours=number) for number in range(24)]
    lines = ["dateutc,temp_c,humidity,wind_ms,solar_w_m2,et0_mm"]
    lines += [
        f"{time:%Y-%m-%d %H:%M},{number},80,4,250,{0.1 * (number % 2)}"
        for number, time in enumerate(times)
    ]
    table = read_table("\n".join(lines).encode())
    guess = with_rows_guessed(table, guess_mapping(table.header))
    assert (guess.is_several, guess.clock) == (True, Clock.UTC)
    mapping = ColumnMapping(
        guess.columns, is_several=True, clock=Clock.UTC, wind_height_m=10.0
    )
    (day,) = parse_days(table, mapping, TODAY, BERLIN).days
    assert (day.humidity_percent, day.radiation_mj) == (80.0, pytest.approx(21.6))
    # FAO-56, equation 47: from 10 m down to 2 m, times 0.748.
    assert day.wind_ms == pytest.approx(4 * 0.748, abs=0.005)
    assert (day.et0_mm, day.rain_mm) == (pytest.approx(1.2), None)
    in_energy = {**guess.columns, Q.RADIATION: ColumnChoice(4, ColumnUnit.MEGAJOULES)}
    text = "\n".join(lines).replace(",250,", ",0.9,")
    (summed,) = folded(text, columns=in_energy).days
    assert summed.radiation_mj == pytest.approx(21.6)


def test_extremes_of_each_row_count_where_there_are_some():
    text = "date,time,tmin,tmax\n" + "\n".join(
        f"2026-06-02,{hour:02}:00,{hour},{hour + 5}" for hour in range(1, 23)
    )
    found = folded(text, clock=Clock.LOCAL)
    assert (found.days[0].tmin_c, found.days[0].tmax_c) == (1.0, 27.0)
    swapped = folded(text.replace(",4,9", ",9,4"), clock=Clock.LOCAL)
    assert "the high, 4.0 °C, is below the low" in str(swapped.problems[0])


def test_the_same_day_twice_without_a_time_is_no_row_of_hours():
    table = read_table(b"date,tmin,tmax,rain\n2026-06-01,1,2,3\n2026-06-01,1,2,3\n")
    assert not with_rows_guessed(table, guess_mapping(table.header)).is_several
    with pytest.raises(SourceError, match="Say which column holds the temperature"):
        parse_days(
            table,
            ColumnMapping({Q.DATE: ColumnChoice(0, ColumnUnit.NONE)}, is_several=True),
            TODAY,
        )
