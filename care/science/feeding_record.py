"""What the log and the readings say of one tree's feeding so far."""

from dataclasses import dataclass, replace
from datetime import date, timedelta

from care.facts import (
    Answer,
    Observation,
    Situation,
    SpeciesFacts,
    WaterOutlook,
    WorkDone,
)
from care.science.crop import is_bearing
from care.science.feeding_windows import split_windows
from care.science.growth_gauge import (
    CONTENT,
    HUNGRY,
    SHARE,
    growth_band_mm,
    read_gauge,
)
from care.science.nutrients import is_sandy
from care.science.season import (
    Window,
    season_date,
    season_of,
    start_of_growth,
    work_of_season,
)
from care.science.soil import drains_slowly

KIND = "feeding"
GROWTH, TOLD = "growth", "told"  # keys of looks and words, which give nothing
SETTLE_DAYS = 21  # UF/IFAS HS132: citrus is first fed three weeks after planting
PLANTING_GROWTH_MM = 150.0  # Texas A&M: first feed once 6 in have grown
GAUGE_DAYS = 365
POT_TIMES_A_SEASON = 4  # little and often: watering leaches pots; no source
SANDY_TIMES = 2  # NC State: half in late winter, half in May on sandy soil

CAUSE = "short_shoots_cause"
# What may be found to keep shoots short; only hunger asks for the whole ladder.
HUNGER, OTHER_CAUSE, UNSURE = "none", "not_hungry", "unsure"
# Reasons for leaving the question out that say it is not hunger.
NOT_FED_FOR = (OTHER_CAUSE, "soil_dry", "grows_enough", "fed_otherwise")
# Reasons for leaving out thinning or picking that mean there is hardly any crop.
NO_CROP = ("no_crop", "light_crop")


def as_fed(situation: Situation) -> SpeciesFacts:
    """Return the species with its parts a season where it stands.

    More of them in a pot; two for tree fruit on sandy soil.
    """
    tree = situation.tree
    species, times = tree.species, tree.species.feed_times_per_year or 1
    if tree.in_container:
        times = max(times, POT_TIMES_A_SEASON)
    elif is_sandy(situation.site) and species.feed_group in ("pome", "stone"):
        times = max(times, SANDY_TIMES)
    return replace(species, feed_times_per_year=times)


def season_windows(situation: Situation, season: int) -> tuple[Window, ...]:
    """Return the windows of one season's parts for a tree where it stands."""
    return split_windows(
        season,
        as_fed(situation),
        situation.site,
        start=start_of_growth(situation, season).on,
        spread_out=situation.tree.in_container,
    )


def is_dose(work: WorkDone) -> bool:
    """Return whether logged feeding put anything on the ground."""
    is_word = work.key.rpartition("/")[2] in (GROWTH, TOLD)
    return work.what == "done" and not is_word


def doses(situation: Situation, season: int) -> tuple[WorkDone, ...]:
    """Return what was fed in one season, oldest first."""
    return tuple(w for w in work_of_season(situation, KIND, season) if is_dose(w))


def last_dose_on(situation: Situation) -> date | None:
    """Return the day of the last feeding of any season."""
    days = [work.on for work in situation.logged(KIND) if is_dose(work)]
    return days[-1] if days else None


def given_nitrogen_g(situation: Situation, season: int, split_g: float) -> float:
    """Return the grams of nitrogen given this season.

    A feeding of unknown amount counts as one split of ``split_g``, and so does every
    split that began before a tree entered as already fed.
    """
    given = sum(
        split_g if work.amount is None else work.amount
        for work in doses(situation, season)
    )
    return given + split_g * _fed_before_entry(situation, season)


def _fed_before_entry(situation: Situation, season: int) -> int:
    tree = situation.tree
    if tree.fed_before is not Answer.YES:
        return 0
    windows = season_windows(situation, season)
    return sum(window.start <= tree.entered_on for window in windows)


def is_past_unknown(situation: Situation, season: int) -> bool:
    """Return whether the tree may have been fed this season without our knowing.

    Only a tree that was entered after growth began, long after its planting, with no
    answer and no logged amount since.
    """
    tree = situation.tree
    if tree.fed_before is not Answer.UNKNOWN:
        return False
    if tree.entered_on <= start_of_growth(situation, season).on:
        return False
    planted = tree.planted_on
    if planted and tree.entered_on <= planted + timedelta(days=SETTLE_DAYS):
        return False
    return all(work.amount is None for work in doses(situation, season))


def is_settling(situation: Situation, season: int) -> bool:
    """Return whether a leaf-shedding tree has yet to grow in its planting year.

    University of Arizona feeds none in the planting year; Texas A&M once six inches
    have grown: the reading decides.
    """
    tree = situation.tree
    planted = tree.planted_on
    if planted is None or tree.species.is_evergreen:
        return False
    if season_of(planted, southern=situation.site.is_southern) != season:
        return False
    return not any(
        reading.on > planted and (reading.value or 0) >= PLANTING_GROWTH_MM
        for reading in situation.observed("shoot_growth_mm")
    )


