"""The heat index against the printed chart of the National Weather Service."""

import pytest

from care.science.heat_index import (
    HeatRisk,
    heat_index_c,
    heat_risk,
    humidity_at_percent,
)

# NOAA's chart as newspapers and references print it; rows are degF, columns 40 to 80 %.
HUMIDITIES = (40, 45, 50, 55, 60, 65, 70, 75, 80)
CHART = {
    100: (109, 114, 118, 124, 129, 136),
    98: (105, 109, 113, 117, 123, 128, 134),
    96: (101, 104, 108, 112, 116, 121, 126, 132),
    94: (97, 100, 103, 106, 110, 114, 119, 124, 129),
    92: (94, 96, 99, 101, 105, 108, 112, 116, 121),
    90: (91, 93, 95, 97, 100, 103, 105, 109, 113),
    88: (88, 89, 91, 93, 95, 98, 100, 103, 106),
    86: (85, 87, 88, 89, 91, 93, 95, 97, 100),
    84: (83, 84, 85, 86, 88, 89, 90, 92, 94),
    82: (81, 82, 83, 84, 84, 85, 86, 88, 89),
    80: (80, 80, 81, 81, 82, 82, 83, 84, 84),
}


def celsius(degrees):
    return (degrees - 32) * 5 / 9


def index_f(degrees, humidity):
    return heat_index_c(celsius(degrees), humidity) * 9 / 5 + 32


@pytest.mark.parametrize("degrees", CHART)
def test_every_cell_of_the_chart(degrees):
    # The chart is rounded, and its 90 degF, 70 % is known to be one off its formula.
    for humidity, printed in zip(HUMIDITIES, CHART[degrees], strict=False):
        assert index_f(degrees, humidity) == pytest.approx(printed, abs=1.0)


@pytest.mark.parametrize(
    ("degrees", "humidity", "expected"),
    [
        # By hand from the page of the Weather Prediction Center. Desert air: 95 degF at
        # 5 % is 90.18 by the regression, less (13 - 5) / 4 * sqrt(17 / 17).
        (95, 5, 88.2),
        # Damp: 85 degF at 95 % is 104.21, and (95 - 85) / 10 * (87 - 85) / 5 more.
        (85, 95, 104.6),
        # Mild: 0.5 * (70 + 61 + 2.4 + 4.7) = 69.05, its mean with 70.
        (70, 50, 69.5),
    ],
)
def test_the_adjustments(degrees, humidity, expected):
    assert index_f(degrees, humidity) == pytest.approx(expected, abs=0.1)


def test_humidity_falls_as_the_day_warms():
    # FAO-56, table 2.3: saturated air holds 1.705 kPa at 15 and 4.243 at 30 degC. Half of
    # their mean is 1.487 kPa: 35 % of 4.243, 87 % of 1.705.
    at_noon = humidity_at_percent(30.0, 15.0, 30.0, 50.0)
    at_dawn = humidity_at_percent(15.0, 15.0, 30.0, 50.0)
    assert (at_noon, at_dawn) == (
        pytest.approx(35.0, abs=0.1),
        pytest.approx(87.2, abs=0.1),
    )
    assert humidity_at_percent(15.0, 15.0, 30.0, 90.0) == 100.0


@pytest.mark.parametrize(
    ("degrees", "risk"),
    [
        (90.9, HeatRisk.LOWER),
        (91.1, HeatRisk.MODERATE),
        (103.1, HeatRisk.HIGH),
        (114.9, HeatRisk.HIGH),
        (115.1, HeatRisk.VERY_HIGH),
    ],
)
def test_the_bands_of_oshas_guide(degrees, risk):
    assert heat_risk(celsius(degrees)) is risk
