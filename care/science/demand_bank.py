"""What a tree's soil says of how much it drinks: a bank of hypotheses, weighted.

Seventeen factors of demand, each with its own course of the water in the soil, times
five ways in which one person's hand may be wrong. An answer raises the weight of the
hypotheses that foretold it. Feeling the soil shows only factor and hand together, so
it moves the factor slowly; litres until a pot runs out below show the factor alone.

Likelihoods, prior and bounds are this program's own, chosen on synthetic seasons:
slow enough that wrong or random answers do no harm.
"""

from dataclasses import dataclass

import numpy as np

from care.facts import Array

FACTORS = np.geomspace(0.5, 2.0, 17)  # of the demand by the crown's ground
FEEL_BIASES = np.array([-0.30, -0.15, 0.0, 0.15, 0.30])  # of the store's capacity
PRIOR_LOG_SD = 0.30
PRIOR_BIAS_SD = 0.20
FEEL_SD = 0.16  # of the store, for a lay hand; trained ones reach 0.05 (NRCS)
WET_BELOW, DRY_ABOVE = 0.25, 0.57  # of the store missing, NRCS feel method's bands
LAPSE = 0.12  # of answers that mean nothing
TEMPERING = 0.7  # answers of one season are not independent
FORGETTING = 0.01  # towards the prior with each answer
DRAINED_SD, DRAINED_SD_SHARE = 0.04, 0.12  # of the store, and of the reading
TRUSTED = (0.70, 1.40)  # outside, crown, pot or flow are more likely wrong than f
WORDS = ("wet", "right", "dry")


@dataclass(frozen=True, slots=True)
class DemandEstimate:
    """A tree's demand over that of its crown's ground: mean and spread [-]."""

    factor: float
    spread: float  # one standard deviation

    @property
    def is_trusted(self) -> bool:
        """Whether it lies where learning is believed."""
        return TRUSTED[0] <= self.factor <= TRUSTED[1]

    @property
    def applied(self) -> float:
        """The factor to reckon with: no further than it is believed."""
        return float(np.clip(self.factor, *TRUSTED))


def prior() -> Array:
    """Return the weights before any answer, shape (17, 5), sum 1."""
    by_factor = np.exp(-0.5 * (np.log(FACTORS) / PRIOR_LOG_SD) ** 2)
    by_bias = np.exp(-0.5 * (FEEL_BIASES / PRIOR_BIAS_SD) ** 2)
    weights = by_factor[:, None] * by_bias
    return np.asarray(weights / weights.sum())


def _normal_below(values: Array, sd: float) -> Array:
    """Return the normal distribution's share below zero plus ``values`` [-].

    By the logistic curve that differs from it by less than 0.01.
    """
    return np.asarray(1 / (1 + np.exp(-1.702 * values / sd)))


def _weighed(weights: Array, likelihood: Array) -> Array:
    careful = (LAPSE + (1 - LAPSE) * likelihood) ** TEMPERING
    updated = weights * careful
    updated = updated / updated.sum()
    return np.asarray((1 - FORGETTING) * updated + FORGETTING * prior())


def after_feeling(weights: Array, missing_share: Array, word: str) -> Array:
    """Return the weights after a hand felt the soil.

    Parameters
    ----------
    weights : array (17, 5)
        As :func:`prior` or these functions return them.
    missing_share : array (17,)
        Water missing over capacity where one waters, under each factor.
    word : str
        ``wet``, ``right`` or ``dry``.

    Returns
    -------
    array (17, 5), sum 1

    Raises
    ------
    ValueError
        If the word is none of the three.
    """
    if word not in WORDS:
        message = f"{word!r} is none of {', '.join(WORDS)}"
        raise ValueError(message)
    felt = np.asarray(missing_share)[:, None] + FEEL_BIASES
    wet = _normal_below(WET_BELOW - felt, FEEL_SD)
    dry = _normal_below(felt - DRY_ABOVE, FEEL_SD)
    right = np.maximum(1 - wet - dry, 0.0)
    return _weighed(weights, dict(zip(WORDS, (wet, right, dry), strict=True))[word])


def after_draining(weights: Array, missing_share: Array, drained_share: float) -> Array:
    """Return the weights after a pot was watered until water ran out below.

    Parameters
    ----------
    weights : array (17, 5)
    missing_share : array (17,)
        Water missing over capacity before it was watered, under each factor.
    drained_share : float
        Litres it took until it ran, over the capacity.

    Returns
    -------
    array (17, 5), sum 1
        No hand is in it, so the bias learns nothing here.
    """
    distance = (np.asarray(missing_share) - drained_share) / _poured_sd(drained_share)
    return _weighed(weights, np.exp(-0.5 * distance**2)[:, None])


def after_keeping(weights: Array, missing_share: Array, given_share: float) -> Array:
    """Return the weights after a pot was given water of which none ran out below.

    Parameters
    ----------
    weights : array (17, 5)
    missing_share : array (17,)
        Water missing over capacity before it was watered, under each factor.
    given_share : float
        Litres it was given, over the capacity: at least as much was missing.

    Returns
    -------
    array (17, 5), sum 1
        The bias learns nothing here either.
    """
    margin = np.asarray(missing_share) - given_share
    return _weighed(weights, _normal_below(margin, _poured_sd(given_share))[:, None])


def _poured_sd(share: float) -> float:
    """Return the standard deviation of litres read off a can, over the capacity [-]."""
    return DRAINED_SD + DRAINED_SD_SHARE * share


def estimate(weights: Array) -> DemandEstimate:
    """Return the mean factor and its spread, from the logarithms' own.

    Parameters
    ----------
    weights : array (17, 5)
    """
    by_factor = weights.sum(axis=1)
    logs = np.log(FACTORS)
    mean = float((by_factor * logs).sum())
    variance = float((by_factor * (logs - mean) ** 2).sum())
    factor = float(np.exp(mean))
    return DemandEstimate(factor, factor * float(np.sqrt(variance)))
