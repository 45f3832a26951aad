"""Whether a place's winters bring the chill a kind asks for.

Hours of 0 to 7.2 degC, or portions of the Dynamic model where a cultivar's need is
known in them: portions hold where winters are mild, hours do not. Each winter comes by
two night curves; a need is surely met by both and perhaps met by one.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from care.facts import Array, CultivarFacts, SpeciesFacts
from care.facts.fit import Factor, Topic, Verdict
from care.science.fit_verdicts import at_worst, within
from care.science.fit_years import FitYears

LEAST_SHARE = 0.5  # of winters, below which a kind does not fit; ours
GOOD_SHARE = 0.9  # of winters, from which it fits; ours
# Up to so many hours a need excludes nothing: in mild winters hours are few or none,
# and yet such kinds are grown there (from memory: persimmon in Queensland).
LOW_NEED_H = 200.0
SLACK_H = 1e-6
HOURS, PORTIONS = "h", "portions"


@dataclass(frozen=True, slots=True)
class ChillNeed:
    """What a kind asks of a winter, in ``unit``.

    ``least`` and ``most`` are the ends of a cultivar's range; of a species those of
    the cultivars that ask least and most. ``floor`` is what every cultivar of the
    species asks at least, where that was read. ``is_soft`` is for what keeps its leaves
    or grows in the tropics: cool helps it to flower, but it does not rest without.
    """

    unit: str
    least: float
    most: float
    is_unverified: bool
    is_cultivar: bool
    floor: float | None = None
    is_soft: bool = False
    sources: tuple[str, ...] = ()
    floor_sources: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class TimesMet:
    """In how many winters a need is met, by the slower and the quicker night curve."""

    surely: int
    perhaps: int


def chill_need(
    species: SpeciesFacts,
    cultivar: CultivarFacts | None,
    siblings: Sequence[CultivarFacts] = (),
) -> ChillNeed | None:
    """Return what a kind asks for, ``None`` where no figure is known.

    Parameters
    ----------
    species : SpeciesFacts
    cultivar : CultivarFacts or None
        ``None`` for the species as a whole.
    siblings : sequence of CultivarFacts
        Known cultivars of the species: it asks no more than the least of them.
    """
    is_soft = species.is_evergreen or species.feed_group == "tropical"
    if cultivar is not None and cultivar.chill_portions is not None:
        return ChillNeed(
            PORTIONS,
            cultivar.chill_portions,
            cultivar.chill_portions,
            "chill_portions" in cultivar.unverified,
            is_cultivar=True,
            is_soft=is_soft,
            sources=_sources(cultivar, "chill_portions"),
        )
    if cultivar is not None and cultivar.chill_hours_min is not None:
        return _of_cultivar(species, cultivar, cultivar.chill_hours_min, is_soft)
    return _of_species(species, siblings, is_soft)


def _of_cultivar(
    species: SpeciesFacts,
    cultivar: CultivarFacts,
    least: float,
    is_soft: bool,  # noqa: FBT001
) -> ChillNeed:
    most = cultivar.chill_hours_max
    floor = None
    if "chill_hours_min" not in species.unverified:
        floor = species.chill_hours_min
    return ChillNeed(
        HOURS,
        least,
        least if most is None else most,
        "chill_hours_min" in cultivar.unverified,
        is_cultivar=True,
        floor=floor if floor is not None and floor <= least else None,
        is_soft=is_soft,
        sources=_sources(cultivar, "chill_hours_min", "chill_hours_max"),
        floor_sources=_sources(species, "chill_hours_min"),
    )


def _of_species(
    species: SpeciesFacts,
    siblings: Sequence[CultivarFacts],
    is_soft: bool,  # noqa: FBT001
) -> ChillNeed | None:
    least = species.chill_hours_min
    if least is None:
        return None
    is_unverified = "chill_hours_min" in species.unverified
    sources = _sources(species, "chill_hours_min", "chill_hours_max")
    for each in siblings:
        if each.chill_hours_min is not None and each.chill_hours_min < least:
            least = each.chill_hours_min
            is_unverified = "chill_hours_min" in each.unverified
            sources = _sources(each, "chill_hours_min") + sources[1:]
    most = species.chill_hours_max
    return ChillNeed(
        HOURS,
        least,
        least if most is None else max(least, most),
        is_unverified,
        is_cultivar=False,
        is_soft=is_soft,
        sources=sources,
    )


def _sources(kind: SpeciesFacts | CultivarFacts, *fields: str) -> tuple[str, ...]:
    known = dict(kind.sources)
    return tuple(dict.fromkeys(known.get(field, "") for field in fields))


def times_met(received: Array, needs: Sequence[float]) -> list[TimesMet]:
    """Return in how many winters each of some needs is met.

    Parameters
    ----------
    received : array (night curves, winters)
        Hours or portions.
    needs : sequence of float
        In the same unit.
    """
    wanted = np.asarray(needs, dtype=np.float64)
    is_met = received[:, None, :] >= wanted[None, :, None] - SLACK_H
    surely, perhaps = is_met.all(axis=0).sum(axis=1), is_met.any(axis=0).sum(axis=1)
    return [
        TimesMet(int(least), int(most))
        for least, most in zip(surely, perhaps, strict=True)
    ]


def chill_factors(
    needs: Sequence[ChillNeed | None], years: FitYears | None
) -> list[Factor]:
    """Return the verdict on the chill of each need, in their order."""
    if years is None:
        return [_without_weather(need) for need in needs]
    asked = [
        value
        for need in needs
        for value in (
            (0.0, 0.0, 0.0)
            if need is None
            else (need.least, need.most, need.floor or 0.0)
        )
    ]
    by_unit = {
        HOURS: times_met(years.chill_hours, asked),
        PORTIONS: times_met(years.portions, asked),
    }
    found = []
    for place, need in enumerate(needs):
        if need is None:
            found.append(Factor(Topic.CHILL, Verdict.UNKNOWN, "chill_no_figure"))
            continue
        met = by_unit[need.unit][3 * place : 3 * place + 3]
        found.append(_factor(need, met, years))
    return found


def _without_weather(need: ChillNeed | None) -> Factor:
    if need is not None and need.most <= 0:
        return _none_needed(need)
    code = "chill_no_figure" if need is None else "chill_no_weather"
    return Factor(Topic.CHILL, Verdict.UNKNOWN, code)


def _none_needed(need: ChillNeed) -> Factor:
    return Factor(
        Topic.CHILL,
        Verdict.GOOD,
        "chill_none_needed",
        is_unverified=need.is_unverified,
        sources=need.sources,
    )


def _factor(need: ChillNeed, met: Sequence[TimesMet], years: FitYears) -> Factor:
    if need.most <= 0:
        return _none_needed(need)
    received = years.chill_hours if need.unit == HOURS else years.portions
    winters = received.shape[1]
    least, most, floor = met
    verdict, code = _verdict(need, least, most, floor, winters)
    by_floor = code == "chill_short_all"
    usual = np.median(received, axis=1)
    return Factor(
        Topic.CHILL,
        verdict,
        code,
        (
            ("unit", need.unit),
            ("need_least", need.least),
            ("need_most", need.most),
            ("winters", float(winters)),
            ("met_surely", float(least.surely)),
            ("met_perhaps", float(least.perhaps)),
            ("need_floor", need.floor),
            ("floor_met_surely", float(floor.surely)),
            ("floor_met_perhaps", float(floor.perhaps)),
            ("most_met_surely", float(most.surely)),
            ("most_met_perhaps", float(most.perhaps)),
            ("usual_low", float(usual.min())),
            ("usual_high", float(usual.max())),
        ),
        margin=_margin(need, float(usual.mean())),
        is_unverified=need.is_unverified and not by_floor,
        sources=(
            *need.sources,
            *(need.floor_sources if by_floor else ()),
            _MODELS[need.unit],
        ),
        fixes=_fixes(need, verdict, code),
    )


_MODELS = {HOURS: "weinberger_1950", PORTIONS: "fishman_1987"}


def _margin(need: ChillNeed, usual: float) -> float:
    return 1.0 if need.least <= 0 else within((usual - need.least) / need.least)


def _verdict(
    need: ChillNeed, least: TimesMet, most: TimesMet, floor: TimesMet, winters: int
) -> tuple[Verdict, str]:
    """Return the verdict of one need and its sentence."""
    verdict = _by_share(least, winters)
    if need.is_soft:
        verdict = at_worst(verdict, Verdict.FAIR)
        return verdict, "chill_met" if verdict is Verdict.GOOD else "chill_soft"
    if verdict is Verdict.NO and need.is_unverified:
        if _excludes(need, floor, winters):
            return Verdict.NO, "chill_short_all"
        verdict = Verdict.POOR
    if verdict is Verdict.NO and need.unit == HOURS and need.least <= LOW_NEED_H:
        return Verdict.POOR, "chill_few_hours"
    if verdict is not Verdict.GOOD:
        return verdict, "chill_short"
    return _by_most(need, most, winters)


def _by_most(need: ChillNeed, most: TimesMet, winters: int) -> tuple[Verdict, str]:
    """Return the verdict where the least of a range is met, by whether the most is."""
    if _by_share(most, winters) is Verdict.GOOD:
        return Verdict.GOOD, "chill_met"
    code = "chill_may_ask_more" if need.is_cultivar else "chill_choose_low"
    return Verdict.FAIR, code


def _excludes(need: ChillNeed, floor: TimesMet, winters: int) -> bool:
    """Return whether what every cultivar asks, as read, is short already."""
    return need.floor is not None and _by_share(floor, winters) is Verdict.NO


def _by_share(met: TimesMet, winters: int) -> Verdict:
    if met.perhaps / winters < LEAST_SHARE:
        return Verdict.NO
    return Verdict.GOOD if met.surely / winters >= GOOD_SHARE else Verdict.FAIR


def _fixes(need: ChillNeed, verdict: Verdict, code: str) -> tuple[str, ...]:
    if verdict is Verdict.GOOD or need.is_soft:
        return ()
    return ("low_chill_cultivar" if code == "chill_choose_low" else "other_cultivar",)
