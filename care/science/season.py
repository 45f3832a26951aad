"""Months of the catalogue, which are northern, as dates in either hemisphere.

A care year runs from November to October in the north and from May to April in the
south, so that dormant work, growth and harvest of one crop share one name: the year
in which growth starts.
"""

from calendar import monthrange
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache

from care.facts import (
    MonthDay,
    SiteFacts,
    Situation,
    Span,
    SpeciesFacts,
    Stage,
    StageDay,
    WorkDone,
)

MONTHS = 12
CARE_YEAR_FIRST_MONTH = 11

# Common practice, no source: nothing is asked of a dormant tree before these months.
GROWTH_MONTH = 3
CITRUS_GROWTH_MONTH = 2  # UF/IFAS HS132 and UC IPM both begin citrus in February
HARDY_LEAD_DAYS = 28  # hardy trees break bud some weeks before the last frost
SHORT_SEASON_DAYS = (
    180  # central Pennsylvania, whose July cut-off is published, has fewer
)
TENDER_MOVE_IN_C = -3.0  # evergreens that come in sooner than this are frost-tender


@dataclass(frozen=True, slots=True)
class Window:
    """A span of days, both ends included."""

    start: date
    end: date

    def __post_init__(self) -> None:
        """Refuse a window that ends before it starts."""
        if self.end < self.start:
            message = f"window ends before it starts: {self.start} {self.end}"
            raise ValueError(message)

    def __contains__(self, day: date) -> bool:
        return self.start <= day <= self.end

    @property
    def middle(self) -> date:
        """The day halfway through, the earlier one of two."""
        return self.start + timedelta(days=(self.end - self.start).days // 2)

    def within(self, start: date, end: date) -> "Window | None":
        """Return the part that lies in ``start`` to ``end``, or ``None``."""
        first, last = max(self.start, start), min(self.end, end)
        return Window(first, last) if first <= last else None


def local_month(northern_month: int, *, southern: bool) -> int:
    """Return the calendar month that plays the part of a northern month.

    Parameters
    ----------
    northern_month : int
        1-12.
    southern : bool
        Whether the place lies south of the equator: six months later.

    Raises
    ------
    ValueError
        If the month is not 1-12.
    """
    if not 1 <= northern_month <= MONTHS:
        message = f"not a month: {northern_month}"
        raise ValueError(message)
    return (northern_month - 1 + (6 if southern else 0)) % MONTHS + 1


def season_of(day: date, *, southern: bool) -> int:
    """Return the care year that holds ``day``: the year its growth starts."""
    lead = -4 if southern else 2
    return (day.year * MONTHS + day.month - 1 + lead) // MONTHS


# Every tree of a site asks for the same few days, each many times a plan.
@lru_cache(maxsize=4096)
def season_date(season: int, northern_month: int, day: int, *, southern: bool) -> date:
    """Return a northern month and day as the date within one care year.

    Parameters
    ----------
    season : int
        Year in which growth starts.
    northern_month, day : int
        As written in the catalogue; a day past the month's end means its last day.
    southern : bool
        Shifts the month by half a year; the season's name stays.
    """
    first = season if northern_month < CARE_YEAR_FIRST_MONTH else season - 1
    months = first * MONTHS + northern_month - 1 + (6 if southern else 0)
    year, month = months // MONTHS, months % MONTHS + 1
    return date(year, month, min(day, monthrange(year, month)[1]))


@lru_cache(maxsize=4096)
def month_window(season: int, first: int, last: int, *, southern: bool) -> Window:
    """Return the window from the first day of one month to the last of another.

    Northern months; ``first > last`` wraps over New Year. A span that runs past
    October ends in the care year after.
    """
    start = season_date(season, first, 1, southern=southern)
    end = season_date(season, last, 31, southern=southern)
    if end < start:
        end = season_date(season + 1, last, 31, southern=southern)
    return Window(start, end)


def month_runs(months: tuple[int, ...]) -> tuple[tuple[int, int], ...]:
    """Return unbroken runs of months, in the order of the care year.

    ``(7, 8, 2)`` gives ``((2, 2), (7, 8))`` and ``(12, 1)`` gives ``((12, 1),)``.
    """
    runs: list[tuple[int, int]] = []
    places = sorted((month - CARE_YEAR_FIRST_MONTH) % MONTHS for month in set(months))
    for place in places:
        if runs and runs[-1][1] == place - 1:
            runs[-1] = (runs[-1][0], place)
        else:
            runs.append((place, place))

    def month(place: int) -> int:
        return (place + CARE_YEAR_FIRST_MONTH - 1) % MONTHS + 1

    return tuple((month(first), month(last)) for first, last in runs)


def is_in_span(day: date, span: Span, *, southern: bool) -> bool:
    """Return whether ``day`` lies in a span of northern months, wrapped or not."""
    start = local_month(span.start_month, southern=southern)
    end = local_month(span.end_month, southern=southern)
    if start <= end:
        return start <= day.month <= end
    return day.month >= start or day.month <= end


def next_on(month_day: MonthDay, day: date) -> date:
    """Return the first such day of the year on or after ``day``."""
    this_year = month_day.in_year(day.year)
    return this_year if this_year >= day else month_day.in_year(day.year + 1)


def is_tender(species: SpeciesFacts) -> bool:
    """Return whether new growth of the species cannot take frost.

    Citrus and tropical feeding groups, and evergreens whose pots come in early.
    """
    comes_in = species.move_in_temp_c
    return species.feed_group in ("citrus", "tropical") or (
        species.is_evergreen and comes_in is not None and comes_in > TENDER_MOVE_IN_C
    )


def last_frost_in(season: int, site: SiteFacts) -> date | None:
    """Return the last frost before the growth of one season, if it is known."""
    if site.is_frost_free or site.last_frost is None:
        return None
    day = site.last_frost.in_year(season)
    years_off = season - season_of(day, southern=site.is_southern)
    return site.last_frost.in_year(season + years_off) if years_off else day


def growth_start(season: int, species: SpeciesFacts, site: SiteFacts) -> date:
    """Return a first guess of the day growth starts in one season.

    The catalogue's month, held back at cold sites: hardy trees to four weeks before
    the last frost, tender ones to the frost itself (common practice, no source).
    """
    month = CITRUS_GROWTH_MONTH if species.feed_group == "citrus" else GROWTH_MONTH
    start = season_date(season, month, 1, southern=site.is_southern)
    frost = last_frost_in(season, site)
    if frost is None:
        return start
    lead = 0 if is_tender(species) else HARDY_LEAD_DAYS
    return max(start, frost - timedelta(days=lead))


def start_of_growth(situation: Situation, season: int) -> StageDay:
    """Return bud break of one season: seen, else modelled, else the months' guess.

    Windows that hang on growth ask here; :func:`growth_start` only seeds the guess.
    """
    known = situation.stage_day(Stage.BUD_BREAK, season)
    if known is not None:
        return known
    guess = growth_start(season, situation.tree.species, situation.site)
    return StageDay(Stage.BUD_BREAK, season, guess, "months")


def frost_free_days(site: SiteFacts) -> int | None:
    """Return the days between last and first frost, or ``None`` if unknown."""
    if site.last_frost is None or site.first_frost is None:
        return None
    last = site.last_frost.in_year(2001)
    return (next_on(site.first_frost, last) - last).days


def is_frost_season(day: date, site: SiteFacts) -> bool:
    """Return whether frost is usual now.

    From the first to the last frost of the site; where they are not known, from
    November to March in the north and May to September in the south (common
    practice, no source).
    """
    if site.is_frost_free:
        return False
    if site.last_frost is None or site.first_frost is None:
        return is_in_span(day, Span(11, 3), southern=site.is_southern)
    return next_on(site.last_frost, day) < next_on(site.first_frost, day)


def work_of_season(
    situation: Situation, kind: str, season: int
) -> tuple[WorkDone, ...]:
    """Return what was logged of a kind in a season, oldest first.

    Entries whose key names no season, such as care no task asked for, count by their
    day.
    """
    southern = situation.site.is_southern
    return tuple(
        work
        for work in situation.logged(kind)
        if work.key.startswith(f"{season}/")
        or ("/" not in work.key and season_of(work.on, southern=southern) == season)
    )
