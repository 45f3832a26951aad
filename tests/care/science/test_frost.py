"""Critical temperatures, protection and zones against published figures."""

import pytest
from hypothesis import given, settings, strategies as st

from care.science.frost import (
    Freeze,
    bud_critical_c,
    bud_stages,
    fahrenheit_to_c,
    freeze_of,
    frost_severity,
    hardiness_zone,
    must_protect,
    weather_service_notice,
)
from tests.care.science.reference import reference_rows

BUDS = reference_rows("bud_critical_f.csv")


@pytest.mark.parametrize(
    ("degrees_f", "zone"),
    [
        # USDA Plant Hardiness Zone Map 2023: bounds, the lower one included
        (-60, "1a"),
        (-55, "1b"),
        (-20, "5a"),
        (-18, "5a"),
        (-15.1, "5a"),
        (5, "7b"),
        (25, "9b"),
        (35, "10b"),
        (69.9, "13b"),
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
    "row", BUDS, ids=lambda row: f"{row['species']} {row['stage']}"
)
def test_every_published_bud_temperature(row):
    # Penn State Extension and Michigan State, as the file names them
    ten, ninety = bud_critical_c(row["species"], row["stage"])
    assert ten * 1.8 + 32 == pytest.approx(float(row["kill_10_f"]))
    if row["kill_90_f"]:
        assert ninety * 1.8 + 32 == pytest.approx(float(row["kill_90_f"]))
    else:
        assert ninety is None


def test_the_stages_of_the_tables_are_all_and_in_order():
    listed = {}
    for row in BUDS:
        listed.setdefault(row["species"], []).append(row["stage"])
    assert len(BUDS) == 58
    assert {key: bud_stages(key) for key in listed} == {
        key: tuple(stages) for key, stages in listed.items()
    }


def test_the_old_standard_lies_within_two_degrees_of_the_ten_percent_kill():
    # Washington State, "old standard": lowest degF apple buds endure for 30 minutes
    old_f = (16, 16, 22, 27, 27, 28, 28, 29, 29)
    for stage, degrees_f in zip(bud_stages("apple"), old_f, strict=True):
        ten, ninety = bud_critical_c("apple", stage)
        assert abs(fahrenheit_to_c(degrees_f) - ten) <= 2 / 1.8 + 1e-9
        assert fahrenheit_to_c(degrees_f) > ninety


@pytest.mark.parametrize(
    ("stage", "ten_c", "ninety_c"),
    [
        # Ontario fruit extension's table in degC, to a tenth
        ("silver_tip", -9.4, -16.7),
        ("green_tip", -7.8, -12.2),
        ("half_inch_green", -5.0, -9.4),
        ("tight_cluster", -2.8, -6.1),
        ("full_pink", -2.2, -3.9),
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
    assert frost_severity(fahrenheit_to_c(minimum_f), *critical) == severity


@settings(max_examples=60)
@given(st.sampled_from([row for row in BUDS if row["kill_90_f"]]), st.floats(-30, 10))
def test_severity_rises_as_it_gets_colder(row, minimum_c):
    order = ["none", "watch", "warning", "severe"]
    critical = bud_critical_c(row["species"], row["stage"])
    here = frost_severity(minimum_c, *critical)
    colder = frost_severity(minimum_c - 1.0, *critical)
    assert order.index(colder) >= order.index(here)


@pytest.mark.parametrize(
    ("minimum_c", "word"),
    [
        # National Weather Service: 36, 32 and 28 degF, as reports in tenths print them
        (2.3, Freeze.NONE),
        (2.2, Freeze.FROST),
        (0.1, Freeze.FROST),
        (0.0, Freeze.FREEZE),
        (-2.1, Freeze.FREEZE),
        (-2.2, Freeze.HARD_FREEZE),
        (-9.0, Freeze.HARD_FREEZE),
    ],
)
def test_frost_freeze_and_hard_freeze(minimum_c, word):
    assert freeze_of(minimum_c) is word


@pytest.mark.parametrize(
    ("minimum_f", "hours", "wind_ms", "notice"),
    [
        # National Weather Service, Blacksburg
        (34, 20, 1.0, "frost_advisory"),
        (36, 20, None, "frost_advisory"),
        (34, 20, 8.0, "none"),  # wind stirs the air: no frost settles
        (34, 40, 1.0, "none"),
        (38, 20, 1.0, "none"),
        (32, 12, 8.0, "freeze_warning"),
        (28, 36, None, "freeze_warning"),
        (30, 40, None, "freeze_watch"),
        (30, 48, None, "freeze_watch"),
        (30, 60, None, "none"),
    ],
)
def test_notices_of_the_weather_service(minimum_f, hours, wind_ms, notice):
    assert weather_service_notice(fahrenheit_to_c(minimum_f), hours, wind_ms) == notice


def test_a_report_in_tenths_meets_its_threshold():
    # 28 degF is reported as -2.2, which is warmer than -2.222
    assert frost_severity(-2.2, *bud_critical_c("apple", "full_bloom")) == "warning"


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
