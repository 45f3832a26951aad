"""Pots are planted in mild weather: tender ones once nights stay warm."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import MonthDay
from care.science.pot_times import NIGHT_IN_TEN, is_whole_year, mild_times
from tests.care.rules.cases import MILD, WARM, orange, species
from tests.care.science.planting_places import SEATTLE_YEAR, climate, seattle

TODAY = date(2015, 7, 2)
APPLE, ORANGE = species(), orange(move_in_temp_c=4.0)


def now(kind, year, site=MILD, today=TODAY):
    return next(
        time for time in mild_times(kind, site, year, today) if time.end >= today
    )


def test_tender_pots_go_out_once_nine_nights_in_ten_stay_above_where_they_come_in():
    found = now(ORANGE, SEATTLE_YEAR)
    record = seattle()
    nights = [
        record.tmin_c[record.index(found.start.replace(year=year)) :][:180]
        for year in range(2012, 2016)
    ]
    warm = np.mean(np.concatenate(nights) > ORANGE.move_in_temp_c)
    assert warm > 0.9
    before = found.start - timedelta(days=30)
    cold = [
        record.tmin_c[record.index(before.replace(year=year)) :][:30]
        for year in range(2012, 2016)
    ]
    assert np.mean(np.concatenate(cold) <= ORANGE.move_in_temp_c) > 0.1
    assert found.start.month in (4, 5)
    assert found.end.month in (10, 11)


def test_a_night_in_ten_is_that_much_colder_than_usual():
    # Standard normal, one tail of 0.1: 1.2816 (any table of the distribution).
    assert pytest.approx(1.2816, abs=0.002) == NIGHT_IN_TEN


def test_hardy_pots_wait_only_for_freezing_nights_to_end():
    hardy, tender = now(APPLE, SEATTLE_YEAR), now(ORANGE, SEATTLE_YEAR)
    assert hardy.start < tender.start
    assert hardy.end > tender.end
    unknown = now(replace(ORANGE, move_in_temp_c=None), SEATTLE_YEAR)
    assert (unknown.start, unknown.end) == (date(2015, 3, 21), hardy.end)


def test_tender_pots_wait_for_the_last_frost_of_nine_years_in_ten():
    late = replace(MILD, safe_last_frost=MonthDay(5, 20))
    assert now(ORANGE, SEATTLE_YEAR, late).start == date(2015, 5, 21)
    assert now(APPLE, SEATTLE_YEAR, late) == now(APPLE, SEATTLE_YEAR)


def test_where_it_is_always_mild_one_time_holds_the_whole_year():
    (time,) = mild_times(ORANGE, WARM, climate(23.0, 2.0), TODAY)
    assert is_whole_year(time)
    assert not is_whole_year(now(ORANGE, SEATTLE_YEAR))


def test_heat_and_cold_nights_leave_no_time_at_all():
    cacao = orange(move_in_temp_c=15.0)
    assert mild_times(cacao, MILD, SEATTLE_YEAR, TODAY) == []
    assert mild_times(APPLE, WARM, climate(32.0, 3.0), TODAY) == []


def test_a_time_may_run_over_new_year_and_a_leap_day():
    # Hot summers and mild winters: pots are planted in the cool half of the year.
    desert = climate(24.0, 10.0)
    found = now(APPLE, desert, WARM, date(2024, 2, 29))
    assert found.start.year == 2023
    assert found.end.year == 2024
    assert found.start < date(2024, 2, 29) <= found.end
    following = now(APPLE, desert, WARM, found.end + timedelta(days=1))
    assert abs((following.start - found.start).days - 366) <= 1