@dataclass(frozen=True, slots=True)
class Growth:
    """The latest year's shoots against the band of their kind.

    ``verdict`` is ``short``, ``in_band`` or ``long``. ``cause`` is what was found to
    keep them short, ``none`` for hunger, and ``""`` while nobody has looked.
    """

    shoot_mm: float
    on: date
    low_mm: float
    high_mm: float
    verdict: str
    cause: str

    @property
    def is_to_be_asked(self) -> bool:
        """Whether somebody has to look why the shoots are short before a dose."""
        return self.verdict == HUNGRY and not self.cause

    @property
    def share(self) -> float:
        """The part of the nitrogen that the growth asks for.

        Half where nobody could tell why shoots are short, nothing where it is another
        cause than hunger.
        """
        if self.verdict == HUNGRY and self.cause == UNSURE:
            return SHARE[CONTENT]
        is_hunger = self.verdict != HUNGRY or self.cause in ("", HUNGER)
        return SHARE[self.verdict] if is_hunger else 0.0


def growth(situation: Situation, season: int) -> Growth | None:
    """Return how the tree grew by a reading of the last year, or ``None``.

    Shoots may be short from drought, wet roots or a slow start after planting as well
    as from hunger, so somebody has to look before they are fed on that account. The
    shoots of its planting season say nothing of hunger; the bands were published for
    trees in the ground.
    """
    tree, today = situation.tree, situation.today
    is_grown = is_bearing(tree, today)
    species = tree.species
    band = growth_band_mm(species.key, species.feed_group, is_bearing=is_grown)
    reading = _last_reading(situation)
    if tree.in_container or band is None or reading is None or reading.value is None:
        return None
    return Growth(
        shoot_mm=reading.value,
        on=reading.on,
        low_mm=band[0],
        high_mm=band[1],
        verdict=read_gauge(reading.value, band),
        cause=_cause(situation, season, reading.on),
    )


def _last_reading(situation: Situation) -> Observation | None:
    since = situation.today - timedelta(days=GAUGE_DAYS)
    planted, southern = situation.tree.planted_on, situation.site.is_southern
    if planted is not None:
        own_season = season_of(planted, southern=southern)
        since = max(since, season_date(own_season + 1, 11, 1, southern=southern))
    recent = [
        reading
        for reading in situation.observed("shoot_growth_mm")
        if reading.value is not None and reading.on >= since
    ]
    return recent[-1] if recent else None


def _cause(situation: Situation, season: int, since: date) -> str:
    """Return what was found to keep shoots short, or ``""``.

    Said as an observation, or by ticking the question (hunger) or leaving it out.
    """
    said = [seen.word for seen in situation.observed(CAUSE) if seen.on >= since]
    if said:
        return said[-1]
    looked = [
        work
        for work in work_of_season(situation, KIND, season)
        if work.key == f"{season}/{GROWTH}" and work.on >= since
    ]
    if not looked:
        return ""
    if looked[-1].what == "done":
        return HUNGER
    return OTHER_CAUSE if looked[-1].reason in NOT_FED_FOR else UNSURE


YOUNG_YEARS = 3.0  # common practice, no source: a transplant may stall as long


def suspects(situation: Situation) -> tuple[str, ...]:
    """Return what the records already suggest kept shoots short, worst known first.

    ``dry``, ``wet`` and ``planting``: a hint for whoever looks, never an answer.
    """
    tree, water = situation.tree, situation.water
    found = []
    if water is not None and _was_dry(water):
        found.append("dry")
    is_wet = water is not None and water.is_saturated
    if (
        drains_slowly(tree.drainage_hours)
        or is_wet
        or situation.site.has_high_water_table
    ):
        found.append("wet")
    years = tree.years_since_planting(situation.today)
    if years is not None and years < YOUNG_YEARS:
        found.append("planting")
    return tuple(found)


def _was_dry(water: WaterOutlook) -> bool:
    readily_l = water.readily_available_l
    return water.stress_ks < 1 or max(water.history_missing_l, default=0.0) > readily_l


def pruned_share(situation: Situation, season: int) -> float:
    """Return the share of the crown that logged pruning took this season."""
    return sum(
        work.amount or 0.0
        for work in situation.logged("pruning")
        if work.what == "done" and work.key.startswith(f"{season}/")
    )


def has_lost_crop(situation: Situation, season: int) -> bool:
    """Return whether somebody said that the tree bears hardly anything this season.

    Only of a tree in the ground that is old enough to bear.
    """
    if situation.tree.in_container or not is_bearing(situation.tree, situation.today):
        return False
    kinds = ("thinning", "harvest")
    skipped = (w for kind in kinds for w in work_of_season(situation, kind, season))
    return any(w.what == "skipped" and w.reason in NO_CROP for w in skipped)
