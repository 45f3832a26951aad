"""Radiation and day length against pvlib and astral, which follow the sun itself.

FAO-56's declination is one sine of the day. It strays from the sun by up to a degree
and a half between the solstices, where it is right: that is most of what separates it
from the two libraries, and grows with latitude.
"""

from datetime import date, timedelta

import numpy as np
import pandas as pd
import pvlib
import pytest
from astral import Observer
from astral.sun import daylight

from care.science.sun import (
    daylight_hours,
    declination_rad,
    extraterrestrial_radiation_mj,
    inverse_relative_distance,
)

FAO_SOLAR_CONSTANT_W = 0.0820e6 / 60  # 1366.67 W/m2
STEP_MINUTES = 5
HORIZON_DEG = -0.833  # upper edge of the disc, lifted by refraction
NEW_YEAR = date(2013, 1, 1)
DAYS = np.arange(3, 366, 15)


def radiation_by_pvlib(latitude, number):
    """Sum a day's sun on a level plane above the air, step by step [MJ/m2]."""
    midnight = pd.Timestamp(NEW_YEAR, tz="UTC") + pd.Timedelta(days=int(number) - 1)
    times = pd.date_range(
        midnight + pd.Timedelta(minutes=STEP_MINUTES / 2),
        periods=24 * 60 // STEP_MINUTES,
        freq=f"{STEP_MINUTES}min",
    )
    zenith = pvlib.solarposition.get_solarposition(times, latitude, 0.0)["zenith"]
    normal = pvlib.irradiance.get_extra_radiation(
        int(number), solar_constant=FAO_SOLAR_CONSTANT_W
    )
    lit = np.maximum(np.cos(np.radians(zenith.to_numpy())), 0.0)
    return float(lit.sum() * STEP_MINUTES * 60 * normal / 1e6)


@pytest.mark.parametrize(
    ("latitude", "number"),
    [
        (-20, 246),
        (0, 80),
        (35, 15),
        (-35, 15),
        (60, 355),
        (65, 172),
        (70, 172),
        (-45, 355),
        (28.5, 196),
    ],
)
def test_radiation_of_the_worked_days_is_within_a_hundredth(latitude, number):
    ours = extraterrestrial_radiation_mj(latitude, number)
    assert ours == pytest.approx(radiation_by_pvlib(latitude, number), rel=0.012)


@pytest.mark.parametrize(
    ("latitude", "worst_mj"),
    [
        (-55, 1.0),
        (-33, 0.65),
        (-20, 0.45),
        (0, 0.2),
        (13.7, 0.35),
        (28.5, 0.5),
        (40, 0.65),
        (50.8, 0.75),
        (60, 0.8),
    ],
)
def test_radiation_round_the_year(latitude, worst_mj):
    ours = extraterrestrial_radiation_mj(latitude, DAYS.astype(float))
    theirs = np.array([radiation_by_pvlib(latitude, day) for day in DAYS])
    assert ours == pytest.approx(theirs, abs=worst_mj)
    assert ours.mean() == pytest.approx(theirs.mean(), rel=0.016)


def test_the_declination_strays_by_a_degree_and_a_half_but_not_at_the_solstices():
    numbers = np.arange(1.0, 366.0)
    theirs = pvlib.solarposition.declination_spencer71(numbers)
    astray = np.degrees(np.abs(declination_rad(numbers) - theirs))
    assert astray.max() == pytest.approx(1.5, abs=0.05)
    assert astray[[171, 354]].max() < 0.1


def test_the_distance_to_the_sun():
    numbers = np.arange(1, 366)
    theirs = pvlib.irradiance.get_extra_radiation(numbers, solar_constant=1.0)
    assert inverse_relative_distance(numbers) == pytest.approx(theirs, abs=0.003)


def hours_by_astral(latitude, number):
    day = NEW_YEAR + timedelta(days=int(number) - 1)
    rise, down = daylight(Observer(latitude, 0.0), day)
    return (down - rise).total_seconds() / 3600


def refraction_hours(latitude, number):
    """Return what the disc and refraction add to the day by FAO-56's declination."""
    tilt, place = float(declination_rad(number)), np.radians(latitude)
    lift = np.sin(np.radians(HORIZON_DEG)) / (np.cos(place) * np.cos(tilt))
    level = -np.tan(place) * np.tan(tilt)
    return 24 / np.pi * (np.arccos(level + lift) - np.arccos(level))


@pytest.mark.parametrize(
    ("latitude", "worst_hours"),
    [
        (-60, 0.30),
        (-45, 0.16),
        (-20, 0.06),
        (0, 0.01),
        (35, 0.12),
        (50.8, 0.21),
        (60, 0.30),
    ],
)
def test_days_are_shorter_by_what_refraction_adds(latitude, worst_hours):
    for number in DAYS:
        ours = daylight_hours(latitude, number) + refraction_hours(latitude, number)
        assert ours == pytest.approx(hours_by_astral(latitude, number), abs=worst_hours)


@pytest.mark.parametrize("latitude", [-60, -35, 0, 35, 50.8, 60])
@pytest.mark.parametrize("number", [172, 355])
def test_at_the_solstices_nothing_else_is_between_them(latitude, number):
    ours = daylight_hours(latitude, number) + refraction_hours(latitude, number)
    assert ours == pytest.approx(hours_by_astral(latitude, number), abs=0.02)


@pytest.mark.parametrize(
    ("latitude", "number", "hours"),
    [(70, 172, 24), (70, 355, 0), (-70, 172, 0), (-70, 355, 24)],
)
def test_polar_days_have_a_length_where_the_library_gives_up(latitude, number, hours):
    with pytest.raises(ValueError, match="horizon"):
        hours_by_astral(latitude, number)
    assert daylight_hours(latitude, number) == pytest.approx(hours)
