"""Minutes learned from logs: medians, shrunk, and never carried away."""

import random
from math import exp, log
from statistics import fmean

import pytest
from hypothesis import given, strategies as st

from care.scheduling.minutes import (
    MEAN_OVER_MEDIAN,
    TimedWork,
    factor_of_tree,
    learned_factor,
    lessons_of_round,
    mean_over_median,
    middle_half,
)

times = st.builds(TimedWork, st.floats(1, 60), st.floats(0.5, 600))


def logs(*ratios, base=10.0):
    return [TimedWork(base, base * ratio) for ratio in ratios]


def test_without_logs_the_guess_stands():
    assert learned_factor([]) == 1.0
    assert mean_over_median([]) == MEAN_OVER_MEDIAN


def test_one_log_counts_a_third_and_ten_count_five_sixths():
    """n / (n + 2) of the median's logarithm."""
    assert learned_factor(logs(2.0)) == pytest.approx(2 ** (1 / 3))
    assert learned_factor(logs(*[2.0] * 10)) == pytest.approx(2 ** (10 / 12))


def test_a_timer_left_on_changes_little():
    usual = [1.0] * 9
    assert learned_factor(logs(*usual, 50.0)) == learned_factor(logs(*usual, 1.0))


def test_only_the_last_thirty_count():
    assert learned_factor(logs(*[4.0] * 30, *[1.0] * 30)) == pytest.approx(1.0)


def test_a_tree_speaks_for_itself_from_eight_times_on():
    kind = logs(*[1.0] * 20)
    assert factor_of_tree(kind, logs(*[3.0] * 7)) == pytest.approx(1.0)
    assert factor_of_tree(kind, logs(*[3.0] * 8)) == pytest.approx(3 ** (8 / 10))


def test_the_mean_over_the_median_follows_the_spread_of_the_logs():
    """Of a log-normal the mean is exp(s^2 / 2) medians: exp(0.08) for s = 0.4."""
    draw = random.Random(4)
    many = logs(*(exp(draw.gauss(0, 0.4)) for _ in range(4000)))
    assert mean_over_median(many) == pytest.approx(exp(0.08), abs=0.01)
    wild = logs(*(exp(draw.gauss(0, 1.5)) for _ in range(40)))
    assert mean_over_median(wild) == 1.28


def test_a_round_teaches_its_great_kinds_most():
    lessons = lessons_of_round({"pruning": 60.0, "watering": 30.0, "look": 10.0}, 200.0)
    assert set(lessons) == {"pruning", "watering"}
    assert lessons["pruning"].actual_minutes == pytest.approx(120.0)
    assert lessons["watering"].actual_minutes == pytest.approx(30 * 2**0.8)
    assert lessons_of_round({}, 30.0) == lessons_of_round({"look": 5.0}, 0.0) == {}


@given(st.lists(times, max_size=60))
def test_learning_stays_within_four_times_either_way(many):
    assert 0.25 <= learned_factor(many) <= 4.0
    assert 1.0 <= mean_over_median(many) <= 1.28


def test_learning_from_ten_logs_beats_the_first_guess():
    """Twelve kinds whose guess is off, noise and wild logs: the mean error falls."""
    draw = random.Random(11)
    before, after = [], []
    for _ in range(300):
        truths = [exp(draw.gauss(0, 0.4)) for _kind in range(12)]
        told = [
            learned_factor(
                logs(
                    *(
                        truth
                        * exp(draw.gauss(0, 0.4))
                        * (8 if draw.random() < 0.05 else 1)
                        for _log in range(10)
                    )
                )
            )
            for truth in truths
        ]
        before += [abs(log(truth)) for truth in truths]
        after += [abs(log(t / truth)) for t, truth in zip(told, truths, strict=True)]
    assert fmean(after) < 0.55 * fmean(before)


def test_of_drawn_walks_half_lie_in_the_middle_half():
    """Sums of drawn log-normal times, spread 0.4: between 46 and 54 of 100 inside."""
    draw = random.Random(11)
    spread = logs(*(exp(draw.gauss(0, 0.4)) for _ in range(400)))
    for minutes in ([20.0], [5.0] * 6, [30.0, 5.0, 5.0, 2.0]):
        low, high = middle_half(minutes, spread)
        sums = [
            sum(one * exp(draw.gauss(0, 0.4)) for one in minutes) for _ in range(4000)
        ]
        inside = fmean(low <= one <= high for one in sums)
        assert inside == pytest.approx(0.5, abs=0.04)
        assert low < sum(minutes) * MEAN_OVER_MEDIAN < high * 1.02


def test_no_range_is_told_from_seven_times_or_of_no_work():
    assert middle_half([10.0], logs(*[1.0] * 7)) is None
    assert middle_half([], logs(*[1.0] * 8)) is None
    assert middle_half([10.0], logs(*[1.0] * 8)) == (10.0, 10.0)
