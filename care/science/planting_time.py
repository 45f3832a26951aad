"""When to plant one wanted tree: dated windows, now or wait, or never outdoors.

Windows in the ground, and of bare roots, are those of
:mod:`care.science.planting_windows`. A tree that comes in a pot and stays in one may be
potted whenever the weather is mild. How long a new tree has before its first winter
stands beside how long it needs (:mod:`care.science.establishment`).
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from care.facts import (
    Situation,
    SpeciesFacts,
    Stage,
    Stock,
    TreeFacts,
)
from care.science.establishment import (
    DAYS_PER_MONTH,
    caliper_mm,
    establishment_months,
)
from care.science.planting import AUTUMN_CODES
from care.science.planting_windows import PlantingWindow, windows_for
from care.science.pot_times import is_whole_year, mild_times
from care.science.season import (
    Window,
    is_tender,
    next_on,
    season_of,
    start_of_growth,
)
from care.science.stage_months import month_guess
from care.science.weather_generator import Climate

AHEAD_DAYS = 548  # a year and a half
# From memory: row covers keep 1 to 3 degrees off; colder than that below what a grown
# tree bears, nothing outdoors helps it for years.
COVERS_HELP_C = 3.0
IN_WINTER = "planting_while_bare"
POT_CODES = ("planting_pot_in_mild_weather", "planting_pot_after_cold_nights")
POT_AT_ANY_TIME = "planting_at_any_time"
DORMANT_CODES = (
    *AUTUMN_CODES,
    IN_WINTER,
    "planting_bare_root_in_spring",
    "planting_bare_root_in_dormancy",
)


class Verdict(StrEnum):
    """What to do today with a tree that is wanted."""

    NOW = "now"
    WAIT = "wait"
    NEVER = "never"  # not outdoors, at this place


@dataclass(frozen=True, slots=True)
class PlaceYear:
    """The usual year of a place, as far as it is known.

    ``coldest_c`` is the usual coldest night of a year; of typed months alone the
    mildest it can be, so that it never forbids too much. ``zone`` is a number, 1-13.
    """

    climate: Climate | None
    coldest_c: float | None
    zone: int


@dataclass(frozen=True, slots=True)
class PlantingSpan:
    """Days to plant in, both ends included; ``rank`` 0 is the best of its kind.

    ``best_on`` is the first of them from today on. ``months_left`` are those of its
    first growing season, until frost or leaf drop, and ``months_needed`` what regular
    water takes to make it a tree that needs none, least and most. ``None`` where there
    is no winter, or a pot can be carried in.
    """

    window: Window
    code: str
    rank: int
    best_on: date
    grows_from: date | None = None
    grows_until: date | None = None
    months_needed: tuple[float, float] | None = None

    @property
    def months_left(self) -> float | None:
        """Months of growth before its first winter."""
        if self.grows_from is None or self.grows_until is None:
            return None
        return (self.grows_until - self.grows_from).days / DAYS_PER_MONTH

    @property
    def is_short(self) -> bool:
        """Whether winter comes before it can be established."""
        left, needed = self.months_left, self.months_needed
        return left is not None and needed is not None and left < needed[0]


@dataclass(frozen=True, slots=True)
class PlantingTime:
    """What to do today, and the days of the coming year and a half, best first.

    ``why_never`` is a code: ``too_cold_in_ground`` or ``nights_too_cold``.
    """

    verdict: Verdict
    spans: tuple[PlantingSpan, ...] = ()
    current: PlantingSpan | None = None
    why_never: str = ""

    @property
    def next(self) -> PlantingSpan | None:
        """The next days to come, whatever today is."""
        ahead = [span for span in self.spans if span is not self.current]
        return min(ahead, key=lambda span: span.window.start, default=None)

    @property
    def better(self) -> PlantingSpan | None:
        """Better days to come, where today is not the best time of the year."""
        best, now = self.spans[:1], self.current
        if now is None or not best or _worth(best[0]) == _worth(now):
            return None
        return best[0]

    def holds(self, day: date) -> PlantingSpan | None:
        """Return the days that hold ``day``, the best of them."""
        return next((span for span in self.spans if day in span.window), None)


def planting_time(situation: Situation, place: PlaceYear) -> PlantingTime:
    """Return when to plant a tree that is wanted, as of the situation's day.

    Parameters
    ----------
    situation : Situation
        The tree as it will come: species, stock, pot or ground. Its rains, and its
        stages as modelled, where they are known.
    place : PlaceYear
        Its usual year.

    Notes
    -----
    Bare roots while dormant; trees from nursery pots in autumn where summers are dry,
    and until early spring where they stand bare; tropical fruit in the warm months
    (UF/IFAS, Crane). The rest is common practice without a source.
    """
    never = why_never(situation.tree, place)
    if never:
        return PlantingTime(Verdict.NEVER, why_never=never)
    today = situation.today
    spans = sorted(
        _spans(situation, place),
        key=lambda span: (span.is_short, span.rank, span.window.start),
    )
    if not spans:
        return PlantingTime(Verdict.NEVER, why_never="nights_too_cold")
    now = next((span for span in spans if today in span.window), None)
    verdict = Verdict.WAIT if now is None else Verdict.NOW
    return PlantingTime(verdict, tuple(spans), now)


def why_never(tree: TreeFacts, place: PlaceYear) -> str:
    """Return why a tree in the ground would not live, as a code, or nothing.

    Where the usual coldest night is colder than even covers make up for.
    """
    bears_c = tree.species.damage_temp_mature_c
    if tree.in_container or bears_c is None or place.coldest_c is None:
        return ""
    is_hopeless = place.coldest_c < bears_c - COVERS_HELP_C
    return "too_cold_in_ground" if is_hopeless else ""


def _worth(span: PlantingSpan) -> tuple[bool, int]:
    return (span.is_short, span.rank)


def _spans(situation: Situation, place: PlaceYear) -> list[PlantingSpan]:
    tree = situation.tree
    comes_dormant = tree.stock is not Stock.CONTAINER_GROWN
    is_dug = comes_dormant and not tree.species.is_evergreen
    if tree.in_container and not is_dug and place.climate is not None:
        return _pot_spans(situation, place.climate)
    return _ground_spans(situation, place)


def _ground_spans(situation: Situation, place: PlaceYear) -> list[PlantingSpan]:
    today, tree = situation.today, situation.tree
    first = season_of(today, southern=situation.site.is_southern) - 1
    found: list[PlantingSpan] = []
    for season in range(first, first + 4):
        windows = windows_for(situation, season)
        for rank, (code, window) in enumerate(_ranked(windows, tree.species)):
            if not _is_ahead(window, today):
                continue
            span = PlantingSpan(window, code, rank, max(window.start, today))
            found.append(_with_months(span, situation, place, season))
    return _merged(found, today)


def _ranked(
    windows: tuple[PlantingWindow, ...], species: SpeciesFacts
) -> Iterator[tuple[str, Window]]:
    """Yield codes and days, best first; the winter between goes with the autumn.

    Bare trees from pots are planted from autumn to early spring (extension pages).
    """
    autumn = next((one for one in windows if one.code in AUTUMN_CODES), None)
    spring = next((one for one in windows if one.code not in AUTUMN_CODES), None)
    for one in windows:
        yield one.code, one.window
        if one is not autumn or spring is None or species.is_evergreen:
            continue
        between = one.window.end + timedelta(1), spring.window.start - timedelta(1)
        if between[0] <= between[1]:
            yield IN_WINTER, Window(*between)


def _with_months(
    span: PlantingSpan, situation: Situation, place: PlaceYear, season: int
) -> PlantingSpan:
    """Return a span with its first season of growth and what the tree needs of it."""
    tree, site = situation.tree, situation.site
    if tree.in_container or site.is_frost_free:
        return span
    start = span.best_on
    if span.code in DORMANT_CODES:
        start = max(start, start_of_growth(situation, season).on)
    end = _growth_ends(situation, start, season)
    if end is None or end <= start:
        return span
    return PlantingSpan(
        span.window,
        span.code,
        span.rank,
        span.best_on,
        grows_from=start,
        grows_until=end,
        months_needed=establishment_months(place.zone, caliper_mm(tree)),
    )


def _growth_ends(situation: Situation, start: date, season: int) -> date | None:
    """Return the early first frost, or leaf drop where that is sooner."""
    site, species = situation.site, situation.tree.species
    known = situation.stage_day(Stage.LEAF_DROP, season)
    bare = known.on if known else month_guess(Stage.LEAF_DROP, season, species, site)
    frost = site.safest_first_frost
    ends = [bare, None if frost is None else next_on(frost, start)]
    return min((end for end in ends if end is not None), default=None)


def _merged(spans: Iterable[PlantingSpan], today: date) -> list[PlantingSpan]:
    """Return spans of one code that touch each other as one."""
    merged: list[PlantingSpan] = []
    for span in sorted(spans, key=lambda one: (one.code, one.window.start)):
        last = merged[-1] if merged else None
        if (
            last is not None
            and last.code == span.code
            and span.window.start <= last.window.end + timedelta(1)
        ):
            whole = Window(last.window.start, max(last.window.end, span.window.end))
            merged[-1] = PlantingSpan(
                whole, last.code, last.rank, max(whole.start, today)
            )
        else:
            merged.append(span)
    return merged


def _pot_spans(situation: Situation, climate: Climate) -> list[PlantingSpan]:
    """Return the mild times that begin in the coming year and a half."""
    today, species = situation.today, situation.tree.species
    times = mild_times(species, situation.site, climate, today)
    code = POT_CODES[is_tender(species)]
    return [
        PlantingSpan(
            window,
            POT_AT_ANY_TIME if is_whole_year(window) else code,
            0,
            max(window.start, today),
        )
        for window in times
        if _is_ahead(window, today)
    ]


def _is_ahead(window: Window, today: date) -> bool:
    return window.end >= today and window.start <= today + timedelta(days=AHEAD_DAYS)
