"""The places of a shift as somebody sees them: who holds each, what they may press."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from django.urls import reverse
from django.utils.translation import gettext, pgettext

from care.actions.places import LATE_WITHIN, swap_asked
from care.models import Shift, ShiftPlace
from care.planning.place_facts import HELD, ShiftFacts, read_facts
from care.planning.shift_times import begins_at, ends_at
from care.views.days import full_day
from care.views.place_words import against_words
from care.views.shift_words import hours_words
from orchard.models import skill_words
from orchard.sources.official_warnings import site_moment
from orchard.views.site_page import SitePage

State = ShiftPlace.State


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing to choose in a form, by value."""

    value: int
    words: str


@dataclass(frozen=True, slots=True)
class PlaceButton:
    """One thing to press: where it posts, its words, and what else is sent or chosen.

    ``name`` is the field of the ``choices``, or of a number of minutes, if there is one.
    """

    address: str
    words: str
    is_quiet: bool = True
    name: str = ""
    label: str = ""
    nobody: str = ""
    choices: tuple[Choice, ...] = ()
    fixed: int | None = None
    minutes: int | None = None


@dataclass(frozen=True, slots=True)
class PlaceLine:
    """One place: its shift, who holds it, what there is to know, what may be done."""

    place_id: int
    title: str
    shift_address: str
    when: str
    who: str
    note: str
    buttons: tuple[PlaceButton, ...]
    is_mine: bool


@dataclass(frozen=True, slots=True)
class Seen:
    """Who looks, and what they hold: ``mine`` are their places of shifts to come."""

    page: SitePage
    mine: tuple[ShiftPlace, ...]

    @property
    def person_id(self) -> int:
        """Who looks."""
        return self.page.person.pk

    @property
    def moment(self) -> datetime:
        """Now at the site; in UTC, to be reckoned with."""
        return site_moment(self.page.site, self.page.now).astimezone(UTC)

    def has_begun(self, facts: ShiftFacts) -> bool:
        """Whether a shift has begun."""
        return begins_at(facts.shift, self.page.site) <= self.moment

    def is_over(self, facts: ShiftFacts) -> bool:
        """Whether a shift is over."""
        return ends_at(facts.shift, self.page.site) <= self.moment


def seen_by(page: SitePage, facts: Iterable[ShiftFacts]) -> Seen:
    """Return who looks at these shifts, and what they hold of them."""
    looker = Seen(page, ())
    mine = tuple(
        place
        for one in facts
        if not looker.has_begun(one)
        for place in one.places
        if place.holder_id == page.person.pk and place.state in HELD
    )
    return Seen(page, mine)


def lines_of_shift(page: SitePage, shift: Shift) -> tuple[PlaceLine, ...]:
    """Return the places of one shift as a member sees them, for the shift's own page.

    Its plan is to be fresh. Places of other shifts may be given for one of it.
    """
    facts = read_facts(page.site, [shift], page.today)[shift.pk]
    own = ShiftPlace.objects.filter(
        holder=page.person,
        state__in=HELD,
        shift__site=page.site,
        shift__status=Shift.Status.PUBLISHED,
        shift__day__gt=page.today,
    )
    seen = Seen(page, tuple(own.select_related("shift").order_by("shift__day")))
    return tuple(place_line(seen, facts, place) for place in facts.places)


def place_line(seen: Seen, facts: ShiftFacts, place: ShiftPlace) -> PlaceLine:
    """Return one place as one person sees it."""
    site, shift = seen.page.site, facts.shift
    return PlaceLine(
        place_id=place.pk,
        title=shift.name,
        shift_address=reverse("shift", args=[site.slug, shift.uid]),
        when=f"{full_day(shift.day)}, {hours_words(shift, site)}",
        who=who_words(seen, facts, place),
        note=_note(seen, facts, place),
        buttons=tuple(_buttons(seen, facts, place)),
        is_mine=place.holder_id == seen.person_id,
    )


