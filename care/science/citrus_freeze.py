"""Citrus in a freeze: when ripe fruit freezes on the tree, and unhardened wood."""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from care.facts import Origin, Situation, SpeciesFacts, Stage, WeatherSeries
from care.science.crop import is_bearing
from care.science.frost import ROUNDING_C, fahrenheit_to_c
from care.science.season import is_in_span

# LSU AgCenter: trees that had no cold yet freeze 5-6 degF warmer than hardened ones.
UNHARDENED_C = 5.5 / 1.8
# Common practice, no source: two weeks of nights near 10 degC harden citrus.
HARDENING_DAYS = 14
HARDENING_NIGHT_C = 10.0
LEAST_KNOWN_NIGHTS = 7
YOUNG_YEARS = 3.0
LONGEST_HARVEST_DAYS = 180  # a last picking is of this crop; citrus hang half a year


@dataclass(frozen=True, slots=True)
class FruitFreeze:
    """How cold, for how long, fruit on the tree bears [degC, h]."""

    below_c: float
    hours: float


# University of Florida IFAS: harvest before it is below 28 degF for four hours. LSU
# AgCenter: fruit of satsumas freezes at 28-30 degF in two hours; the warm end is taken.
FOUR_HOURS = FruitFreeze(fahrenheit_to_c(28), 4.0)
FRUIT_FREEZES = {
    "mandarin_satsuma": (FOUR_HOURS, FruitFreeze(fahrenheit_to_c(30), 2.0)),
    # LSU AgCenter: navel oranges at 26 degF in two hours.
    "orange": (FOUR_HOURS, FruitFreeze(fahrenheit_to_c(26), 2.0)),
}


def harvest_alert(
    minimum_c: float,
    hours_below: float | None,
    limit: FruitFreeze = FOUR_HOURS,
) -> bool:
    """Return whether ripe citrus should be picked before a night.

    Parameters
    ----------
    minimum_c : float
        Expected at the tree.
    hours_below : float or None
        At or below the limit's temperature; ``None`` where nobody knows, which counts
        as long enough: fruit that is ripe loses nothing by being picked.
    limit : FruitFreeze
        By default below 28 degF for four hours (UF/IFAS).
    """
    is_cold = minimum_c <= limit.below_c + ROUNDING_C
    return is_cold and (hours_below is None or hours_below >= limit.hours)


def fruit_freezes(species: SpeciesFacts) -> tuple[FruitFreeze, ...]:
    """Return the limits of a species' ripe fruit, empty for other fruit than citrus."""
    if species.feed_group != "citrus":
        return ()
    return FRUIT_FREEZES.get(species.key, (FOUR_HOURS,))


def has_ripe_fruit(situation: Situation) -> bool:
    """Return whether a bearing tree is in its harvest window today.

    From the catalogue's months, which for citrus are those in which it hangs ripe,
    until somebody logged the last picking of the season.
    """
    tree, today = situation.tree, situation.today
    span = tree.species.harvest
    if span is None or not is_bearing(tree, today) or _is_picked(situation):
        return False
    return is_in_span(today, span, southern=situation.site.is_southern)


def _is_picked(situation: Situation) -> bool:
    ago = (
        (situation.today - stage.on).days
        for stage in situation.stages
        if stage.stage is Stage.HARVEST and stage.basis == "seen"
    )
    return any(0 <= days < LONGEST_HARVEST_DAYS for days in ago)


def is_young_citrus(situation: Situation) -> bool:
    """Return whether a citrus is known to be in its first three years."""
    years = situation.tree.years_since_planting(situation.today)
    is_young = years is not None and years < YOUNG_YEARS
    return is_young and situation.tree.species.feed_group == "citrus"


def unhardened_c(series: WeatherSeries | None, today: date) -> float:
    """Return by how much less cold citrus bears for want of a cool fortnight [degC].

    5.5 degF (LSU AgCenter) where the last two weeks' nights were warm on average; 0
    where they were cool, or where fewer than seven of them were observed.
    """
    if series is None:
        return 0.0
    days = (today - timedelta(days=back) for back in range(1, HARDENING_DAYS + 1))
    nights = [
        float(series.tmin_c[series.index(day)])
        for day in days
        if series.covers(day) and series.origin_on(day) is Origin.OBSERVED
    ]
    known = [night for night in nights if not np.isnan(night)]
    if len(known) < LEAST_KNOWN_NIGHTS:
        return 0.0
    return UNHARDENED_C if float(np.mean(known)) > HARDENING_NIGHT_C else 0.0
