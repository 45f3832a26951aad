"""On which days people saw the stages of a tree's year, by the season they belong to."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING

from care.facts import Observation, SpeciesFacts, Stage, TreeFacts, WorkDone
from care.planning.bloom_stages import SEEN_STAGES
from care.science.season import season_of

if TYPE_CHECKING:
    from care.planning.stages import SiteYear

NEAREST_DAYS = 120  # a reading further from every guess names no season; no source
LATE_PICKING_DAYS = 45  # a picking after the months' end is still of that crop; ours
LAST_PICKING_DAYS = 14  # without another picking; ours

Seen = Mapping[tuple[Stage, int], date]


def seen_blooms(
    year: SiteYear, tree: TreeFacts, observations: Sequence[Observation]
) -> Seen:
    """Return the full blooms that were seen and teach what a spring takes.

    Those that somebody had forgotten stay days that were seen, and teach nothing.
    """
    teaching = [
        seen
        for seen in observations
        if seen.what == "bloom_stage" and not seen.is_forgotten
    ]
    seen = seen_stages(year, tree, (), teaching) if teaching else {}
    return {key: day for key, day in seen.items() if key[0] is Stage.FULL_BLOOM}


def seen_stages(
    year: SiteYear,
    tree: TreeFacts,
    work: Sequence[WorkDone],
    observations: Sequence[Observation],
) -> Seen:
    """Return the days on which stages were seen, by the season they belong to."""
    found: dict[tuple[Stage, int], date] = {}
    days = [
        (*SEEN_STAGES[reading.word], reading.on)
        for reading in observations
        if reading.what == "bloom_stage" and reading.word in SEEN_STAGES
    ]
    picked = [reading.on for reading in observations if reading.what == "harvest"]
    picked += [
        done.on for done in work if done.kind == "harvest" and done.what == "done"
    ]
    days += [(Stage.HARVEST, 0, on) for on in picked]
    for stage, lag_days, on in sorted(days, key=lambda row: row[2]):
        if on > year.today:
            continue
        day = on - timedelta(days=lag_days)
        season = _season_of_stage(year, tree.species, stage, day)
        if season is not None and (
            stage is Stage.HARVEST or (stage, season) not in found
        ):
            found[stage, season] = day
    return {
        key: day
        for key, day in found.items()
        if key[0] is not Stage.HARVEST
        or day <= year.today - timedelta(days=LAST_PICKING_DAYS)
    }


def _season_of_stage(
    year: SiteYear, species: SpeciesFacts, stage: Stage, day: date
) -> int | None:
    """Return the season whose guess lies nearest, ``None`` if all are far away."""
    nearest = season_of(day, southern=year.site.is_southern)
    seasons = (nearest - 1, nearest, nearest + 1)
    if stage is Stage.HARVEST:
        return next((s for s in seasons if _is_crop(year, species, s, day)), None)
    guesses = ((year.guess(stage, season, species), season) for season in seasons)
    away = [(abs((day - guess).days), season) for guess, season in guesses if guess]
    days, season = min(away, default=(NEAREST_DAYS + 1, 0))
    return season if days <= NEAREST_DAYS else None


def _is_crop(year: SiteYear, species: SpeciesFacts, season: int, day: date) -> bool:
    """Whether a picking falls between the bloom and the last picking of one season."""
    bloom = year.guess(Stage.FULL_BLOOM, season, species)
    last = year.guess(Stage.HARVEST, season, species)
    if bloom is None or last is None:
        return False
    return bloom < day <= last + timedelta(days=LATE_PICKING_DAYS)
