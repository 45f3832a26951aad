"""What each helper did and holds this season, and what of it would be a fair share."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from care.models import Shift, ShiftPlace
from care.planning.offers import MemberOffers, gather_offers
from care.planning.place_facts import HELD, UNCONFIRMED_FOR
from care.planning.rota_rows import season_span
from orchard.models import Site

State = ShiftPlace.State
WEEK_DAYS = 7
#: Missed so often within so long, a coordinator is asked to talk with the person;
#: common practice, no source.
TALK_AFTER, TALK_WITHIN = 2, timedelta(weeks=8)


@dataclass(slots=True)
class HelperSeason:
    """One helper's season at an orchard.

    ``shifts`` are those held or done, a late stand-in one and a half; ``fair`` is what
    the places of the season come to for what they offered, ``None`` where they offered
    nothing or learn. ``unconfirmed`` shifts are over and nobody said how they went;
    after a week their planned minutes count as worked. ``missed`` are all of the season.
    """

    member: MemberOffers
    shifts: Fraction = Fraction(0)
    fair: Fraction | None = None
    minutes: int = 0
    unconfirmed: int = 0
    missed: int = 0
    missed_lately: int = 0

    @property
    def asks_for_talk(self) -> bool:
        """Whether they missed so often of late that somebody might ask how they are."""
        return self.missed_lately >= TALK_AFTER


@dataclass(frozen=True, slots=True)
class SeasonRow:
    """A place of a published shift of the season."""

    holder_id: int | None
    state: str
    is_learner: bool
    credit_percent: int
    minutes_worked: int | None
    minutes: int
    day: date


def helper_seasons(site: Site, today: date) -> dict[int, HelperSeason]:
    """Return the season of each member of a site's orchard who may help, by person.

    The season is the care year of the site's hemisphere. In four queries.
    """
    first, last = season_span(site, today)
    members = gather_offers(site.orchard_id, first, last)
    seasons = {one.person_id: HelperSeason(one) for one in members}
    rows = _rows(site, first, last)
    for row in rows:
        if row.holder_id in seasons:
            _add(seasons[row.holder_id], row, today)
    counted = sum(not row.is_learner for row in rows)
    for person, fair in fair_shares(members, counted).items():
        seasons[person].fair = fair
    return seasons


def fair_shares(members: Iterable[MemberOffers], places: int) -> Mapping[int, Fraction]:
    """Return what a number of places comes to for each grown-up who offered days.

    In proportion to how many shifts each offered: of each week no more than their limit,
    of all no more than their limit of the season. Of no places nobody has a share.
    """
    weights = {
        one.person_id: offered_shifts(one)
        for one in members
        if not (one.is_learner or one.is_under_18)
    }
    total = sum(weights.values())
    return {
        person: Fraction(places * weight, total)
        for person, weight in weights.items()
        if weight and places
    }


def offered_shifts(member: MemberOffers) -> int:
    """Return how many shifts a member offered, within their limits."""
    weeks = Counter(day - timedelta(days=day.weekday()) for day in member.days)
    most = WEEK_DAYS if member.most_a_week is None else member.most_a_week
    offered = sum(min(days, most) for days in weeks.values())
    if member.most_a_season is None:
        return offered
    return min(offered, member.most_a_season)


def _rows(site: Site, first: date, last: date) -> list[SeasonRow]:
    places = ShiftPlace.objects.filter(
        shift__site__orchard=site.orchard_id,
        shift__day__range=(first, last),
        shift__status=Shift.Status.PUBLISHED,
    )
    names = ("holder", "state", "is_learner", "credit_percent", "minutes_worked")
    return [
        SeasonRow(*row)
        for row in places.values_list(*names, "shift__minutes", "shift__day")
    ]


def _add(season: HelperSeason, row: SeasonRow, today: date) -> None:
    if row.state == State.MISSED:
        season.missed += 1
        season.missed_lately += row.day > today - TALK_WITHIN
        return
    season.shifts += Fraction(row.credit_percent, 100)
    is_past = row.day < today
    is_settled = row.state == State.DONE or row.day <= today - UNCONFIRMED_FOR
    if is_settled:
        worked = row.minutes_worked
        season.minutes += row.minutes if worked is None else worked
    elif is_past and row.state in HELD:
        season.unconfirmed += 1
