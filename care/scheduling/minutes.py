"""How long work takes, learned from logged times and shrunk towards the first guess.

Times are skewed and some are wrong (a timer left on, a tick an hour late), so medians
of logarithms are taken, wild ones are cut, and few logs move the guess little.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import exp, expm1, log, log1p
from statistics import median

MOST_LOGS = 30
SHRINK = 2  # logs that the first guess counts as; ours, tried on simulated logs
WIDEST_FACTOR = 4.0  # a log is cut to a quarter and to four times the guess; ours
ENOUGH_FOR_ONE_TREE = 8
ENOUGH_FOR_SPREAD = 20
ENOUGH_FOR_RANGE = 8
QUARTILE = 0.6745  # of the normal distribution: half of all lies within
MEAN_OVER_MEDIAN = 1.08  # log-normal with a spread of 0.4: exp(0.4**2 / 2)
MOST_OVER_MEDIAN = 1.28
MAD_TO_SD = 1.4826  # of a normal distribution
LEAST_SHARE = 0.15  # of a round's minutes, for its total to teach a kind


@dataclass(frozen=True, slots=True)
class TimedWork:
    """One piece of work: the guess for it, and the minutes it took."""

    base_minutes: float
    actual_minutes: float

    @property
    def log_ratio(self) -> float:
        """Logarithm of actual over guess, cut at four times either way."""
        widest = log(WIDEST_FACTOR)
        return min(max(log(self.actual_minutes / self.base_minutes), -widest), widest)


def learned_factor(logs: Sequence[TimedWork], *, around: float = 1.0) -> float:
    """Return by how much work of one kind takes longer than guessed.

    Parameters
    ----------
    logs : sequence of TimedWork
        Oldest first; the last thirty count.
    around : float
        What it is shrunk towards: 1, or the kind's factor for one tree of it.

    Notes
    -----
    ``around * exp(n / (n + 2) * median(ln(actual / (around * base))))``.
    """
    recent = [
        TimedWork(one.base_minutes * around, one.actual_minutes)
        for one in logs[-MOST_LOGS:]
    ]
    if not recent:
        return around
    number = len(recent)
    middle = median(one.log_ratio for one in recent)
    return around * exp(number / (number + SHRINK) * middle)


def factor_of_tree(of_kind: Sequence[TimedWork], of_tree: Sequence[TimedWork]) -> float:
    """Return the factor of one tree: its own once eight of its times are known."""
    kind = learned_factor(of_kind)
    if len(of_tree) < ENOUGH_FOR_ONE_TREE:
        return kind
    return learned_factor(of_tree, around=kind)


def mean_over_median(logs: Sequence[TimedWork]) -> float:
    """Return what a round's sum of usual times must be raised by.

    ``exp(s**2 / 2)`` with the spread ``s`` of the site's own logs once there are
    twenty (from the median absolute deviation), at most 1.28; 1.08 until then.
    """
    if len(logs) < ENOUGH_FOR_SPREAD:
        return MEAN_OVER_MEDIAN
    return min(exp(_spread(logs) ** 2 / 2), MOST_OVER_MEDIAN)


def middle_half(
    minutes: Sequence[float], logs: Sequence[TimedWork]
) -> tuple[float, float] | None:
    """Return between which times half of all walks with this work lie [min].

    Parameters
    ----------
    minutes : sequence of float
        Usual time of each piece of work [min].
    logs : sequence of TimedWork
        What times like these came to; without eight of them nothing is said.

    Notes
    -----
    The sum of log-normal times taken as log-normal itself, of the same mean and
    variance (L. F. Fenton, 1960, IRE Transactions on Communications Systems 8; from
    memory, tried against drawn sums): ``s_sum**2 = ln(1 + (exp(s**2) - 1) *
    sum(m**2) / sum(m)**2)``. Single times are taken to stray each by itself.
    """
    total = sum(minutes)
    if len(logs) < ENOUGH_FOR_RANGE or total <= 0:
        return None
    variance = _spread(logs) ** 2
    share = sum(one**2 for one in minutes) / total**2
    variance_of_sum = log1p(expm1(variance) * share)
    middle = total * exp((variance - variance_of_sum) / 2)
    reach = exp(QUARTILE * variance_of_sum**0.5)
    return middle / reach, middle * reach


def _spread(logs: Sequence[TimedWork]) -> float:
    """Return the spread of logarithms, unmoved by a few wild ones."""
    ratios = [one.log_ratio for one in logs]
    middle = median(ratios)
    return MAD_TO_SD * median(abs(ratio - middle) for ratio in ratios)


def lessons_of_round(
    planned: Mapping[str, float], actual_minutes: float
) -> dict[str, TimedWork]:
    """Return what the total of a round teaches of each kind in it.

    Parameters
    ----------
    planned : mapping
        Minutes planned by kind.
    actual_minutes : float
        Of the whole round.

    Notes
    -----
    A kind learns more the greater its part: ``estimate * q ** min(1, 0.5 + share)``
    with ``q`` actual over planned; kinds below 15 % of the round learn nothing.
    """
    total = sum(planned.values())
    if total <= 0 or actual_minutes <= 0:
        return {}
    quotient = actual_minutes / total
    return {
        kind: TimedWork(minutes, minutes * quotient ** min(1.0, 0.5 + minutes / total))
        for kind, minutes in sorted(planned.items())
        if minutes / total >= LEAST_SHARE
    }
