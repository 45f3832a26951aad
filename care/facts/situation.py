"""Everything a rule may look at."""

from dataclasses import dataclass, field
from datetime import date

from care.facts.log import Hold, Observation, Stage, StageDay, WorkDone
from care.facts.place import SiteFacts
from care.facts.tree import TreeFacts
from care.facts.water import WaterOutlook
from care.facts.weather import RainFacts, WeatherSeries


@dataclass(frozen=True, slots=True)
class Situation:
    """Everything a rule may look at for one tree on one morning."""

    today: date
    tree: TreeFacts
    site: SiteFacts
    weather: WeatherSeries | None
    work: tuple[WorkDone, ...] = ()
    observations: tuple[Observation, ...] = ()
    water: WaterOutlook | None = None
    typed_minimum_c: float | None = None  # tonight's, as a person typed it
    tonight_evening_c: float | None = None  # read two hours after this sunset
    tonight_dew_point_c: float | None = None  # of that moment
    clump_mates: tuple[int, ...] = field(default=())
    look_mates: tuple[int, ...] = ()  # neighbours that are looked over with it
    is_look_lead: bool = True  # of those, the one that asks for the walk
    rains: RainFacts | None = None
    stages: tuple[StageDay, ...] = ()
    holds: tuple[Hold, ...] = ()

    def logged(self, kind: str) -> tuple[WorkDone, ...]:
        """Return this tree's work of one kind up to today, oldest first."""
        mine = (
            work
            for work in self.work
            if work.tree_id == self.tree.id and work.kind == kind
        )
        return tuple(
            sorted((w for w in mine if w.on <= self.today), key=lambda w: w.on)
        )

    def observed(self, what: str) -> tuple[Observation, ...]:
        """Return this tree's readings of one sort up to today, oldest first."""
        mine = (
            reading
            for reading in self.observations
            if reading.tree_id == self.tree.id and reading.what == what
        )
        return tuple(
            sorted((r for r in mine if r.on <= self.today), key=lambda r: r.on)
        )

    def stage_day(self, stage: Stage, season: int) -> StageDay | None:
        """Return the best known day of a stage in a care year, or ``None``.

        What a person saw goes before what was modelled, and that before the months.
        """
        order = ("seen", "heat", "months")
        known = [s for s in self.stages if s.stage is stage and s.season == season]
        return min(known, key=lambda s: order.index(s.basis), default=None)

    def held_until(self) -> Hold | None:
        """Return the hold that ends last of those not over today, or ``None``."""
        mine = (
            hold
            for hold in self.holds
            if hold.tree_id == self.tree.id and hold.until >= self.today
        )
        return max(mine, key=lambda hold: hold.until, default=None)
