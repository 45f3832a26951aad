"""What cold a tree bears today: by its pot, its age, its buds and its hardening."""

from dataclasses import dataclass, replace
from datetime import date, timedelta

from care.facts import Situation, Stage, StageDay
from care.science.citrus_freeze import YOUNG_YEARS, unhardened_c
from care.science.frost import (
    UNVERIFIED_SPECIES,
    Severity,
    bud_critical_c,
    bud_stages,
    fahrenheit_to_c,
    frost_severity,
)
from care.science.season import (
    HARDY_LEAD_DAYS,
    is_in_span,
    is_tender,
    last_frost_in,
    season_of,
)

# A figure nobody could check must not sound late: it is taken warmer by this much.
UNVERIFIED_MARGIN_C = 2.0
STAGE_DAYS = 21  # a bloom stage seen longer ago than this says nothing of today
NOT_BLOOMING = frozenset({"", "dormant", "leaf_drop", "harvest", "none"})
BUD_HOURS = 0.5  # the published bud temperatures are for thirty minutes
# Common practice, no source: growers bring frost-tender pots in below 40 degF.
TENDER_POT_C = fahrenheit_to_c(40)
# Ours: wood that meets its limit by 5 degF more is badly hurt; no source.
SEVERE_C = 5 / 1.8
PETAL_FALL_DAYS = 7  # after full bloom; common practice, no source
OPENING_DAYS = 10  # before full bloom the first flowers open; ours
FRUITLET_DAYS = 21  # after petal fall small fruit is as tender as flowers; ours


@dataclass(frozen=True, slots=True)
class Limit:
    """A temperature the plant bears, and where the figure comes from.

    ``worst_c`` is the one of great loss; ``hours`` the time the figure is for, where
    published; ``unhardened_c`` was added for want of a cool fortnight.
    """

    threshold_c: float
    field: str
    source: str
    is_unverified: bool = False
    stage: str = ""
    worst_c: float | None = None
    hours: float | None = None
    unhardened_c: float = 0.0

    @property
    def hardened_c(self) -> float:
        """The threshold as it is in a cool winter."""
        return self.threshold_c - self.unhardened_c

    def alarm_c(self, margin_c: float) -> float:
        """Return the minimum from which to act, before rounding slack."""
        extra = UNVERIFIED_MARGIN_C if self.is_unverified else 0.0
        return self.threshold_c + margin_c + extra

    def severity(self, minimum_c: float) -> Severity:
        """Return how bad a minimum is for buds, wood or roots."""
        return frost_severity(minimum_c, self.threshold_c, self.worst_c)


def warmest_limit(situation: Situation) -> Limit | None:
    """Return the limit that is met first as the night cools, or ``None``.

    A pot's is its move-in temperature and never the ground's plus something, for roots
    set it; a tree's in the ground that of its age. Open buds may bear less than both.
    """
    standing = standing_limit(situation)
    limits = [limit for limit in (standing, bud_limit(situation)) if limit is not None]
    margin_c = situation.site.frost_margin_c
    return max(limits, key=lambda limit: limit.alarm_c(margin_c), default=None)


def standing_limit(situation: Situation) -> Limit | None:
    """Return what a pot, or a tree in the ground as hardened as it is, stands."""
    if situation.tree.in_container:
        return _pot(situation)
    wood = wood_limit(situation)
    return None if wood is None else _hardened(situation, wood)


def _figure(situation: Situation, field: str, value: float | None) -> Limit | None:
    if value is None:
        return None
    species = situation.tree.species
    return Limit(
        value,
        field,
        species.source_of(field),
        field in species.unverified,
        worst_c=value - SEVERE_C,
    )


def _pot(situation: Situation) -> Limit | None:
    species = situation.tree.species
    own = _figure(situation, "move_in_temp_c", species.move_in_temp_c)
    if own is not None or not is_tender(species):
        return own
    # Growers' own figure is warm enough to need no further margin for doubt.
    worst_c = TENDER_POT_C - SEVERE_C
    return Limit(TENDER_POT_C, "tender_pot", "common_practice", worst_c=worst_c)


def wood_limit(situation: Situation) -> Limit | None:
    """Return what hardened wood of a tree's age bears; unknown age counts as young.

    A grown tree's figure in the place of a young one's is too cold, hence unverified.
    """
    species = situation.tree.species
    years = situation.tree.years_since_planting(situation.today)
    young = _figure(situation, "damage_temp_young_c", species.damage_temp_young_c)
    grown = _figure(situation, "damage_temp_mature_c", species.damage_temp_mature_c)
    if years is None or years < YOUNG_YEARS:
        if young is None and grown is not None:
            return replace(grown, is_unverified=True)
        return young
    return young if grown is None else grown


