"""Checks against FAO-56 Example 31, a bare loam that dries for ten days."""

import numpy as np
import pytest
from hypothesis import given, strategies as st
from hypothesis.extra.numpy import arrays

from care.science.soil_evaporation import evaporation_reduction, fold_drying


def a_drying_loam(**changes):
    days = np.ones(10)
    values = {
        "et0_mm": 4.5 * days,
        "kcb": 0.15 * days,
        "kc_max": 1.20 * days,
        "exposed_share": days,
        "total_mm": 20.0,
        "readily_mm": 9.0,
    }
    return fold_drying(**{**values, **changes})


def test_example_31_of_fao_56():
    course = a_drying_loam()
    depletion = [4.73, 9.45, 13.98, 16.57, 18.04, 18.88, 19.36, 19.64, 19.79, 19.88]
    assert course.depletion_mm == pytest.approx(depletion, abs=0.01)
    whole = 0.15 * 4.5 + course.evaporation_mm
    printed = [5.4, 5.4, 5.2, 3.3, 2.1, 1.5, 1.2, 0.9, 0.8, 0.8]
    assert whole == pytest.approx(printed, abs=0.05)


@pytest.mark.parametrize(
    ("depletion", "reduction"), [(0, 1), (9, 1), (14.5, 0.5), (20, 0), (25, 0)]
)
def test_the_surface_gives_freely_and_then_holds_back(depletion, reduction):
    assert evaporation_reduction(depletion, 20, 9) == pytest.approx(reduction)


def test_ground_that_is_partly_shaded_dries_as_fast_where_it_is_open():
    # Eq. 71's bound: few Kc max. A fifth of the ground cannot give 1.05 ET0 of all.
    course = a_drying_loam(exposed_share=np.full(10, 0.2))
    assert course.evaporation_coefficient[0] == pytest.approx(0.24)
    assert course.depletion_mm[0] == pytest.approx(1.2 * 4.5)


@given(
    arrays(float, 10, elements=st.floats(0, 9)),
    st.floats(0, 1.2),
    st.floats(0.05, 1),
    st.floats(0, 40),
)
def test_a_surface_never_loses_more_than_it_can(et0, kcb, exposed, start):
    course = a_drying_loam(
        et0_mm=et0,
        kcb=np.full(10, kcb),
        exposed_share=np.full(10, exposed),
        start_depletion_mm=min(start, 20.0),
    )
    assert (course.evaporation_coefficient >= 0).all()
    assert (course.depletion_mm <= 20.0 + 1e-9).all()
    assert (np.diff(course.depletion_mm) >= 0).all()
    gone = exposed * (course.depletion_mm[-1] - min(start, 20.0))
    assert course.evaporation_mm.sum() == pytest.approx(gone, abs=1e-9)
