"""Each species' bloom and first picking, over all courses of the weather."""

from datetime import date, timedelta

import numpy as np

from care.facts import SpeciesFacts, Stage
from care.planning.courses import REACH_DAYS, Courses, imagine_courses
from care.planning.ensemble import NEVER, LikelyDay, Members, StageAhead, likely_day
from care.planning.gather import Records, by_tree
from care.planning.stages import (
    FARTHEST_FROM_MONTHS_DAYS,
    SiteYear,
    first_to_wake,
    site_year,
    spring_needs,
)
from care.science.chill import hours_between
from care.science.crop import ripening_days
from care.science.heat import growing_degree_hours
from care.science.phenology import DailyWarmth, SpringNeed, stage_reached
from care.science.season import CARE_YEAR_FIRST_MONTH, season_date, season_of
from orchard.catalogue.search import called

LAST_MONTH = 8  # northern, by which every spring has come; ours


def stages_ahead(records: Records) -> tuple[StageAhead, ...]:
    """Return this season's full bloom and first picking of each species, by name.

    A bloom that somebody saw is firm, and the picking counts from it. A species whose
    need nobody knows has neither; so has one in a climate too warm for its rest, or
    whose modelled bloom lies far from its months.
    """
    if records.weather is None:
        return ()
    today, southern = records.today, records.site.is_southern
    season = season_of(today, southern=southern)
    year = site_year(records.site, records.weather, today)
    trees = [tree for tree in records.trees if not tree.is_planned(today)]
    needs = spring_needs(
        year, trees, by_tree(records.work), by_tree(records.observations)
    )
    start = season_date(season, CARE_YEAR_FIRST_MONTH, 1, southern=southern)
    end = season_date(season, LAST_MONTH, 31, southern=southern)
    until = max(min(end, today + timedelta(days=REACH_DAYS)), start)
    courses = imagine_courses(
        records.site, records.weather, today, first=start, until=until
    )
    warmths = [] if courses is None else _warmths(courses, records.site.latitude_deg)
    species = first_to_wake(trees)
    return tuple(
        _ahead(each, year, season, needs[each.key], courses, warmths)
        for each in sorted(species.values(), key=lambda each: each.name)
    )


def _warmths(courses: Courses, latitude_deg: float) -> list[DailyWarmth]:
    """Return what each day is worth in each course."""
    hours_c = courses.hours_c(latitude_deg)
    chill = hours_between(hours_c).sum(axis=2)
    degree_hours = growing_degree_hours(hours_c).sum(axis=2)
    return [
        DailyWarmth(courses.start, *days)
        for days in zip(chill, degree_hours, strict=True)
    ]


def _ahead(  # noqa: PLR0917 - the six facts of one species
    species: SpeciesFacts,
    year: SiteYear,
    season: int,
    known: tuple[SpringNeed | None, date | None],
    courses: Courses | None,
    warmths: list[DailyWarmth],
) -> StageAhead:
    need, seen = known
    bloom = None
    if seen is not None:
        bloom = _seen(seen)
    elif need is not None and courses is not None:
        bloom = _bloom(need, season, courses, warmths, southern=year.site.is_southern)
        if not _is_believed(bloom, year.guess(Stage.FULL_BLOOM, season, species)):
            bloom = None
    ripening = ripening_days(species)
    picking = None
    if bloom is not None and ripening is not None:
        picking = _later(bloom, ripening[0])
    return StageAhead(species.key, called(species.name), bloom, picking)


def _is_believed(bloom: LikelyDay, by_months: date | None) -> bool:
    """Whether a modelled bloom lies near the months in which the species blooms."""
    if bloom.middle is None or by_months is None:
        return False
    return abs((bloom.middle - by_months).days) <= FARTHEST_FROM_MONTHS_DAYS


def _seen(day: date) -> LikelyDay:
    return LikelyDay(day, day, day, 1.0, is_firm=True, until=day, members=ONE)


def _bloom(
    need: SpringNeed,
    season: int,
    courses: Courses,
    warmths: list[DailyWarmth],
    *,
    southern: bool,
) -> LikelyDay:
    reached = [
        stage_reached(warmth, season, need, southern=southern) for warmth in warmths
    ]
    days = [NEVER if day is None else courses.place(day) for day in reached]
    return likely_day(
        np.array(days, dtype=np.int64),
        courses.start,
        until=courses.until,
        firm_until=courses.firm_until,
        members=courses.members,
    )


def _later(bloom: LikelyDay, days: int) -> LikelyDay:
    """Return a day so much after the bloom, which is never firm: warmth moves it."""
    step = timedelta(days=days)
    low, middle, high = (
        None if day is None else day + step
        for day in (bloom.low, bloom.middle, bloom.high)
    )
    return LikelyDay(
        low,
        middle,
        high,
        bloom.share,
        is_firm=False,
        until=bloom.until + step,
        members=bloom.members,
    )


ONE = Members(1, 0, 0)  # what was seen needs no other course
