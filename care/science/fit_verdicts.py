"""How verdicts join: the worst of what is known limits, and doubt never excludes."""

from collections.abc import Iterable, Sequence

import numpy as np

from care.facts import Array
from care.facts.fit import Factor, PlaceFit, Topic, Verdict
from care.science.frost import ROUNDING_C

# Best first; what is unknown stands between what may be tried and what may not.
ORDER = (Verdict.GOOD, Verdict.FAIR, Verdict.POOR, Verdict.UNKNOWN, Verdict.NO)
_BADNESS = {
    Verdict.GOOD: 0,
    Verdict.FAIR: 1,
    Verdict.POOR: 2,
    Verdict.NO: 3,
}


def at_worst(verdict: Verdict, floor: Verdict) -> Verdict:
    """Return a verdict, softened to ``floor`` where it is worse."""
    if verdict is Verdict.UNKNOWN or _BADNESS[verdict] <= _BADNESS[floor]:
        return verdict
    return floor


def worse(one: Verdict, other: Verdict) -> Verdict:
    """Return the worse of two known verdicts."""
    return max(one, other, key=_BADNESS.__getitem__)


def within(margin: float) -> float:
    """Return a margin held between -1 and 1."""
    return min(max(margin, -1.0), 1.0)


def share_at_or_below(values: Array, limits: Sequence[float | None]) -> list[float]:
    """Return for each limit in what share of years the value lies at or below it.

    Parameters
    ----------
    values : array (years,)
        At least one; tenths of a degree meet a limit written in whole degF.
    limits : sequence of float or None
        One a kind; ``None`` gives NaN.
    """
    bounds = np.array([np.nan if each is None else each for each in limits])
    shares = (values[None, :] <= bounds[:, None] + ROUNDING_C).mean(axis=1)
    return [float(share) for share in np.where(np.isnan(bounds), np.nan, shares)]


def joined(factors: Iterable[Factor]) -> PlaceFit:
    """Return the verdict over all factors: the worst one known limits.

    Of factors alike the one nearest to its limit is named, and none where all that is
    known is good. Where the cold is unknown nothing better than poor can be said.
    """
    listed = tuple(factors)
    known = [each for each in listed if each.verdict is not Verdict.UNKNOWN]
    limiting = min(known, key=_worst_first, default=None)
    verdict = Verdict.UNKNOWN if limiting is None else limiting.verdict
    cold = next((each for each in listed if each.topic is Topic.COLD), None)
    is_cold_unknown = cold is not None and cold.verdict is Verdict.UNKNOWN
    if is_cold_unknown and verdict is not Verdict.POOR and verdict is not Verdict.NO:
        return PlaceFit(Verdict.UNKNOWN, cold, listed)
    limits = verdict not in (Verdict.GOOD, Verdict.UNKNOWN)
    return PlaceFit(verdict, limiting if limits else None, listed)


def _worst_first(factor: Factor) -> tuple[int, float]:
    margin = 1.0 if factor.margin is None else factor.margin
    return -_BADNESS[factor.verdict], margin


def rank(place: PlaceFit) -> tuple[int, float]:
    """Return what kinds are sorted by, best first: verdict, then distance to limits.

    The distance is the smallest over all factors that have one.
    """
    margins = [each.margin for each in place.factors if each.margin is not None]
    return ORDER.index(place.verdict), -round(min(margins, default=0.0), 6)
