"""The standardized precipitation index, against worked sums and climate_indices."""

from statistics import NormalDist

import numpy as np
import pytest
from climate_indices import compute, indices
from hypothesis import given, settings, strategies as st
from hypothesis.extra.numpy import arrays
from scipy.special import gammainc

from care.science.drought import (
    Wetness,
    fit_gamma,
    gamma_share,
    standardized_precipitation,
    wetness,
)

# Twenty years of one month's rain, made up; sums by an independent transcription of
# Thom's equations, and the same in climate_indices 3.1.0
YEARS = np.array(
    [
        *(80, 55, 120, 60, 95, 140, 30, 75, 110, 65),
        *(90, 45, 100, 70, 85, 130, 50, 105, 40, 115),
    ],
    dtype=float,
)


def test_the_gamma_fit_of_worked_years():
    fit = fit_gamma(YEARS)
    assert YEARS.mean() == 83
    assert fit.shape == pytest.approx(6.629105, abs=1e-6)
    assert fit.scale_mm == pytest.approx(12.520543, abs=1e-6)
    assert fit.dry_share == 0


@pytest.mark.parametrize(
    ("rain", "index"),
    [
        (30, -2.1034),
        (45, -1.2949),
        (60, -0.6595),
        (82.5, 0.1144),
        (100, 0.6230),
        (140, 1.5981),
    ],
)
def test_the_index_of_worked_years(rain, index):
    found = standardized_precipitation(float(rain), YEARS)
    assert found == pytest.approx(index, abs=6e-5)


@pytest.mark.parametrize(("rain", "index"), [(0, -0.8416), (30, -0.7920)])
def test_years_without_rain_are_years_all_the_same(rain, index):
    # A fifth of the years dry: the index of no rain is that of one year in five
    with_dry = np.append(YEARS, np.zeros(5))
    found = standardized_precipitation(float(rain), with_dry)
    assert found == pytest.approx(index, abs=6e-5)


def test_maximum_likelihood_lies_close_to_thoms_approximation():
    # scipy 1.17.1, gamma.fit with the location held at 0: shape 6.62875, index -2.1033
    exact = NormalDist().inv_cdf(gammainc(6.62875, 30 / (83 / 6.62875)))
    assert exact == pytest.approx(-2.1033, abs=6e-5)
    assert standardized_precipitation(30.0, YEARS) == pytest.approx(exact, abs=2e-4)


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 2**32 - 1), st.floats(0.4, 6), st.floats(5, 120))
def test_side_by_side_with_climate_indices(seed, shape, scale):
    chance = np.random.default_rng(seed)
    rain = chance.gamma(shape, scale, (30, 12))
    rain[chance.random((30, 12)) < 0.1] = 0.0
    theirs = indices.spi(
        rain.ravel().copy(),
        1,
        indices.Distribution.gamma,
        1991,
        1991,
        2020,
        compute.Periodicity.monthly,
    ).reshape(30, 12)
    for month in range(12):
        years = rain[:, month]
        ours = [standardized_precipitation(float(one), years) for one in years]
        assert ours == pytest.approx(theirs[:, month], abs=1e-6)


@settings(max_examples=100)
@given(st.floats(0.05, 400), st.floats(0, 3))
def test_shares_of_the_gamma_distribution_are_those_of_scipy(shape, times):
    assert gamma_share(shape, shape * times) == pytest.approx(
        gammainc(shape, shape * times), abs=1e-11
    )


def test_no_index_from_few_years_or_from_years_without_a_spread():
    assert standardized_precipitation(30.0, YEARS[:19]) is None
    assert standardized_precipitation(30.0, np.zeros(30)) is None
    assert standardized_precipitation(30.0, np.append(np.zeros(29), 5.0)) is None
    assert standardized_precipitation(30.0, np.full(30, 8.0)) is None
    alike = np.append(np.full(29, 8.0), 8.001)
    assert standardized_precipitation(30.0, alike) is None


def test_what_comes_once_in_a_thousand_years_is_told_no_closer():
    assert standardized_precipitation(0.0, YEARS) == pytest.approx(-3.09)
    assert standardized_precipitation(5000.0, YEARS) == pytest.approx(3.09)


@pytest.mark.parametrize(
    ("index", "word"),
    # McKee and others (1993): near normal to 0.99 on either side
    [
        (-2.0, Wetness.EXTREMELY_DRY),
        (-1.99, Wetness.SEVERELY_DRY),
        (-1.5, Wetness.SEVERELY_DRY),
        (-1.49, Wetness.MODERATELY_DRY),
        (-1.0, Wetness.MODERATELY_DRY),
        (-0.99, Wetness.NEAR_NORMAL),
        (0.0, Wetness.NEAR_NORMAL),
        (0.99, Wetness.NEAR_NORMAL),
        (1.0, Wetness.MODERATELY_WET),
        (1.5, Wetness.SEVERELY_WET),
        (2.5, Wetness.EXTREMELY_WET),
    ],
)
def test_classes(index, word):
    assert wetness(index) is word


@settings(max_examples=60)
@given(
    arrays(np.float64, 24, elements=st.floats(0.5, 400)),
    st.floats(0, 400),
    st.floats(0, 50),
)
def test_more_rain_is_never_drier(years, rain, more):
    less, greater = (
        standardized_precipitation(mm, years) for mm in (rain, rain + more)
    )
    if less is not None:
        assert greater >= less - 1e-9