def who_words(seen: Seen, facts: ShiftFacts, place: ShiftPlace) -> str:
    """Return who holds a place and what is with it.

    That somebody missed a shift is said to them and to those who arrange shifts alone.
    """
    holder = facts.holder(place)
    if holder is None:
        return gettext("Nobody yet")
    is_me = holder == seen.person_id
    name = gettext("You") if is_me else _name(facts, place)
    if place.state == State.OFFERED:
        # Only who is asked by name can be asked to swap: others need no look.
        is_swap = place.offered_to_id is not None and swap_asked(place) is not None
        if is_swap:
            words = (
                gettext("You ask {asked} for a swap")
                if is_me
                else gettext("{name} asks {asked} for a swap")
            )
        else:
            words = (
                gettext("You ask {asked} for cover")
                if is_me
                else gettext("{name} asks {asked} for cover")
            )
        return words.format(name=name, asked=_asked(seen, place))
    knows = is_me or seen.page.may_arrange
    said = (
        (gettext("on hold"), facts.is_on_hold(place)),
        (gettext("missed"), place.state == State.MISSED and knows),
        (
            f"{place.minutes_worked} min",
            place.minutes_worked is not None and knows,
        ),
        (gettext("not answered yet"), not is_me and _waits_for_answer(place)),
    )
    notes = [words for words, applies in said if applies]
    return ", ".join([name, *notes])


def _asked(seen: Seen, place: ShiftPlace) -> str:
    if place.offered_to is None:
        return gettext("anybody")
    is_me = place.offered_to_id == seen.person_id
    return (
        pgettext("somebody is asked", "you") if is_me else place.offered_to.shown_name
    )


def _waits_for_answer(place: ShiftPlace) -> bool:
    return place.state == State.HELD and place.accepted_at is None


def _name(facts: ShiftFacts, place: ShiftPlace) -> str:
    member = facts.members.get(place.holder_id or 0)
    if member is not None:
        return member.name
    return place.holder.shown_name if place.holder else gettext("Nobody")


def _note(seen: Seen, facts: ShiftFacts, place: ShiftPlace) -> str:
    parts = []
    if place.is_learner:
        parts.append(gettext("A learner's place."))
    if place.skill:
        parts.append(
            gettext("Asks for: {skill}.").format(skill=skill_words(place.skill))
        )
    if facts.is_on_hold(place) and place.holder_id == seen.person_id:
        parts.append(
            gettext(
                "Wait: those you need beside you are not on it, or there is work on it that "
                "you may not be near."
            )
        )
    if may_take(seen, facts, place):
        parts.append(against_words(facts.speaks_against(place, seen.person_id)))
    return " ".join(filter(None, parts))


def may_take(seen: Seen, facts: ShiftFacts, place: ShiftPlace) -> bool:
    """Whether who looks may take a place as it is now."""
    is_free = facts.holder(place) is None or place.state == State.OFFERED
    is_mine = place.holder_id == seen.person_id and facts.holder(place) is not None
    is_for_me = place.offered_to_id in (None, seen.person_id)
    if not seen.page.may_tick or is_mine or not (is_free and is_for_me):
        return False
    if place.state not in (State.OPEN, *HELD) or seen.has_begun(facts):
        return False
    return not facts.stops(place, seen.person_id)


def _buttons(seen: Seen, facts: ShiftFacts, place: ShiftPlace) -> Iterable[PlaceButton]:
    if not seen.page.may_tick or facts.shift.status != facts.shift.Status.PUBLISHED:
        return ()
    if seen.has_begun(facts):
        return _after(seen, facts, place) if seen.is_over(facts) else ()
    if place.holder_id == seen.person_id and place.state in HELD:
        return _of_mine(seen, facts, place)
    return _of_others(seen, facts, place)


