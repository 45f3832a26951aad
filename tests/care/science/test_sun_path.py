"""The sun's place against pvlib, at equinox and at both solstices."""

import numpy as np
import pandas as pd
import pvlib
import pytest

from care.science.sun_path import (
    EQUINOX_RAD,
    LOW_SUN_RAD,
    OBLIQUITY_RAD,
    midsummer_rad,
    sun_path,
    sun_place_rad,
)

DAYS = [
    ("2014-03-20", EQUINOX_RAD),
    ("2014-06-21", OBLIQUITY_RAD),
    ("2014-12-21", -OBLIQUITY_RAD),
]


@pytest.mark.parametrize("latitude_deg", [-42.0, -27.5, 0.5, 25.8, 47.6, 60.0])
@pytest.mark.parametrize(("day", "declination_rad"), DAYS)
def test_elevation_and_azimuth_are_those_of_pvlib(day, declination_rad, latitude_deg):
    times = pd.date_range(day, periods=24, freq="h", tz="UTC")
    theirs = pvlib.solarposition.get_solarposition(times, latitude_deg, 0.0)
    solar_hours = times.hour + theirs["equation_of_time"].to_numpy() / 60
    elevation, azimuth = sun_place_rad(latitude_deg, declination_rad, solar_hours)
    is_up = theirs["elevation"].to_numpy() > 3
    # On the equinox's own day the declination moves by 0.4 degrees.
    assert np.degrees(elevation[is_up]) == pytest.approx(
        theirs["elevation"].to_numpy()[is_up], abs=0.3
    )
    apart_deg = np.degrees(azimuth) - theirs["azimuth"].to_numpy()
    apart_deg = (apart_deg + 180) % 360 - 180
    # Near overhead the azimuth turns fast: what counts is how far apart on the sky.
    on_sky = apart_deg * np.cos(elevation)
    assert np.abs(on_sky[is_up]).max() < 0.5


def test_noon_stands_as_high_as_the_latitude_leaves_it():
    # 90 - |latitude - declination|, and towards the equator.
    for latitude_deg, azimuth_deg in ((47.6, 180.0), (-27.5, 0.0)):
        elevation, azimuth = sun_place_rad(latitude_deg, EQUINOX_RAD, np.array(12.0))
        assert np.degrees(elevation) == pytest.approx(90 - abs(latitude_deg))
        assert np.degrees(azimuth) == pytest.approx(azimuth_deg, abs=1e-9)


def test_a_path_begins_where_the_sun_begins_to_count_and_lasts_the_day():
    path = sun_path(0.0, EQUINOX_RAD)
    # Twelve hours less twice five degrees at fifteen an hour.
    assert len(path.elevation_rad) * path.step_h == pytest.approx(12 - 2 / 3, abs=0.3)
    assert path.elevation_rad.min() > LOW_SUN_RAD
    assert not len(sun_path(80.0, -OBLIQUITY_RAD).azimuth_rad)
    assert midsummer_rad(-10.0) == -midsummer_rad(10.0)
