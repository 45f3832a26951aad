"""Critical temperatures, protection and zones against published figures."""

from datetime import date

import numpy as np
import pytest

from care.science.frost import (
    bud_critical_c,
    bud_frost_severity,
    bud_stages,
    fahrenheit_to_c,
    hardiness_zone,
    must_protect,
    nights_ahead,
)
from tests.care.rules.cases import minima

TODAY = date(2014, 11, 12)


@pytest.mark.parametrize(
    ("degrees_f", "zone"),
    [
        # USDA Plant Hardiness Zone Map 2023: bounds, the lower one included
        (-60, "1a"),
        (-55, "1b"),
        (-20, "5a"),
        (-18, "5a"),
        (0, "7a"),
        (9.99, "7b"),
        (10, "8a"),
        (15, "8b"),
        (19.9, "8b"),
        (20, "9a"),
        (22, "9a"),
        (30, "10a"),
        (40, "11a"),
        (60, "13a"),
        (65, "13b"),
        (90, "13b"),
        (-80, "1a"),
    ],
)
def test_zones(degrees_f, zone):
    assert hardiness_zone(fahrenheit_to_c(degrees_f)) == zone


@pytest.mark.parametrize(
    ("key", "stage", "ten_f", "ninety_f"),
    [
        # Penn State Extension, orchard frost critical temperatures
        ("apple", "full_bloom", 28, 25),
        ("peach", "first_pink", 25, 15),
        ("pear", "full_white", 26, 22),
    ],
)
def test_bud_kill_temperatures(key, stage, ten_f, ninety_f):
    ten, ninety = bud_critical_c(key, stage)
    assert ten == pytest.approx(fahrenheit_to_c(ten_f))
    assert ninety == pytest.approx(fahrenheit_to_c(ninety_f))


@pytest.mark.parametrize(
    ("stage", "ten_c", "ninety_c"),
    [
        # Ontario fruit extension's table in degC, to a tenth
        ("silver_tip", -9.4, -16.7),
        ("green_tip", -7.8, -12.2),
        ("half_inch_green", -5.0, -9.4),
        ("tight_cluster", -2.8, -6.1),
        ("full_bloom", -2.2, -3.9),
    ],
)
def test_apple_temperatures_agree_with_a_second_table(stage, ten_c, ninety_c):
    assert bud_critical_c("apple", stage) == pytest.approx((ten_c, ninety_c), abs=0.051)


@pytest.mark.parametrize(
    ("key", "stage", "minimum_f", "severity"),
    [
        # Penn State table; watch within 3 degF of the 10 % kill
        ("apple", "full_bloom", 27, "warning"),
        ("peach", "calyx_red", 24, "watch"),
        ("sweet_cherry", "full_bloom", 25, "severe"),
        ("apple", "full_bloom", 40, "none"),
        ("apricot", "first_swell", 10, "warning"),
    ],
)
def test_severity_of_a_frost_night(key, stage, minimum_f, severity):
    critical = bud_critical_c(key, stage)
    assert bud_frost_severity(fahrenheit_to_c(minimum_f), *critical) == severity


def test_a_report_in_tenths_meets_its_threshold():
    # 28 degF is reported as -2.2, which is warmer than -2.222
    assert bud_frost_severity(-2.2, *bud_critical_c("apple", "full_bloom")) == "warning"


def test_later_stages_bear_less_cold():
    for key in ("apple", "pear", "peach", "sweet_cherry", "apricot", "european_plum"):
        tens = [bud_critical_c(key, stage)[0] for stage in bud_stages(key)]
        assert tens == sorted(tens)
    assert bud_critical_c("mango", "full_bloom") is None
    assert bud_stages("nectarine") == bud_stages("peach")


@pytest.mark.parametrize(
    ("threshold_f", "minimum_f"),
    [
        (22, 23),  # LSU AgCenter: hardened satsuma
        (25, 25),  # LSU AgCenter: sweet orange, mid-20s
        (29, 31),  # UF/IFAS: young mango
    ],
)
def test_protect_within_three_degrees_fahrenheit(threshold_f, minimum_f):
    threshold_c, minimum_c = fahrenheit_to_c(threshold_f), fahrenheit_to_c(minimum_f)
    assert must_protect(minimum_c, threshold_c, 3 / 1.8)
    assert not must_protect(threshold_c + 2.0, threshold_c, 3 / 1.8)


def test_only_forecast_nights_count_and_gaps_do_not():
    series = minima(TODAY, [1.0, np.nan, 3.0, 4.0], "offn")
    assert nights_ahead(series, TODAY, 3) == ((TODAY, 1.0), (date(2014, 11, 14), 3.0))
    assert nights_ahead(minima(TODAY, [-9.0, -9.0], "nn"), TODAY, 3) == ()
    assert nights_ahead(None, TODAY, 3) == ()
