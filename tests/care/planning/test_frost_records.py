"""What a site's own thermometer teaches: evenings, pairs, the cold spot."""

from datetime import date, timedelta

import numpy as np
import pytest

from care.actions.logbook import forget_cold_pocket
from care.actions.tasks import take_back
from care.planning.frost_records import (
    Evening,
    frost_nights,
    logged_evenings,
    night_pairs,
    typed_minima,
)
from care.planning.gather import gather
from orchard.actions.weather import import_days, read_series, type_reading
from orchard.models import FrostEvening, WeatherBatch, WeatherDay, WeatherSeries
from tests.care.actions.test_holds import NOW
from tests.conftest import TODAY

DAY = timedelta(days=1)
NIGHTS = [TODAY - n * DAY for n in range(9, 0, -1)]


def type_minimum(site, day, minimum_c):
    type_reading(site=site, day=day, values={"tmin_c": minimum_c}, person=None)


def station(site, minima):
    days = [(day, {"tmin_c": low}) for day, low in minima.items()]
    import_days(site=site, days=days, label="station", person=None)


def forecast(site, day, issued_on, minimum_c):
    series = WeatherSeries.objects.create(owner=site, kind="forecast", name="Forecast")
    read_series(site=site, series=series)
    batch = WeatherBatch.objects.create(series=series, label="Forecast")
    WeatherDay.objects.create(
        batch=batch, day=day, issued_on=issued_on, tmin_c=minimum_c
    )


def pairs_of(site, today=TODAY):
    return night_pairs(site, today, typed_minima(site, today))


def test_an_evening_is_joined_with_the_minimum_of_the_next_morning():
    evenings = [Evening(date(2025, 1, 5), 3.0, -2.0), Evening(date(2025, 1, 8), 2, -1)]
    minima = {date(2025, 1, 5): 9.0, date(2025, 1, 6): -1.5}
    nights = frost_nights(evenings, minima)
    assert nights is not None
    assert (nights.evening_c, nights.dew_point_c, nights.minimum_c) == (
        (3.0,),
        (-2.0,),
        (-1.5,),
    )


def test_an_evening_without_its_morning_teaches_nothing():
    assert frost_nights([Evening(date(2025, 1, 5), 3.0, -2.0)], {}) is None


def test_evenings_to_come_are_not_known_yet(site):
    for on in (TODAY + DAY, TODAY, TODAY - DAY):
        FrostEvening.objects.create(site=site, on=on, air_c=3.0, dew_point_c=-1.0)
    days = [evening.on for evening in logged_evenings(site, TODAY)]
    assert days == [TODAY - DAY, TODAY]


def test_only_minima_read_here_count_as_the_places_own(site):
    station(site, {NIGHTS[0]: 1.0})
    type_minimum(site, NIGHTS[1], -1.0)
    type_minimum(site, TODAY + DAY, -9.0)
    assert typed_minima(site, TODAY) == {NIGHTS[1]: -1.0}


def test_a_typed_minimum_is_paired_with_the_stations_of_the_same_night(site):
    station(site, {NIGHTS[0]: 1.0, NIGHTS[1]: 2.0})
    type_minimum(site, NIGHTS[0], -1.0)
    pairs = pairs_of(site)
    assert pairs.nights == (NIGHTS[0],)
    assert (pairs.spot_c.tolist(), pairs.reference_c.tolist()) == ([-1.0], [1.0])


def test_where_no_station_read_the_newest_forecast_before_the_night_stands(site):
    night = NIGHTS[3]
    type_minimum(site, night, -2.0)
    forecast(site, night, night - 2 * DAY, 3.0)
    forecast(site, night, night - DAY, 1.5)
    forecast(site, night, night, 0.0)  # made that morning: no forecast of the night
    assert pairs_of(site).reference_c.tolist() == [1.5]
    station(site, {night: 0.5})
    assert pairs_of(site).reference_c.tolist() == [0.5]


def test_another_sites_station_is_not_ours(site, cast):
    elsewhere = cast.stranger.orchards.get().sites.get()
    station(elsewhere, {NIGHTS[0]: 1.0})
    type_minimum(site, NIGHTS[0], -1.0)
    assert pairs_of(site).nights == ()


def test_the_cold_spot_is_learned_from_enough_cold_nights(site):
    for night in NIGHTS[:4]:
        type_minimum(site, night, -2.5)
    station(site, dict.fromkeys(NIGHTS, 0.5))
    site.refresh_from_db()
    assert gather(site, TODAY).site.cold_pocket is None
    type_minimum(site, NIGHTS[4], -2.5)
    pocket = gather(site, TODAY).site.cold_pocket
    assert pocket is not None
    # 0.5 - (-2.5) on every one of five nights.
    assert (pocket.offset_c, pocket.nights) == (pytest.approx(3.0), 5)


def test_a_forgotten_cold_spot_is_learned_anew_and_comes_back_once_undone(site):
    for night in NIGHTS[:5]:
        type_minimum(site, night, -2.5)
    station(site, dict.fromkeys(NIGHTS, 0.5))
    entry = forget_cold_pocket(site=site, person=None, on=NIGHTS[0], now=NOW)
    site.refresh_from_db()
    assert gather(site, TODAY).site.cold_pocket is None  # four nights are left
    assert take_back(entry=entry, person=None, now=NOW)
    assert gather(site, TODAY).site.cold_pocket.nights == 5
    assert len(pairs_of(site).after(NIGHTS[0]).nights) == 4
    assert pairs_of(site).after(None).nights == pairs_of(site).nights


def test_pairs_are_of_one_length_whatever_is_missing(site):
    station(site, {night: (None if n % 2 else 1.0) for n, night in enumerate(NIGHTS)})
    for night in NIGHTS[2:]:
        type_minimum(site, night, 0.0)
    pairs = pairs_of(site)
    assert pairs.spot_c.shape == pairs.reference_c.shape == (len(pairs.nights),)
    assert not np.isnan(pairs.reference_c).any()
    assert pairs.nights == (NIGHTS[2], NIGHTS[4], NIGHTS[6], NIGHTS[8])
