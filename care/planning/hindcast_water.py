"""When standard plants would have been due for water, told on Mondays and as it came.

Three plants that any site could have: a grown apple, a tree planted this spring, a fig
in a pot. Each is watered on the very day it needs it, and that is in its log, so that
what a Monday tells is the next watering and nothing else.
"""

from dataclasses import dataclass, field, replace
from datetime import date, timedelta

import numpy as np

from care.facts import SiteFacts, TreeFacts, WeatherSeries, WorkDone
from care.planning.ensemble import NEVER
from care.planning.fold import NEVER as NOT_AHEAD, fold_past, look_ahead, obey_ahead
from care.planning.futures import Futures, Whole
from care.planning.hindcast_record import WEEK, foreseen
from care.planning.simulate import HORIZON_DAYS
from care.planning.site_weather import SiteWeather
from care.planning.species_facts import species_facts
from care.planning.water_scene import Scene, group_trees, prepare, set_scene
from care.science.season import season_date, season_of

GROWN, NEW, POT = "watering_grown", "watering_new", "watering_pot"
GROWN_ID, POT_ID = 1, 2  # a new tree's is the year it was planted in
PLANTING_MONTH = 4  # northern
GROWN_CROWN_M, NEW_CROWN_M, POT_CROWN_M = 4.0, 0.7, 1.1
# True volumes of the trade sizes #7 and #15, as nurseries list them.
NEW_BALL_L, POT_L = 24.6, 55.0


def kind_of(tree: TreeFacts) -> str:
    """Return which of the three plants a tree is."""
    return {GROWN_ID: GROWN, POT_ID: POT}.get(tree.id, NEW)


def standard_plants(today: date, *, southern: bool) -> tuple[TreeFacts, ...]:
    """Return the three plants as they stand; the new one came in the last spring."""
    season = season_of(today, southern=southern)
    planted_on = season_date(season, PLANTING_MONTH, 1, southern=southern)
    if planted_on > today:
        season -= 1
        planted_on = season_date(season, PLANTING_MONTH, 1, southern=southern)
    long_ago = date(1970, 1, 1)
    grown = TreeFacts(
        id=GROWN_ID,
        name="Grown apple",
        species=species_facts("apple"),
        block_id=None,
        planted_on=None,
        entered_on=long_ago,
        crown_width_m=GROWN_CROWN_M,
    )
    return (
        grown,
        replace(
            grown,
            id=season,
            name="Apple planted this spring",
            planted_on=planted_on,
            stock_litres=NEW_BALL_L,
            crown_width_m=NEW_CROWN_M,
        ),
        replace(
            grown,
            id=POT_ID,
            name="Fig in a pot",
            species=species_facts("fig"),
            in_container=True,
            container_litres=POT_L,
            crown_width_m=POT_CROWN_M,
        ),
    )


@dataclass(frozen=True, slots=True)
class WaterMonday:
    """One Monday's next waterings, by plant in days from then on.

    ``told`` has one day for each course of the weather, NEVER beyond ``reach_days``;
    ``came`` is the day in the weather that came, ``None`` where the record ends too
    soon to say.
    """

    futures: Futures
    told: dict[str, Whole]
    came: dict[str, int | None]
    reach_days: int


@dataclass(slots=True)
class WaterLog:
    """Walks from Monday to Monday and keeps what was watered on the way."""

    whole: WeatherSeries
    weather: SiteWeather  # of the whole record
    work: list[WorkDone] = field(default_factory=list)

    def monday(
        self, site: SiteFacts, known: WeatherSeries, monday: date
    ) -> WaterMonday | None:
        """Return what was told on a Monday and what came, and water until the next.

        ``None`` where the weather known then says nothing of that day. Mondays must
        come in order.
        """
        told = set_scene(
            site, known, monday, HORIZON_DAYS, work=self.work, observations=()
        )
        if told is None:
            return None
        groups = group_trees(standard_plants(monday, southern=site.is_southern), monday)
        run = prepare(told, groups)
        evening = fold_past(run.grove, run.start, told.rows).stored
        ahead = look_ahead(run.grove, evening, told.rows, told.futures)

        really = self._as_it_came(told)
        grove = prepare(really, groups).grove
        came = look_ahead(grove, evening, really.rows, really.futures).due[0]
        week = replace(really.futures, picks=really.futures.picks[:, : WEEK.days])
        plants = np.arange(len(groups))
        waterings = obey_ahead(
            grove,
            evening,
            really.rows,
            week,
            members=np.zeros_like(plants),
            first=np.full_like(plants, -1),
        )
        for members, done in zip(groups, waterings, strict=True):
            self.work += [
                WorkDone(members[0].id, "watering", "next", monday + timedelta(days=d))
                for d in done.days
            ]
        kinds = [kind_of(members[0]) for members in groups]
        is_seen = really.futures.days >= told.futures.days
        return WaterMonday(
            futures=told.futures,
            told={
                kind: np.where(days >= NOT_AHEAD, NEVER, days)
                for kind, days in zip(kinds, ahead.due.T, strict=True)
            },
            came={
                kind: (NEVER if day >= NOT_AHEAD else int(day)) if is_seen else None
                for kind, day in zip(kinds, came, strict=True)
            },
            reach_days=told.futures.days - 1,
        )

    def _as_it_came(self, told: Scene) -> Scene:
        """Return the same morning with the weather that came after it."""
        series = foreseen(self.whole, told.today)
        first = series.index(told.today)
        days = np.arange(first, min(first + told.futures.days, len(series)))[None, :]
        return replace(
            told,
            series=series,
            weather=self.weather,
            futures=Futures(days),
        )
