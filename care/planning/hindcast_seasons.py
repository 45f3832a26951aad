"""The dates of a year, told on Mondays and as they came: bloom, frost, chill.

What came is asked of the plan's own functions at the end of its season, with all the
weather known that came until then.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import date

from care.facts import SiteFacts, TreeFacts, WeatherSeries
from care.planning.chill_ahead import chill_ahead, winter_ahead
from care.planning.ensemble import LikelyAmount, LikelyDay
from care.planning.frost_ahead import frosts_ahead, halves_ahead
from care.planning.gather import Records
from care.planning.hindcast_record import foreseen
from care.planning.hindcast_report import Telling, amount_told, day_told
from care.planning.hindcast_water import standard_plants
from care.planning.stages_ahead import LAST_MONTH, stages_ahead
from care.science.season import season_date, season_of

BLOOM, HARVEST = "full_bloom", "harvest"
SPRING, AUTUMN = "last_spring_frost", "first_autumn_frost"
PORTIONS, ENOUGH = "chill_portions", "enough_chill"
STAGES_FROM_MONTH = 1  # northern; sooner nobody asks for a bloom; ours
# Once observed, these are known; a last frost never is before summer.
KNOWN_ONCE_SEEN = (BLOOM, HARVEST, AUTUMN, ENOUGH)

Told = dict[str, LikelyDay | LikelyAmount]
Ask = Callable[[WeatherSeries, SiteFacts, date], Told]


def _frosts(series: WeatherSeries, site: SiteFacts, today: date) -> Told:
    found = frosts_ahead(series, site, today)
    if not found:
        return {}
    dates = {SPRING: found[0].last_spring, AUTUMN: found[0].first_autumn}
    return {kind: day for kind, day in dates.items() if day is not None}


def _chill(series: WeatherSeries, site: SiteFacts, today: date) -> Told:
    need = _chill_need_hours(_apple(today))
    found = chill_ahead(series, site, today, (need,))
    if found is None:
        return {}
    return {PORTIONS: found.portions, ENOUGH: found.enough[need]}


def _stages(series: WeatherSeries, site: SiteFacts, today: date) -> Told:
    records = Records(
        site=site,
        trees=(_apple(today),),
        weather=series,
        work=(),
        observations=(),
        holds=(),
        typed_minimum_c=None,
        revision=0,
        today=today,
    )
    for stage in stages_ahead(records):
        if stage.full_bloom is not None and stage.harvest_begins is not None:
            return {BLOOM: stage.full_bloom, HARVEST: stage.harvest_begins}
    return {}


def _apple(today: date) -> TreeFacts:
    return standard_plants(today, southern=False)[0]


def _chill_need_hours(tree: TreeFacts) -> float:
    """Return the middle of what cultivars of a species need; apple has figures."""
    least = tree.species.chill_hours_min or 0.0
    return (least + (tree.species.chill_hours_max or least)) / 2


@dataclass(slots=True)
class Seasons:
    """Asks for the dates of a site's seasons, and once for each how it came."""

    whole: WeatherSeries
    came: dict[tuple[Ask, date], Told] = field(default_factory=dict)

    def monday(
        self, site: SiteFacts, known: WeatherSeries, monday: date
    ) -> Iterator[Telling]:
        """Return what a Monday told of the seasons at hand, each with what came.

        Seasons that the record does not hold to their end are left out, and what was
        seen by then.
        """
        for ask, kinds, end in _open(site, monday):
            if end > self.whole.end:
                continue
            came = self._as_it_came(ask, site, end)
            told = ask(known, site, monday)
            for kind in kinds:
                if kind in told and kind in came and not _is_seen(kind, told):
                    yield _telling(kind, monday, told[kind], came[kind])

    def _as_it_came(self, ask: Ask, site: SiteFacts, end: date) -> Told:
        if (ask, end) not in self.came:
            self.came[ask, end] = ask(foreseen(self.whole, end), site, end)
        return self.came[ask, end]


def _open(site: SiteFacts, monday: date) -> Iterator[tuple[Ask, tuple[str, ...], date]]:
    """Return what to ask for in the seasons that have begun, and their last days."""
    southern = site.is_southern
    spring, autumn = halves_ahead(monday, southern=southern)
    if spring.start <= monday:
        yield _frosts, (SPRING,), spring.end
    if autumn.start <= monday:
        yield _frosts, (AUTUMN,), autumn.end
    winter = winter_ahead(monday, southern=southern)
    if winter is not None and winter.start <= monday:
        yield _chill, (PORTIONS, ENOUGH), winter.end
    season = season_of(monday, southern=southern)
    first = season_date(season, STAGES_FROM_MONTH, 1, southern=southern)
    last = season_date(season, LAST_MONTH, 31, southern=southern)
    if first <= monday <= last:
        yield _stages, (BLOOM, HARVEST), last


def _is_seen(kind: str, told: Told) -> bool:
    """Whether it was over by then; what follows a bloom that was has no range."""
    day = told[BLOOM if kind == HARVEST else kind]
    return kind in KNOWN_ONCE_SEEN and day.is_firm


def _telling(
    kind: str,
    monday: date,
    told: LikelyDay | LikelyAmount,
    came: LikelyDay | LikelyAmount,
) -> Telling:
    if isinstance(told, LikelyDay) and isinstance(came, LikelyDay):
        return day_told(kind, monday, told, came.middle)
    if isinstance(told, LikelyAmount) and isinstance(came, LikelyAmount):
        return amount_told(kind, monday, told, came.middle)
    message = f"{kind} was told as one sort and came as another"
    raise TypeError(message)
