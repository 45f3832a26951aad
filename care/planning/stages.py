"""The stages of each tree's year: as seen, as modelled from the weather, by months.

Of last season, this one and the next. What a species does is reckoned once a site;
trees of a cultivar share it unless somebody saw their own stages, or kept them indoors in winter.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

import numpy as np

from care.facts import (
    Observation,
    Place,
    SiteFacts,
    SpeciesFacts,
    Stage,
    StageDay,
    TreeFacts,
    WeatherSeries,
    WorkDone,
)
from care.planning.seen_stages import Seen, seen_blooms, seen_stages
from care.science.crop import is_known_cultivar, ripening_days
from care.science.phenology import (
    BUD_BREAK_SHARE,
    PETAL_FALL_DAYS,
    DailyWarmth,
    SpringNeed,
    bloom_degree_hours,
    chill_need_hours,
    daily_warmth,
    degree_hours_until,
    leaves_fallen,
    stage_reached,
    usual_chill_hours,
    usual_leaf_drop,
    usual_stage,
    warmth_reached,
)
from care.science.season import season_date, season_of
from care.science.stage_months import month_guess

# Ours: a modelled bloom further than this from the months is not believed.
FARTHEST_FROM_MONTHS_DAYS = 60
BUDS_BEFORE_BLOOM = timedelta(days=7)  # at least; ours
LEARNED_STEP = 50.0  # degree hours, about half a spring day, so that trees share sums


@dataclass(slots=True)
class SiteYear:
    """A site's weather as stages need it; what was reckoned once is kept."""

    site: SiteFacts
    today: date
    series: WeatherSeries | None
    warmth: DailyWarmth | None
    usual_hours: float | None
    modelled: dict[tuple[SpringNeed, int], date | None] = field(default_factory=dict)
    by_cultivar: dict[tuple[SpeciesFacts, str], tuple[StageDay, ...]] = field(
        default_factory=dict
    )
    guesses: dict[tuple[SpeciesFacts, Stage, int], date | None] = field(
        default_factory=dict
    )
    bare: dict[int, date | None] = field(default_factory=dict)

    @property
    def seasons(self) -> tuple[int, int, int]:
        """Last season, this one and the next."""
        season = season_of(self.today, southern=self.site.is_southern)
        return (season - 1, season, season + 1)

    def day_of(self, need: SpringNeed, season: int) -> date | None:
        """Return the day on which a need is met, by the other years if not in reach."""
        key = (need, season)
        if key not in self.modelled and self.warmth is not None:
            southern = self.site.is_southern
            self.modelled[key] = stage_reached(
                self.warmth, season, need, southern=southern
            ) or usual_stage(self.warmth, season, need, southern=southern)
        return self.modelled.get(key)

    def guess(self, stage: Stage, season: int, species: SpeciesFacts) -> date | None:
        """Return the day of a stage by the months."""
        key = (species, stage, season)
        if key not in self.guesses:
            self.guesses[key] = month_guess(stage, season, species, self.site)
        return self.guesses[key]

    def bare_on(self, season: int) -> date | None:
        """Return the day by which cold has bared deciduous trees, or usually does.

        Tomorrow at the earliest while such cold has not come.
        """
        if season not in self.bare:
            self.bare[season] = self._bare_on(season)
        return self.bare[season]

    def _bare_on(self, season: int) -> date | None:
        if self.series is None:
            return None
        southern = self.site.is_southern
        fallen = leaves_fallen(self.series, season, southern=southern)
        if fallen is not None:
            return fallen
        usual = usual_leaf_drop(self.series, season, southern=southern)
        tomorrow = self.today + timedelta(days=1)
        if usual is None or usual >= tomorrow:
            return usual
        is_autumn = tomorrow <= season_date(season + 1, 1, 31, southern=southern)
        return tomorrow if is_autumn else None


def site_year(site: SiteFacts, series: WeatherSeries | None, today: date) -> SiteYear:
    """Return a site's year, its weather reckoned once for all its trees."""
    if series is None:
        return SiteYear(site, today, None, None, None)
    warmth = daily_warmth(series, site.latitude_deg)
    usual = usual_chill_hours(warmth, southern=site.is_southern)
    return SiteYear(site, today, series, warmth, usual)


