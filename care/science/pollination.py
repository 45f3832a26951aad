"""Whether a plant has the pollen it needs, from whom, and what it lacks.

Distances are metres on the plan. Who may pollinate whom is judged in
`cross_pollination`; what is particular to a kind stands in `pollination_kinds`.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cache
from itertools import combinations

from care.facts import PlantFacts, Standing
from care.science.cross_pollination import Flowers, Match, Refusal, judge, own_flowers
from care.science.pollen_pairs import Reached, best_pair
from care.science.pollen_partners import (
    NotPartner,
    Partner,
    goodness,
    nearness,
    not_partner_at,
    partner_at,
)
from care.science.pollen_sources import (
    Crowd,
    Reach,
    crowds_by_species,
    crowds_of,
    nearest,
)
from care.science.pollination_kinds import FEMALES_A_MALE, ReachRule, reach_rule
from care.science.pollination_need import Figure, Need, figure_of


class Verdict(StrEnum):
    """How a plant fares."""

    ALONE = "alone"
    HELPED = "helped"
    SETS_ALONE = "sets_alone"
    PARTNERED = "partnered"
    FAR = "far"
    PERHAPS = "perhaps"
    LACKS_SECOND = "lacks_second"
    LACKS = "lacks"
    GIVES_POLLEN = "gives_pollen"
    SEX_NOT_KNOWN = "sex_not_known"
    NOT_KNOWN = "not_known"


@dataclass(frozen=True, slots=True)
class Pollination:
    """One plant of ours or wanted; ``partners`` and ``others``, best first.

    ``females_at_its_male`` counts the females of a kiwi whose nearest male is the same.
    """

    ref: str
    figure: Figure
    verdict: Verdict
    partners: tuple[Partner, ...]
    others: tuple[NotPartner, ...]
    rule: ReachRule
    is_pollen_sterile: bool = False
    females_at_its_male: int = 0

    @property
    def has_crowded_male(self) -> bool:
        """Whether more females share its male than one serves."""
        if not self.females_at_its_male:
            return False
        return self.females_at_its_male > FEMALES_A_MALE[self.partners[0].species_key]


def pollinations(
    plants: Sequence[PlantFacts], *, only: str = ""
) -> tuple[Pollination, ...]:
    """Return how each plant of ours and each wanted one fares, in their order.

    Of one whose ref is ``only``, where that is given: then nobody counts who else
    leans on its male.

    Neighbours' trees give pollen and are not asked what they need. Wanted trees count
    as partners; who reads the answer sees by ``standing`` that they are to come.

    Notes
    -----
    A plant without good pollen needs two others that pollinate it and each other.
    Adding a plant never makes a verdict worse.
    """
    judged: Callable[[Flowers, Flowers], Match | Refusal] = cache(judge)
    seen = crowds_by_species(crowds_of(plants))
    rows = [
        _pollination(plant, seen.get(plant.species.key, []), judged)
        for plant in plants
        if plant.standing is not Standing.NEIGHBOUR and only in {"", plant.ref}
    ]
    return _with_shared_males(rows)


Judge = Callable[[Flowers, Flowers], Match | Refusal]


def _pollination(
    plant: PlantFacts, crowds: Iterable[Crowd], judged: Judge
) -> Pollination:
    figure, rule = figure_of(plant), reach_rule(plant.species.key)
    receiver = own_flowers(plant)
    partners: list[Partner] = []
    others: list[NotPartner] = []
    matched: list[Reached] = []
    for crowd in crowds:
        found = nearest(crowd, plant, rule)
        if found is None:
            continue
        answer = judged(receiver, crowd.flowers)
        if isinstance(answer, Match) and found.reach is not Reach.TOO_FAR:
            partners.append(
                partner_at(crowd, found.spot, found.reach, found.distance_m, answer)
            )
            matched.append((crowd, answer))
        else:
            why = answer if isinstance(answer, Refusal) else Refusal.TOO_FAR
            others.append(not_partner_at(crowd, found.spot, found.distance_m, why))
    partners.sort(key=goodness)
    others.sort(key=nearness)
    row = Pollination(
        ref=plant.ref,
        figure=figure,
        verdict=_verdict(figure.need, partners[0].reach if partners else None),
        partners=tuple(partners),
        others=tuple(others),
        rule=rule,
        is_pollen_sterile=receiver.is_pollen_sterile,
    )
    if receiver.is_pollen_sterile and figure.need is Need.PARTNER and partners:
        return _with_two(row, plant, matched, judged)
    return row


def _verdict(need: Need, reach: Reach | None) -> Verdict:
    match need:
        case Need.PARTNER:
            return _PARTNERED[reach or Reach.TOO_FAR]
        case Need.BETTER_WITH:
            is_helped = reach in {Reach.NEAR, Reach.FAR}
            return Verdict.HELPED if is_helped else Verdict.SETS_ALONE
        case _:
            return _UNASKED[need]


_PARTNERED = {
    Reach.NEAR: Verdict.PARTNERED,
    Reach.FAR: Verdict.FAR,
    Reach.PERHAPS: Verdict.PERHAPS,
    Reach.TOO_FAR: Verdict.LACKS,
}
_UNASKED = {
    Need.ITSELF: Verdict.ALONE,
    Need.NOTHING: Verdict.GIVES_POLLEN,
    Need.SEX_NOT_KNOWN: Verdict.SEX_NOT_KNOWN,
    Need.NOT_KNOWN: Verdict.NOT_KNOWN,
}


def _with_two(
    row: Pollination, plant: PlantFacts, matched: Sequence[Reached], judged: Judge
) -> Pollination:
    """Return the row of a plant with bad pollen: two partners that are partners too."""
    best: tuple[int, Partner, Partner] | None = None
    for (one, match), (other, its_match) in combinations(matched, 2):
        # Both have good pollen, so that one direction answers for the other.
        if not isinstance(judged(one.flowers, other.flowers), Match):
            continue
        pair = best_pair(plant, (one, match), (other, its_match), row.rule)
        if best is None or pair[0] > best[0]:
            best = pair
    if best is None or best[0] == Reach.TOO_FAR:
        return replace(row, verdict=Verdict.LACKS_SECOND)
    reach, *two = best
    rest = [each for each in row.partners if each not in two]
    two.sort(key=goodness)
    verdict = _PARTNERED[Reach(reach)]
    return replace(row, verdict=verdict, partners=(*two, *rest))


def _with_shared_males(rows: Sequence[Pollination]) -> tuple[Pollination, ...]:
    """Count the females of a kiwi that lean on the same male."""
    males = [_its_male(row) for row in rows]
    females = Counter(male for male in males if male)
    return tuple(
        replace(row, females_at_its_male=females[male]) if male else row
        for row, male in zip(rows, males, strict=True)
    )


def _its_male(row: Pollination) -> str:
    if row.figure.need is not Need.PARTNER or not row.partners:
        return ""
    best = row.partners[0]
    return best.ref if best.species_key in FEMALES_A_MALE else ""
