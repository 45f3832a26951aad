"""How good ranges and chances turned out to be, once what they told of has happened.

Values are days from when something was told, or amounts. What did not come within the
horizon, told or happened, is infinite: a range without an end that was told of what
never came has held. Scores cut both off at the horizon, which keeps them proper.

Sources: Gneiting and Raftery (2007), J. Am. Stat. Assoc. 102:359-378 (scores of ranges
and quantiles); Brier (1950), Mon. Weather Rev. 78:1-3; Murphy (1973), J. Appl.
Meteorol. 12:595-600 (its three parts).
"""

from dataclasses import dataclass

import numpy as np

from care.facts import Array, Flags

LEVELS = (0.1, 0.5, 0.9)  # of the quantiles that plans tell


def is_within(low: Array, high: Array, happened: Array) -> Flags:
    """Return where a told range holds what happened, its ends included.

    Parameters
    ----------
    low, high, happened : arrays of one shape
        Infinite: not within the horizon.
    """
    return np.asarray((low <= happened) & (happened <= high))


def errors(middle: Array, happened: Array) -> Array:
    """Return told minus happened where both came; above zero was told too late.

    Parameters
    ----------
    middle, happened : arrays of one shape
        Infinite: not within the horizon.

    Returns
    -------
    array, shape (cases that came,)
    """
    has_both = np.isfinite(middle) & np.isfinite(happened)
    return np.asarray(middle[has_both] - happened[has_both])


def widths(low: Array, high: Array, horizon: Array | float = np.inf) -> Array:
    """Return the widths of ranges, cut off at the horizon.

    Parameters
    ----------
    low, high : arrays of one shape
        May be infinite where ``horizon`` is not.
    horizon : array of that shape, or float
        The largest value that can be told.
    """
    return np.asarray(np.minimum(high, horizon) - np.minimum(low, horizon))


def quantile_loss(told: Array, level: float, happened: Array) -> Array:
    """Return the loss of told quantiles of one level.

    Parameters
    ----------
    told, happened : arrays of one shape
        Finite.
    level : float, 0-1
        Of the quantile.

    Returns
    -------
    array of that shape
        In the unit told; least on average by the true quantile.
        Source: Gneiting and Raftery (2007), section 6.1.
    """
    missed = happened - told
    return np.asarray(np.maximum(level * missed, (level - 1) * missed))


def range_score(quantiles: Array, happened: Array, horizon: Array | float) -> Array:
    """Return the score of told low, middle and high days together.

    Twice the mean loss of the three, which approximates the continuous ranked
    probability score; of a day told without doubt it is the days it is off.

    Parameters
    ----------
    quantiles : array (cases, 3)
        At ``LEVELS``; infinite: not within the horizon.
    happened : array (cases,)
        Likewise.
    horizon : array (cases,) or float
        To which both are cut off.

    Returns
    -------
    array (cases,)
    """
    came = np.minimum(happened, horizon)
    losses = [
        quantile_loss(np.minimum(quantiles[:, place], horizon), level, came)
        for place, level in enumerate(LEVELS)
    ]
    return np.asarray(2 * np.mean(losses, axis=0))


def skill(score: float, reference: float) -> float | None:
    """Return by which share a mean score beats a reference's; 1 is perfect.

    Below zero the reference did better; ``None`` where it made no error to beat.
    """
    return None if reference <= 0 else 1 - score / reference


def brier_score(chances: Array, came: Flags) -> float:
    """Return the mean squared distance of chances from what came, 0 to 1.

    Parameters
    ----------
    chances : array (cases,), 0-1
    came : bool array (cases,)
        At least one case.
    """
    return float(np.mean((chances - came) ** 2))


@dataclass(frozen=True, slots=True)
class ChanceRow:
    """The cases whose chance was told within one bin, and how often it came."""

    low: float
    high: float
    cases: int
    told: float  # mean of the chances
    came: float  # share of the cases


def reliability(chances: Array, came: Flags, edges: Array) -> tuple[ChanceRow, ...]:
    """Return by bins how often something came of which a chance was told.

    Parameters
    ----------
    chances : array (cases,), 0-1
    came : bool array (cases,)
    edges : array (bins + 1,)
        Ascending from 0 to 1; a chance on an inner edge belongs to the upper bin.

    Returns
    -------
    tuple of ChanceRow
        Of the bins that have any case, lowest first.
    """
    place = np.clip(np.digitize(chances, edges) - 1, 0, len(edges) - 2)
    rows = []
    for number in range(len(edges) - 1):
        inside = place == number
        if not inside.any():
            continue
        rows.append(
            ChanceRow(
                low=float(edges[number]),
                high=float(edges[number + 1]),
                cases=int(inside.sum()),
                told=float(chances[inside].mean()),
                came=float(came[inside].mean()),
            )
        )
    return tuple(rows)


def brier_parts(rows: tuple[ChanceRow, ...]) -> tuple[float, float, float]:
    """Return unreliability, resolution and uncertainty of a reliability table.

    Where all chances of a bin are alike, the first less the second plus the third is
    the Brier score (Murphy, 1973). At least one row.
    """
    cases = np.array([row.cases for row in rows], dtype=np.float64)
    told = np.array([row.told for row in rows])
    came = np.array([row.came for row in rows])
    base = float(np.average(came, weights=cases))
    unreliability = float(np.average((told - came) ** 2, weights=cases))
    resolution = float(np.average((came - base) ** 2, weights=cases))
    return unreliability, resolution, base * (1 - base)
