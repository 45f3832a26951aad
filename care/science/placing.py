"""Places proposed for trees that are wanted: as many as fit, or the first ones well.

The same question always gets the same answer: work is counted in steps, not seconds.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum

import numpy as np
import shapely

from care.facts import Array, LayoutFacts, PlantFacts, Point
from care.science.placing_build import WAYS, Way, build
from care.science.placing_improve import Steps, improve
from care.science.placing_points import frame_of, poleward
from care.science.placing_room import Room, open_ground, room_for
from care.science.placing_scene import Place, Scene, places_of, scene_of
from care.science.spacing import apart_m, grown_spread_m

#: More trees than this are not placed in one go.
MOST_TREES = 60
#: Trees looked at in moves and exchanges for one answer.
STEPS = 6000
#: Trees put down while layouts of one spacing are built, two layouts at least.
PUT_DOWN = 450
#: From the recommended distance down to the least.
EASES = (1.0, 0.75, 0.5, 0.25, 0.0)


class Goal(StrEnum):
    """What matters most."""

    MOST = "most"
    BEST = "best"


class WhyNot(StrEnum):
    """Why a tree got no place."""

    NOTHING_MARKED = "nothing_marked"
    KEPT_OFF = "kept_off"
    NO_ROOM = "no_room"
    TAKEN = "taken"
    TOO_MANY = "too_many"


@dataclass(frozen=True, slots=True)
class Proposal:
    """A place for one tree, or why there is none.

    ``whom`` are the features that keep it off. ``nearest`` is the plant for which the
    place is tightest, ``distance_m`` away where ``recommended_m`` would be better.
    """

    ref: str
    place_m: Point | None
    why_not: WhyNot | None = None
    whom: tuple[str, ...] = ()
    nearest: str = ""
    distance_m: float | None = None
    recommended_m: float | None = None

    @property
    def is_close(self) -> bool:
        """Whether it stands closer to another than is recommended."""
        if self.distance_m is None or self.recommended_m is None:
            return False
        return self.distance_m < self.recommended_m - 0.005


def propose_places(
    layout: LayoutFacts,
    wanted: Sequence[PlantFacts],
    *,
    goal: Goal,
    attempt: int = 0,
    steps: int = STEPS,
    water_setback_m: float | None = None,
) -> tuple[Proposal, ...]:
    """Return a proposal for each wanted tree, in their order.

    Parameters
    ----------
    layout : LayoutFacts
        Room for trees or the boundary, what lies there and what stands. Plants of it
        that have a place and are not among ``wanted`` stay where they are.
    wanted : sequence of PlantFacts
        Trees to place, at most `MOST_TREES`; the first are the dearest. Places they
        have are not looked at.
    goal : Goal
        ``MOST``: as many as fit, as far apart as so many can go, never below the
        kinds' least spacing. ``BEST``: none nearer than recommended, the first of the
        list before the others.
    attempt : int
        Another number begins from another layout that places as many.
    steps : int
        Budget of looks at improvements.
    water_setback_m : float, optional
        How far from water a local rule asks one to stay.

    Notes
    -----
    Candidate points are a grid, corners, rows and the points at just the distance of
    two trees, or of a tree and an edge; trees are put down greedily from several sides,
    and the best layout is improved by moves and exchanges until nothing is saved or the
    steps are used. It is a good layout, not a proven best one. Its costs are a partner
    out of reach, shade by a taller tree on the side of the midday sun, and crowding.
    """
    if not wanted:
        return ()
    ground = open_ground(layout)
    if ground is None or shapely.is_empty(ground):
        return tuple(_none(plant, WhyNot.NOTHING_MARKED) for plant in wanted)
    asked = list(wanted[:MOST_TREES])
    refs = {plant.ref for plant in wanted}
    standing = [
        plant
        for plant in sorted(layout.plants, key=lambda each: each.ref)
        if plant.place_m is not None and plant.ref not in refs
    ]
    pole = poleward(layout.latitude_deg, layout.up_bearing_deg)
    scene = scene_of(asked, standing, layout, frame_of(ground, pole))
    search = _Search(scene, asked, layout, goal, attempt, Steps(steps), water_setback_m)
    places_m = search.best()
    plan_m = scene.frame.to_plan(places_m)
    found = [_proposal(index, plan_m, search, standing) for index in range(len(asked))]
    late = [_none(plant, WhyNot.TOO_MANY) for plant in wanted[MOST_TREES:]]
    return (*found, *late)


@dataclass(frozen=True, slots=True)
class _Layout:
    """Places in the frame, and what is smaller for a better one."""

    score: tuple[float, ...]
    places_m: Array
    ease: float


@dataclass(slots=True)
class _Search:
    """One question, and what was found on the way to its answer."""

    scene: Scene
    wanted: Sequence[PlantFacts]
    layout: LayoutFacts
    goal: Goal
    attempt: int
    steps: Steps
    water_setback_m: float | None
    _rooms: dict[tuple[object, ...], Room] = field(default_factory=dict)

    def best(self) -> Array:
        """Return the best places in the frame, improved."""
        found = self._chosen(sorted(self._layouts(), key=lambda each: each.score))
        rooms = self.rooms(found.ease)
        return improve(self.scene, rooms, found.places_m, found.ease, self.steps)

    def _chosen(self, layouts: Sequence[_Layout]) -> _Layout:
        """Return the best of layouts in order; another attempt, another as full."""
        best = layouts[0].score[:-1]
        alike: dict[bytes, _Layout] = {}
        for layout in layouts:
            if layout.score[:-1] == best:
                alike.setdefault(layout.places_m.round(2).tobytes(), layout)
        return list(alike.values())[self.attempt % len(alike)]

    def _layouts(self) -> Iterator[_Layout]:
        """Yield layouts, closer ones only while some tree has no place."""
        for ease in EASES if self.goal is Goal.MOST else EASES[:1]:
            rooms = self.rooms(ease)
            is_full = False
            for order, way in self._tries():
                places_m = build(self.scene, rooms, order, way, ease)
                layout = self._layout(places_m, ease)
                is_full = is_full or not layout.score[0]
                yield layout
            if is_full:
                return

    def rooms(self, ease: float) -> list[Place | None]:
        """Return where each tree may go."""
        found = [self.room(plant, ease) for plant in self.wanted]
        return places_of(found, self.scene.frame)

    def room(self, plant: PlantFacts, ease: float) -> Room:
        """Return where one tree may go, whatever else grows there."""
        key = (
            *(plant.grown_height_m, grown_spread_m(plant)),
            *(plant.species.habit, plant.in_container, ease),
        )
        if key not in self._rooms:
            self._rooms[key] = room_for(
                plant, self.layout, ease=ease, water_setback_m=self.water_setback_m
            )
        return self._rooms[key]

    def _tries(self) -> list[tuple[list[int], Way]]:
        """Return what to try: every way with every order, as far as the work goes."""
        tries = [(order, way) for way in WAYS for order in self._orders()]
        return tries[: max(2, PUT_DOWN // self.scene.n)]

    def _orders(self) -> list[list[int]]:
        listed = list(range(self.scene.n))
        if self.goal is Goal.BEST:
            return [listed]
        heights_m = self.scene.heights_m
        rooms_m = self.scene.recommended_m.max(axis=1)
        return [
            sorted(listed, key=lambda i: -heights_m[i]),
            sorted(listed, key=lambda i: (rooms_m[i], -heights_m[i])),
        ]

    def _layout(self, places_m: Array, ease: float) -> _Layout:
        """Judge a layout; of equal ones the roomier is better, then the cheaper."""
        missing = np.isnan(places_m[: self.scene.n, 0]).astype(float)
        cost = round(self.scene.total_cost(places_m), 9)
        lacks = (
            (float(missing.sum()),)
            if self.goal is Goal.MOST
            else (float(missing.any()), *missing.tolist())
        )
        return _Layout((*lacks, -ease, cost), places_m, ease)


def _none(plant: PlantFacts, why: WhyNot, whom: tuple[str, ...] = ()) -> Proposal:
    return Proposal(plant.ref, None, why, whom)


def _proposal(
    index: int, plan_m: Array, search: _Search, standing: Sequence[PlantFacts]
) -> Proposal:
    plant = search.wanted[index]
    if np.isnan(plan_m[index, 0]):
        room = search.room(plant, 1.0 if search.goal is Goal.BEST else 0.0)
        if not shapely.is_empty(room.area):
            return _none(plant, WhyNot.TAKEN)
        if room.kept_off_by:
            return _none(plant, WhyNot.KEPT_OFF, room.kept_off_by)
        return _none(plant, WhyNot.NO_ROOM)
    x_m, y_m = (round(float(each), 3) for each in plan_m[index])
    proposal = Proposal(plant.ref, (x_m, y_m))
    return _with_tightest(proposal, index, plan_m, search, standing)


def _with_tightest(
    proposal: Proposal,
    index: int,
    plan_m: Array,
    search: _Search,
    standing: Sequence[PlantFacts],
) -> Proposal:
    """Name the plant to which a place comes nearest, for what the two ask."""
    distances_m = np.hypot(*(plan_m - plan_m[index]).T)
    spare_m = distances_m - search.scene.recommended_m[index]
    spare_m[index] = np.nan
    if np.isnan(spare_m).all():
        return proposal
    tightest = int(np.nanargmin(spare_m))
    other = [*search.wanted, *standing][tightest]
    asked_m = apart_m(search.wanted[index], other).recommended_m
    return replace(
        proposal,
        nearest=other.ref,
        distance_m=float(distances_m[tightest]),
        recommended_m=asked_m,
    )