def _hardened(situation: Situation, limit: Limit) -> Limit:
    """Return the limit of a citrus as warmer where it had no cool fortnight yet."""
    if situation.tree.species.feed_group != "citrus":
        return limit
    extra_c = unhardened_c(situation.weather, situation.today)
    return replace(
        limit,
        threshold_c=limit.threshold_c + extra_c,
        worst_c=None if limit.worst_c is None else limit.worst_c + extra_c,
        unhardened_c=extra_c,
    )


def bud_limit(situation: Situation) -> Limit | None:
    """Return what buds and flowers bear: as seen, else as modelled, else by month."""
    today = situation.today
    since = today - timedelta(days=STAGE_DAYS)
    seen = [r.word for r in situation.observed("bloom_stage") if r.on >= since]
    if seen:
        return _at_stage(situation, seen[-1])
    season = season_of(today, southern=situation.site.is_southern)
    blooms = [
        known
        for crop in (season - 1, season)  # winter bloom bears last year's name
        if (known := situation.stage_day(Stage.FULL_BLOOM, crop)) is not None
        and known.basis != "months"
    ]
    if blooms:
        modelled = (_modelled(situation, bloom) for bloom in blooms)
        return next((limit for limit in modelled if limit is not None), None)
    if not _may_bloom_by_month(situation):
        return None
    species = situation.tree.species
    found = _figure(situation, "bloom_damage_temp_c", species.bloom_damage_temp_c)
    return None if found is None else replace(found, stage="by_month", worst_c=None)


def _modelled(situation: Situation, bloom: StageDay) -> Limit | None:
    """Return the limit of the stage that one crop's stage days put today at."""
    today = situation.today
    fall = situation.stage_day(Stage.PETAL_FALL, bloom.season)
    fallen_on = bloom.on + timedelta(days=PETAL_FALL_DAYS) if fall is None else fall.on
    has_table = bool(bud_stages(situation.tree.species.key))
    broke = situation.stage_day(Stage.BUD_BREAK, bloom.season) if has_table else None
    lead = timedelta(days=HARDY_LEAD_DAYS if has_table else OPENING_DAYS)
    broke_on = bloom.on - lead if broke is None else broke.on
    if not broke_on <= today <= fallen_on + timedelta(days=FRUITLET_DAYS):
        return None
    return _at_stage(
        situation, _stage_between(situation, broke_on, bloom.on, fallen_on)
    )


def _stage_between(
    situation: Situation, broke_on: date, full_on: date, fallen_on: date
) -> str:
    """Return the published stage of a day, stages following each other evenly (ours).

    Rounded towards the later stage, which bears less cold.
    """
    today, stages = situation.today, bud_stages(situation.tree.species.key)
    if today >= fallen_on:
        return "post_bloom"
    if today >= full_on or not stages:
        return "full_bloom"
    span = (full_on - broke_on).days
    steps = stages.index("full_bloom")
    return stages[-(-(today - broke_on).days * steps // span)]


def _may_bloom_by_month(situation: Situation) -> bool:
    """Return whether the catalogue's months and the site allow open buds.

    The months hold for all climates: where the last frost is late, a bare tree still
    rests in the first of them, and its buds are as hardy as its wood.
    """
    species, site, today = situation.tree.species, situation.site, situation.today
    southern = site.is_southern
    if species.bloom is None or not is_in_span(today, species.bloom, southern=southern):
        return False
    frost = last_frost_in(season_of(today, southern=southern), site)
    if species.is_evergreen or frost is None:
        return True
    return today >= frost - timedelta(days=HARDY_LEAD_DAYS)


def _at_stage(situation: Situation, stage: str) -> Limit | None:
    species = situation.tree.species
    if stage in NOT_BLOOMING:
        return None
    critical = bud_critical_c(species.key, stage)
    if critical is None and stage == "post_bloom":
        critical = bud_critical_c(species.key, "green_fruit")  # as apricots call it
    if critical is not None:
        return Limit(
            critical[0],
            "bud_stage",
            "psu_orchard_frost",
            species.key in UNVERIFIED_SPECIES,
            stage,
            critical[1],
            BUD_HOURS,
        )
    found = _figure(situation, "bloom_damage_temp_c", species.bloom_damage_temp_c)
    return None if found is None else replace(found, stage=stage, worst_c=None)
