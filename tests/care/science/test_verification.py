"""Ranges and chances beside what happened: published scores, by hand and by brute force.

Sources: Gneiting and Raftery (2007), J. Am. Stat. Assoc. 102:359-378; Murphy (1973),
J. Appl. Meteorol. 12:595-600. No library of scores is among the dependencies: where a
figure says "brute force", the check is our own integral or sum.
"""

import numpy as np
import pytest
from hypothesis import given, strategies as st
from hypothesis.extra.numpy import arrays
from scipy import stats

from care.science.verification import (
    LEVELS,
    brier_parts,
    brier_score,
    errors,
    is_within,
    quantile_loss,
    range_score,
    reliability,
    skill,
    widths,
)

NEVER = np.inf
days = arrays(np.float64, 12, elements=st.integers(0, 120).map(float))


def row(*values):
    return np.array(values, dtype=np.float64)


def test_a_range_holds_its_own_ends():
    assert is_within(row(3, 3, 3), row(5, 5, 5), row(3, 5, 6)).tolist() == [1, 1, 0]


def test_what_never_came_is_held_by_a_range_without_an_end_alone():
    low, high = row(3, 3, NEVER), row(NEVER, 90, NEVER)
    assert is_within(low, high, row(NEVER, NEVER, NEVER)).tolist() == [1, 0, 1]


def test_what_came_although_nothing_was_told_is_a_miss():
    never = row(NEVER, NEVER)
    assert is_within(never, never, row(40, NEVER)).tolist() == [False, True]


def test_errors_are_of_what_both_told_and_came():
    assert errors(row(5, NEVER, 9), row(3, 4, NEVER)).tolist() == [2]


def test_widths_end_at_the_horizon():
    assert widths(row(3, 100), row(NEVER, NEVER), 120.0).tolist() == [117, 20]


def test_quantile_loss_by_hand():
    # 10 too early at the level 0.9 costs 9, 10 too late costs 1.
    assert quantile_loss(row(10, 30), 0.9, row(20, 20)).tolist() == pytest.approx(
        [9, 1]
    )


def test_the_score_of_a_sure_day_is_the_days_it_is_off():
    sure = np.array([[4.0, 4.0, 4.0], [4.0, 4.0, 4.0]])
    found = range_score(sure, row(7, NEVER), 30.0)
    # 2/3 * (0.1 + 0.5 + 0.9) = 1 for what came later than told.
    assert found.tolist() == pytest.approx([3, 26])


@given(low=days, more=days, came=days)
def test_the_losses_of_both_ends_are_the_published_interval_score(low, more, came):
    """Gneiting and Raftery (2007), Eq. 43: width, and a fine of 10 for each day missed.

    It is the loss of both ends over half of the share that lies beyond them.
    """
    high = low + more
    missed = np.maximum(low - came, 0) + np.maximum(came - high, 0)
    ends = quantile_loss(low, 0.1, came) + quantile_loss(high, 0.9, came)
    assert np.allclose(high - low + 2 / 0.2 * missed, ends / 0.1)


def test_twice_the_loss_over_all_levels_is_the_published_ranked_score():
    """Gneiting and Raftery (2007): of a normal forecast, in closed form.

    At its middle (sqrt 2 - 1) / sqrt pi.
    """
    levels = (np.arange(2000) + 0.5) / 2000
    told = stats.norm.ppf(levels)
    for came in (0.0, 1.5):
        closed = came * (2 * stats.norm.cdf(came) - 1) + 2 * stats.norm.pdf(came)
        closed -= 1 / np.sqrt(np.pi)
        losses = [
            float(quantile_loss(row(day), level, row(came))[0])
            for day, level in zip(told, levels, strict=True)
        ]
        assert 2 * np.mean(losses) == pytest.approx(closed, abs=1e-3)
    assert (np.sqrt(2) - 1) / np.sqrt(np.pi) == pytest.approx(
        2 * stats.norm.pdf(0) - 1 / np.sqrt(np.pi)
    )


def test_quantiles_of_what_will_come_score_least():
    """Brute force: of all whole days, the true quantiles have the least mean loss."""
    came = np.random.default_rng(4).gamma(4, 5, 4001)
    for level in LEVELS:
        tried = np.arange(0, 60, 0.25)
        mean = [quantile_loss(np.full(4001, day), level, came).mean() for day in tried]
        assert tried[int(np.argmin(mean))] == pytest.approx(
            np.quantile(came, level), abs=0.25
        )


def test_skill_is_the_share_by_which_a_reference_is_beaten():
    assert skill(3.0, 4.0) == 0.25
    assert skill(5.0, 4.0) == -0.25
    assert skill(0.0, 0.0) is None


def test_reliability_by_hand():
    chances = row(0.1, 0.1, 0.5, 0.9, 0.9, 1.0)
    came = np.array([False, True, True, True, True, True])
    rows = reliability(chances, came, row(0, 0.25, 0.5, 1.0))
    assert [(one.low, one.high, one.cases) for one in rows] == [
        (0.0, 0.25, 2),
        (0.5, 1.0, 4),
    ]
    assert [one.told for one in rows] == pytest.approx([0.1, 0.825])
    assert [one.came for one in rows] == pytest.approx([0.5, 1.0])


@given(
    places=arrays(np.int64, 30, elements=st.integers(0, 9)),
    came=arrays(np.bool_, 30),
)
def test_the_parts_of_the_brier_score_add_up(places, came):
    """Murphy (1973): unreliability - resolution + uncertainty."""
    chances = 0.05 + places / 10
    parts = brier_parts(reliability(chances, came, np.linspace(0, 1, 11)))
    total = parts[0] - parts[1] + parts[2]
    assert total == pytest.approx(brier_score(chances, came))
