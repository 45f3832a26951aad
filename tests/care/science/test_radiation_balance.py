"""Radiation that comes, is kept and leaves: FAO-56 Examples 10-12, 15-18, 20, Table 2.8."""

import pytest

from care.science.evapotranspiration import (
    ALBEDO,
    clear_sky_radiation_mj,
    net_radiation_mj,
    radiation_from_sunshine_mj,
    radiation_from_temperatures_mj,
    saturation_vapour_pressure_kpa,
    vapour_pressure_from_extreme_humidity_kpa,
)
from care.science.sun import daylight_hours, extraterrestrial_radiation_mj

COAST_ADJUSTMENT = 0.19


def balance(*, tmin, tmax, ea, received, clear):
    """Return what is kept of the short waves, what leaves by long ones, and the net."""
    net = net_radiation_mj(
        tmin_c=tmin,
        tmax_c=tmax,
        vapour_pressure_kpa=ea,
        radiation_mj=received,
        clear_sky_mj=clear,
    )
    kept = (1 - ALBEDO) * received
    return kept, kept - net, net


def test_example_10_to_12_rio_in_may():
    outside = extraterrestrial_radiation_mj(-22.90, 135)
    hours = daylight_hours(-22.90, 135)
    received = radiation_from_sunshine_mj(outside, 220 / 31, hours)
    clear = clear_sky_radiation_mj(outside, 0)
    kept, leaving, net = balance(
        tmin=19.1, tmax=25.1, ea=2.1, received=received, clear=clear
    )
    assert outside == pytest.approx(25.111, abs=0.001)  # printed 25.1
    assert hours == pytest.approx(10.895, abs=0.001)  # printed 10.9
    assert received == pytest.approx(14.5, abs=0.05)
    assert clear == pytest.approx(18.8, abs=0.05)
    assert kept == pytest.approx(11.1, abs=0.05)
    assert leaving == pytest.approx(3.5, abs=0.05)
    assert net == pytest.approx(7.6, abs=0.05)


def lyon_in_july(elevation_m=200, **changes):
    outside = extraterrestrial_radiation_mj(45.72, 196)
    received = radiation_from_temperatures_mj(
        tmin_c=14.8,
        tmax_c=26.6,
        extraterrestrial_mj=outside,
        elevation_m=elevation_m,
        **changes,
    )
    return outside, received


def test_example_15_lyon_from_its_range_of_temperature():
    outside, received = lyon_in_july()
    assert outside == pytest.approx(40.6, abs=0.05)
    assert received == pytest.approx(22.3, abs=0.05)
    _outside, coastal = lyon_in_july(adjustment=COAST_ADJUSTMENT)
    assert coastal / received == pytest.approx(0.19 / 0.16)


def test_a_wide_range_of_temperature_never_outshines_a_clear_sky():
    outside = extraterrestrial_radiation_mj(45.72, 196)
    received = radiation_from_temperatures_mj(
        tmin_c=0, tmax_c=40, extraterrestrial_mj=outside, elevation_m=200
    )
    assert received == clear_sky_radiation_mj(outside, 200)


def test_example_16_the_coast_of_bangkok():
    outside = extraterrestrial_radiation_mj(13.73, 105)
    received = radiation_from_temperatures_mj(
        tmin_c=25.6,
        tmax_c=34.8,
        extraterrestrial_mj=outside,
        elevation_m=2,
        adjustment=COAST_ADJUSTMENT,
    )
    clear = clear_sky_radiation_mj(outside, 2)
    _kept, _leaving, net = balance(
        tmin=25.6, tmax=34.8, ea=2.85, received=received, clear=clear
    )
    assert received == pytest.approx(21.9, abs=0.05)
    assert net == pytest.approx(13.9, abs=0.05)


def test_example_17_bangkok_in_april():
    outside = extraterrestrial_radiation_mj(13.73, 105)
    hours = daylight_hours(13.73, 105)
    received = radiation_from_sunshine_mj(outside, 8.5, hours)
    clear = clear_sky_radiation_mj(outside, 2)
    _kept, leaving, net = balance(
        tmin=25.6, tmax=34.8, ea=2.85, received=received, clear=clear
    )
    found = [outside, hours, received, clear, leaving, net]
    printed = [38.06, 12.31, 22.65, 28.54, 3.11, 14.33]
    assert found == pytest.approx(printed, abs=0.02)


def test_example_18_uccle_in_july():
    outside = extraterrestrial_radiation_mj(50.80, 187)
    hours = daylight_hours(50.80, 187)
    received = radiation_from_sunshine_mj(outside, 9.25, hours)
    clear = clear_sky_radiation_mj(outside, 100)
    pressure = vapour_pressure_from_extreme_humidity_kpa(
        tmin_c=12.3, tmax_c=21.5, humidity_max_percent=84, humidity_min_percent=63
    )
    assert pressure == pytest.approx(1.409, abs=0.001)
    kept, leaving, net = balance(
        tmin=12.3, tmax=21.5, ea=pressure, received=received, clear=clear
    )
    found = [outside, received, clear, kept, leaving, net]
    printed = [41.09, 22.07, 30.90, 17.00, 3.71, 13.28]
    assert found == pytest.approx(printed, abs=0.02)
    assert hours == pytest.approx(16.1, abs=0.05)


def test_example_20_lyon_without_humidity():
    outside, received = lyon_in_july()
    pressure = saturation_vapour_pressure_kpa(14.8)
    clear = clear_sky_radiation_mj(outside, 200)
    _kept, _leaving, net = balance(
        tmin=14.8, tmax=26.6, ea=pressure, received=received, clear=clear
    )
    found = [pressure, received, clear, net]
    assert found == pytest.approx([1.68, 22.29, 30.58, 13.48], abs=0.02)


@pytest.mark.parametrize(
    ("temperature", "sent_out"), [(1, 27.70), (20, 36.21), (30, 41.41), (40, 47.15)]
)
def test_table_2_8_what_a_body_sends_out(temperature, sent_out):
    # Dry air under a clear sky lets 0.34 of it go (Eq. 39).
    _kept, leaving, _net = balance(
        tmin=temperature, tmax=temperature, ea=0.0, received=20.0, clear=20.0
    )
    assert leaving / 0.34 == pytest.approx(sent_out, abs=0.01)


def test_in_polar_night_long_waves_leave_as_under_a_clear_sky():
    dark = balance(tmin=-20, tmax=-10, ea=0.1, received=0.0, clear=0.0)
    clear = balance(tmin=-20, tmax=-10, ea=0.1, received=1e-9, clear=1e-9)
    assert dark[1] == pytest.approx(clear[1])