def _post(seen: Seen, name: str, place: ShiftPlace) -> str:
    return reverse(name, args=[seen.page.site.slug, place.pk])


def _of_mine(seen: Seen, facts: ShiftFacts, place: ShiftPlace) -> Iterable[PlaceButton]:
    if _waits_for_answer(place):
        yield PlaceButton(
            _post(seen, "place_accept", place), gettext("I can come"), is_quiet=False
        )
        yield PlaceButton(_post(seen, "place_refuse", place), gettext("No, not me"))
        return
    if place.state == State.OFFERED:
        yield PlaceButton(
            _post(seen, "place_keep", place), gettext("Keep it after all")
        )
    cover = PlaceButton(
        _post(seen, "place_offer", place),
        gettext("Ask for cover"),
        name="to",
        label=gettext("Whom to ask"),
        nobody=gettext("Everybody who may"),
        choices=_people(facts, place),
    )
    leave = PlaceButton(_post(seen, "place_leave", place), gettext("I can't come"))
    is_late = begins_at(facts.shift, seen.page.site) - seen.moment <= LATE_WITHIN
    if place.state == State.OFFERED:
        yield leave
    else:
        yield from (leave, cover) if is_late else (cover, leave)


def _people(facts: ShiftFacts, place: ShiftPlace) -> tuple[Choice, ...]:
    return tuple(
        Choice(person, facts.members[person].name) for person in facts.who_may(place)
    )


def _of_others(
    seen: Seen, facts: ShiftFacts, place: ShiftPlace
) -> Iterable[PlaceButton]:
    is_for_me = place.state == State.OFFERED and place.offered_to_id == seen.person_id
    wanted = swap_asked(place) if is_for_me else None
    if wanted is not None:
        yield PlaceButton(
            _post(seen, "place_swap", place),
            gettext("Swap"),
            is_quiet=False,
            name="give",
            fixed=wanted,
        )
    elif may_take(seen, facts, place):
        yield PlaceButton(
            _post(seen, "place_claim", place), gettext("Take it"), is_quiet=False
        )
    if is_for_me:
        yield PlaceButton(_post(seen, "place_decline", place), gettext("No, not me"))
    elif place.state == State.HELD and facts.holder(place) is not None:
        yield from _ask_to_swap(seen, place)


def _ask_to_swap(seen: Seen, place: ShiftPlace) -> Iterable[PlaceButton]:
    own = tuple(
        Choice(one.pk, f"{one.shift.name}, {full_day(one.shift.day)}")
        for one in seen.mine
        if one.shift_id != place.shift_id
    )
    if own:
        yield PlaceButton(
            _post(seen, "place_swap", place),
            gettext("Ask to swap"),
            name="give",
            label=gettext("Which of yours for it"),
            choices=own,
        )


def _after(seen: Seen, facts: ShiftFacts, place: ShiftPlace) -> Iterable[PlaceButton]:
    is_mine = place.holder_id == seen.person_id
    if place.holder_id is None or place.on_hold:
        return
    may_write = seen.page.may_arrange or (is_mine and place.state != State.MISSED)
    if may_write:
        worked = place.minutes_worked
        yield PlaceButton(
            _post(seen, "place_hours", place),
            gettext("Write it down"),
            name="minutes",
            label=gettext("Minutes worked"),
            minutes=facts.shift.minutes if worked is None else worked,
        )
    if place.state != State.MISSED and _may_say_missed(seen, facts.places, place):
        words = gettext("I was not there") if is_mine else gettext("Was not there")
        yield PlaceButton(_post(seen, "place_missed", place), words)


def _may_say_missed(
    seen: Seen, places: Sequence[ShiftPlace], place: ShiftPlace
) -> bool:
    if seen.page.may_arrange:
        return True
    was_there = any(
        one.holder_id == seen.person_id
        and one.state in (*HELD, State.DONE)
        and not one.on_hold
        for one in places
    )
    return was_there and place.holder_id != seen.person_id
