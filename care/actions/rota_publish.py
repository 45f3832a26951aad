"""Publishing a span of the rota: drafts become shifts, and whoever is on one is told."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from hashlib import sha256

from django.db import transaction
from django.urls import reverse
from django.utils.translation import gettext, gettext_noop, ngettext

from care.actions.place_changes import shift_words
from care.actions.rota import Span, locked_drafts, settle_drafts
from care.models import RotaPublished, Shift, ShiftPlace
from care.planning.place_facts import HELD
from care.planning.rota_changes import changes_since, last_published, snapshot
from orchard.actions.audit import note
from orchard.actions.messages import Told, write_message
from orchard.actions.places import raise_revision
from orchard.languages import in_language
from orchard.models import Membership, Person

TOLD_WHY = gettext_noop("You help at {orchard}.")
TO_LEARN = gettext_noop("{shift}, to learn")
ON_HOLD = gettext_noop(
    "{shift}, to learn: on hold until those you need beside you are on it too"
)


class ChangedMeanwhileError(Exception):
    """The rota is another than the one that was looked at."""


class NothingToPublishError(Exception):
    """No draft of the span is still to come, and nothing changed since the last time."""


def to_tell(places: Iterable[ShiftPlace]) -> dict[Person, list[ShiftPlace]]:
    """Return of which places each person would be told, in time.

    ``places`` have their shift and holder at hand.
    """
    held = [place for place in places if place.state in HELD and place.holder]
    held.sort(key=lambda place: (place.shift.day, place.shift.starts_at, place.pk))
    theirs: dict[Person, list[ShiftPlace]] = defaultdict(list)
    for place in held:
        if place.holder is not None:
            theirs[place.holder].append(place)
    return dict(theirs)


def _line(place: ShiftPlace) -> str:
    words = shift_words(place.shift)
    if place.on_hold:
        return gettext(ON_HOLD).format(shift=words)
    return gettext(TO_LEARN).format(shift=words) if place.is_learner else words


def drafts_of(span: Span) -> list[Shift]:
    """Return the drafts that a publication would publish, with places and holders."""
    rows = Shift.objects.filter(
        site=span.site,
        status=Shift.Status.DRAFT,
        day__range=(max(span.first, span.today), span.last),
    )
    return list(rows.prefetch_related("places__holder").order_by("day", "starts_at"))


def seal_of(drafts: Iterable[Shift]) -> str:
    """Return what tells this rota from another one: who holds which place of what."""
    parts = [
        (shift.pk, str(shift.day), str(shift.starts_at), place.pk, place.holder_id)
        for shift in drafts
        for place in shift.places.all()
    ]
    return sha256(repr(sorted(parts, key=repr)).encode()).hexdigest()[:24]


@transaction.atomic
def publish(span: Span, *, seal: str | None = None) -> RotaPublished:
    """Publish a span's drafts, keep who holds what, and tell whoever is on a new shift.

    Whoever may not hold their place by now loses it first, as the rules have it.

    Raises
    ------
    ChangedMeanwhileError
        ``seal`` is that of another rota.
    NothingToPublishError
        There is none, and nothing changed since the last publication.
    """
    drafts = locked_drafts(span)
    if seal is not None and seal != seal_of(drafts_of(span)):
        raise ChangedMeanwhileError
    before = last_published(span.site)
    is_news = before is not None and changes_since(before, span.today)
    if not drafts and not is_news:
        raise NothingToPublishError
    settle_drafts(drafts, span)
    Shift.objects.filter(pk__in=[shift.pk for shift in drafts]).update(
        status=Shift.Status.PUBLISHED, published_at=span.now, changed_at=span.now
    )
    published = RotaPublished.objects.create(
        site=span.site,
        from_on=span.first,
        until_on=span.last,
        by_person=span.by,
        at=span.now,
        held=snapshot(span.site, span.today),
    )
    told = _tell(drafts, published, span)
    raise_revision(span.site)
    note(
        orchard=span.site.orchard,
        person=span.by,
        what="rota_published",
        subject=f"{span.site.name}, {span.first} to {span.last}",
        after={"shifts": len(drafts), "people": told},
        now=span.now,
    )
    return published


def _tell(drafts: Sequence[Shift], published: RotaPublished, span: Span) -> int:
    """Tell everybody who is on a new shift, but whoever publishes it."""
    places = ShiftPlace.objects.filter(shift__in=drafts).select_related(
        "shift", "holder"
    )
    members = set(
        Membership.objects.filter(orchard=span.site.orchard).values_list(
            "person", flat=True
        )
    )
    told = 0
    for person, theirs in to_tell(places).items():
        if person == span.by or person.pk not in members:
            continue
        with in_language(person.language):
            told += _tell_one(person, theirs, published, span)
    return told


def _tell_one(
    person: Person,
    places: Sequence[ShiftPlace],
    published: RotaPublished,
    span: Span,
) -> bool:
    message = write_message(
        person=person,
        orchard=span.site.orchard,
        what=Told.SHIFT_PROPOSED,
        key=f"rota/{published.pk}",
        why=gettext(TOLD_WHY).format(orchard=span.site.orchard.name),
        title=title_of(len(places)),
        lines=[*map(_line, places), gettext("Say there whether you can come.")],
        time_zone=span.site.time_zone,
        due_at=span.now,
        path=reverse("my_shifts", args=[span.site.slug]),
    )
    return message is not None


def title_of(number: int) -> str:
    """Return what a message about so many new shifts is called."""
    if number == 1:
        return gettext("You have a new shift")
    return ngettext(
        "You have {number} new shift", "You have {number} new shifts", number
    ).format(number=number)


def told_lines(
    places: Iterable[ShiftPlace], by: Person
) -> tuple[tuple[str, Sequence[str]], ...]:
    """Return what a publication by somebody would tell, and whom, by name."""
    told = [
        (person.shown_name, [_line(place) for place in theirs])
        for person, theirs in to_tell(places).items()
        if person != by
    ]
    return tuple(sorted(told))
