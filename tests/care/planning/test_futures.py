"""How the weather may go on: past years first, made-up ones where those are few."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import SiteFacts
from care.planning.futures import (
    COURSES,
    from_the_middle,
    imagine_futures,
    past_years,
    site_seed,
)
from care.planning.site_weather import judge_weather
from tests.care.planning.water_cases import FIRST, SITE, normals, weather

JULY = date(2015, 7, 1)


def imagined(series, today=JULY, days=60, site=SITE):
    weather_days, futures = imagine_futures(
        site,
        series,
        judge_weather(site, series),
        today_index=series.index(today),
        horizon_days=days,
    )
    return weather_days, futures


def many_years(years, today=JULY):
    """Return a record as long as asked for, the same year again and again."""
    read = round(365.25 * years) + 30
    start = today - timedelta(days=max(read, 400))
    series = normals(today)
    back = np.arange((today - start).days + 150)
    place = (back + (start - series.start).days) % 365
    known = (today - start).days
    return replace(
        series,
        start=start,
        tmin_c=series.tmin_c[place],
        tmax_c=series.tmax_c[place],
        rain_mm=series.rain_mm[place],
        origin="n" * (known - read) + "o" * read + "n" * 150,
    )


@pytest.mark.parametrize(
    ("years", "members", "generated"),
    [(0, 30, 30), (1, 30, 25), (2, 30, 20), (4, 30, 10), (5, 25, 0), (9, 45, 0)],
)
def test_made_up_years_fill_up_what_few_real_ones_leave(years, members, generated):
    # Each real year stands five times, moved by up to ten days.
    _days, futures = imagined(many_years(years))
    assert futures.past_years == years
    assert (len(futures.picks), futures.generated) == (members, generated)
    assert futures.is_ensemble


def test_ten_real_years_stand_by_themselves():
    _days, futures = imagined(many_years(11))
    assert futures.members.past_years == len(futures.picks) == 11
    assert futures.generated == 0
    assert not futures.members.is_coarse


def test_the_forecast_is_the_same_in_every_course():
    series = weather(JULY)
    _days, futures = imagined(series)
    first = series.index(JULY)
    near = futures.picks[:, :5]
    assert (near == np.arange(first, first + 5)).all()
    assert len(np.unique(futures.picks[:, 5])) == len(futures.picks)


def test_only_earlier_days_that_were_observed_stand_for_others():
    series = weather(JULY)
    today_index = series.index(JULY)
    ahead = today_index + np.arange(60)
    past = past_years(series, ahead, today_index)
    assert past.picks.max() < today_index
    assert past.years == 3
    gap = series.rain_mm.copy()
    gap[series.index(date(2013, 7, 20))] = np.nan
    assert past_years(replace(series, rain_mm=gap), ahead, today_index).years == 2


def test_days_behind_the_series_are_the_made_up_ones():
    series = normals(JULY)
    days, futures = imagined(series)
    assert futures.picks.min() >= len(series)
    assert futures.picks.max() == len(days.et0_mm) - 1
    assert len({len(getattr(days, n)) for n in ("et0_mm", "rain_mm", "warmth")}) == 1
    courses = days.storm_mm[futures.picks]
    # Real storms and dry spells, and the usual rain of Seattle's July and August.
    assert courses.max() > 10
    assert (courses == 0).mean() > 0.7
    usual = series.rain_mm[series.index(JULY) :][:60].mean()
    assert courses.mean() == pytest.approx(usual, rel=0.35)
    assert not days.is_rain_known[futures.picks].any()
    warm = days.et0_mm[futures.picks].mean()
    assert warm == pytest.approx(
        days.et0_mm[series.index(JULY) :][:60].mean(), rel=0.06
    )


def test_tomorrow_sees_the_made_up_weather_of_today():
    def rain(today):
        series = normals(JULY)
        days, futures = imagined(series, today)
        return days.storm_mm[futures.picks]

    tomorrow = JULY + timedelta(days=1)
    assert np.array_equal(rain(JULY)[:, 1:], rain(tomorrow)[:, :-1])


def test_the_most_ordinary_course_comes_first():
    days, futures = imagined(normals(JULY))
    order = from_the_middle(days, futures)
    assert sorted(order) == list(range(30))
    rain = days.rain_mm[futures.picks].sum(axis=1)
    ranks = rain.argsort().argsort()
    assert 8 <= ranks[order[0]] <= 21
    assert {ranks[order[-1]], ranks[order[-2]]} & {0, 1, 28, 29}


def test_made_up_cold_spells_freeze_the_ground():
    january = date(2015, 1, 5)
    series = normals(january)
    cold = replace(series, tmin_c=series.tmin_c - 7, tmax_c=series.tmax_c - 7)
    days, futures = imagined(cold, january, days=20)
    assert 0.2 < days.is_frozen[futures.picks].mean() < 1


def test_places_differ_and_a_place_stays_the_same():
    here = replace(SITE, soil_texture="sand")
    assert site_seed(here) == site_seed(SITE)
    assert site_seed(replace(SITE, latitude_deg=-47.45)) != site_seed(SITE)
    assert site_seed(SiteFacts(-90.0, -1200.0, "loam")) == 0


def test_where_not_even_the_climate_is_known_the_series_goes_on_by_itself():
    series = normals(JULY)
    first = series.index(JULY) - 20
    short = replace(
        series,
        start=JULY - timedelta(days=20),
        tmin_c=series.tmin_c[first:],
        tmax_c=np.full(len(series) - first, np.nan),
        rain_mm=series.rain_mm[first:],
        et0_mm=np.full(len(series) - first, 3.0),
        origin="o" * 20 + series.origin[first + 20 :],
    )
    known = replace(short, tmax_c=series.tmax_c[first:])
    _days, futures = imagine_futures(
        SITE, short, judge_weather(SITE, known), today_index=20, horizon_days=60
    )
    assert futures.picks.shape == (1, 61)
    assert not futures.is_ensemble


def test_where_all_is_known_there_is_one_course():
    series = weather(JULY, days_ahead=5, start=FIRST)
    days, futures = imagined(series)
    assert futures.picks.shape == (1, 5)
    assert not futures.is_ensemble
    assert len(days.et0_mm) == len(series)
    assert futures.members.count == 1
    assert COURSES > futures.members.generated == 0