def spring_needs(
    year: SiteYear,
    trees: Iterable[TreeFacts],
    work: Mapping[int, Sequence[WorkDone]],
    observations: Mapping[int, Sequence[Observation]],
) -> dict[str, tuple[SpringNeed | None, date | None]]:
    """Return of each species what its bloom takes, and when this season's was seen.

    Parameters
    ----------
    year, trees, work, observations
        As for :func:`stages_by_tree`.

    Returns
    -------
    dict of pairs
        By species. ``None`` for a need that is unknown, or of trees that keep no
        rest, and for a bloom that nobody saw; of several the earliest.
    """
    season = season_of(year.today, southern=year.site.is_southern)
    seen: dict[str, list[Seen]] = defaultdict(list)
    taught: dict[str, list[Seen]] = defaultdict(list)
    trees = list(trees)
    species = first_to_wake(trees)
    for tree in trees:
        mine = observations.get(tree.id, ())
        seen[tree.species.key].append(
            seen_stages(year, tree, work.get(tree.id, ()), mine)
        )
        taught[tree.species.key].append(seen_blooms(year, tree, mine))
    found: dict[str, tuple[SpringNeed | None, date | None]] = {}
    for key, facts in species.items():
        blooms = [own.get((Stage.FULL_BLOOM, season)) for own in seen[key]]
        days = [day for day in blooms if day is not None]
        need = _bloom_need(year, facts, taught[key])
        found[key] = (need, min(days, default=None))
    return found


def first_to_wake(trees: Iterable[TreeFacts]) -> dict[str, SpeciesFacts]:
    """Return each species as its tree has it that needs the least chill.

    Trees of one species differ by their cultivars and by an orchard's own figures.
    """
    found: dict[str, SpeciesFacts] = {}
    for tree in trees:
        key, mine = tree.species.key, tree.species
        if key not in found or _chill_order(mine) < _chill_order(found[key]):
            found[key] = mine
    return found


def _chill_order(species: SpeciesFacts) -> tuple[float, float]:
    least, most = species.chill_hours_min, species.chill_hours_max
    least = math.inf if least is None else least
    return (least + (least if most is None else most), least)


def stages_by_tree(
    year: SiteYear,
    trees: Iterable[TreeFacts],
    work: Mapping[int, Sequence[WorkDone]],
    observations: Mapping[int, Sequence[Observation]],
) -> dict[int, tuple[StageDay, ...]]:
    """Return what is known of the stages of every tree.

    Parameters
    ----------
    year : SiteYear
        As of its day; later words are ignored.
    trees : iterable of TreeFacts
        All of one site.
    work, observations : mappings
        By tree; pickings and reported stages count.

    Returns
    -------
    dict of tuples
        By tree; of one stage up to three days, seen, modelled and by months.
    """
    trees = list(trees)
    blooms = {
        tree.id: seen_blooms(year, tree, observations.get(tree.id, ()))
        for tree in trees
    }
    of_species: dict[str, list[Seen]] = defaultdict(list)
    for tree in trees:
        if blooms[tree.id]:
            of_species[tree.species.key].append(blooms[tree.id])
    return {
        tree.id: _stages(
            year,
            tree,
            seen_stages(
                year, tree, work.get(tree.id, ()), observations.get(tree.id, ())
            ),
            [blooms[tree.id]] if blooms[tree.id] else of_species[tree.species.key],
        )
        for tree in trees
    }


def _stages(
    year: SiteYear, tree: TreeFacts, seen: Seen, teachers: list[Seen]
) -> tuple[StageDay, ...]:
    own = tuple(
        StageDay(stage, season, day, "seen")
        for (stage, season), day in seen.items()
        if season in year.seasons
    )
    if seen or any(_winters_indoors(year, tree, season) for season in year.seasons):
        return own + _guesses(year, tree, seen, teachers)
    is_known = is_known_cultivar(tree.species, tree.cultivar)
    key = (tree.species, tree.cultivar if is_known else "")
    if key not in year.by_cultivar:
        year.by_cultivar[key] = _guesses(year, tree, {}, teachers)
    return year.by_cultivar[key]


def _guesses(
    year: SiteYear, tree: TreeFacts, seen: Seen, teachers: list[Seen]
) -> tuple[StageDay, ...]:
    """Return modelled days and those by months of every stage and season."""
    learned = _bloom_need(year, tree.species, teachers)
    found = []
    for season in year.seasons:
        need = None if _winters_indoors(year, tree, season) else learned
        by_heat = _by_heat(year, tree, season, need, seen)
        for stage in Stage:
            guess = year.guess(stage, season, tree.species)
            if stage in by_heat:
                found.append(StageDay(stage, season, by_heat[stage], "heat"))
            if guess is not None:
                found.append(StageDay(stage, season, guess, "months"))
    return tuple(found)


def _by_heat(
    year: SiteYear,
    tree: TreeFacts,
    season: int,
    need: SpringNeed | None,
    seen: Seen,
) -> dict[Stage, date]:
    """Return modelled stages; what follows a stage that was seen counts from it."""
    species = tree.species
    found = {}
    bare = None if species.is_evergreen else year.bare_on(season)
    if bare is not None:
        found[Stage.LEAF_DROP] = bare
    bloom = seen.get((Stage.FULL_BLOOM, season))
    if bloom is None and need is not None:
        buds = seen.get((Stage.BUD_BREAK, season))
        bloom = _believed(year, species, season, need, buds)
        if bloom is not None:
            found[Stage.FULL_BLOOM] = bloom
    return found if bloom is None else found | _around(year, tree, season, need, bloom)


def _around(
    year: SiteYear,
    tree: TreeFacts,
    season: int,
    need: SpringNeed | None,
    bloom: date,
) -> dict[Stage, date]:
    """Return bud break, petal fall and the last picking of a known bloom."""
    found = {Stage.PETAL_FALL: bloom + timedelta(days=PETAL_FALL_DAYS)}
    ripening = ripening_days(tree.species, tree.cultivar)
    if ripening is not None:
        found[Stage.HARVEST] = bloom + timedelta(days=ripening[2])
    if need is not None:
        swelling = SpringNeed(need.chill_hours, need.degree_hours * BUD_BREAK_SHARE)
        buds = year.day_of(swelling, season)
        if buds is not None:
            found[Stage.BUD_BREAK] = min(buds, bloom - BUDS_BEFORE_BLOOM)
    return found


def _believed(
    year: SiteYear,
    species: SpeciesFacts,
    season: int,
    need: SpringNeed,
    buds: date | None,
) -> date | None:
    """Return the modelled bloom unless it lies too far from the months.

    From a bud break that was seen, only the rest of the warmth counts.
    """
    bloom = None
    if buds is not None and year.warmth is not None:
        rest = need.degree_hours * (1 - BUD_BREAK_SHARE)
        bloom = warmth_reached(year.warmth, buds, rest)
    bloom = bloom or year.day_of(need, season)
    guess = year.guess(Stage.FULL_BLOOM, season, species)
    if bloom is None or guess is None:
        return None
    days = abs((bloom - guess).days)
    return bloom if days <= FARTHEST_FROM_MONTHS_DAYS else None


def _bloom_need(
    year: SiteYear, species: SpeciesFacts, teachers: list[Seen]
) -> SpringNeed | None:
    """Return chill and warmth until full bloom, learned from blooms that were seen."""
    chill = _bloom_chill(year, species)
    if chill is None:
        return None
    learned = bloom_lessons(year, species, teachers)
    if learned:
        steps = round(float(np.mean(learned)) / LEARNED_STEP)
        return SpringNeed(chill, steps * LEARNED_STEP)
    known = bloom_degree_hours(species)
    return None if known is None else SpringNeed(chill, known)


def _bloom_chill(year: SiteYear, species: SpeciesFacts) -> float | None:
    if species.is_evergreen or year.warmth is None:
        return None
    return chill_need_hours(
        species.chill_hours_min, species.chill_hours_max, year.usual_hours
    )


def bloom_lessons(
    year: SiteYear, species: SpeciesFacts, teachers: Iterable[Seen]
) -> list[float]:
    """Return the warmth [degree hours] that each bloom that was seen had taken."""
    chill = _bloom_chill(year, species)
    if chill is None or year.warmth is None:
        return []
    southern = year.site.is_southern
    hours = (
        degree_hours_until(year.warmth, season, chill, day, southern=southern)
        for seen in teachers
        for (stage, season), day in seen.items()
        if stage is Stage.FULL_BLOOM
    )
    return [each for each in hours if each is not None]


def _winters_indoors(year: SiteYear, tree: TreeFacts, season: int) -> bool:
    """Whether a pot was or is indoors in the rest before a season."""
    if not tree.stays:
        return False
    southern = year.site.is_southern
    first = season_date(season, 11, 1, southern=southern)
    middles = (first + timedelta(days=days) for days in (0, 30, 60, 90, 120))
    return any(
        tree.place_on(day) in (Place.INDOORS_HEATED, Place.INDOORS_UNHEATED)
        for day in middles
    )
