"""As what a member helps: skills, learners and mentors, the young.

Nobody under 18 is ever given a skill for ladders, saws or sprays, nor made a mentor.
The orchard's row is locked first, so that two coordinators cannot together do what
neither may alone.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.utils.translation import gettext, gettext_noop

from orchard.access import NOBODY_TO_ASK, May, may
from orchard.actions.audit import changed, note
from orchard.models import (
    Helping,
    Membership,
    Orchard,
    is_hazard_skill,
    skill_named,
    skill_words,
)

# 29 CFR 570.71 names saws, work from ladders and pesticides as particularly hazardous
# for the young on farms; it ends at 16 and at 20 feet, we at 18 and at any ladder.
YOUNG_HAZARD = gettext_noop(
    "Nobody under 18 works on ladders, with saws or with sprays here, so take out: "
    "{skills}. Law forbids much of it to the young on farms (such as 29 CFR 570, subpart "
    "E-1); local law goes before."
)
YOUNG_MENTOR = gettext_noop("{name} is under 18 and cannot be a mentor.")
LEARNING_MENTOR = gettext_noop("{name} is a learner too and cannot be a mentor yet.")
VIEWING_MENTOR = gettext_noop("{name} only looks on here and cannot be a mentor.")
OWN_MENTOR = gettext_noop("Nobody is their own mentor: choose somebody else.")
STILL_A_MENTOR = gettext_noop(
    "{name} is a mentor of {learners}. Give them another mentor first."
)
NO_LEARNER = gettext_noop(
    "Mentors are for learners: tick “Learner”, or take the mentors out."
)
NO_MEMBER = gettext_noop("Somebody you chose is no member any more. Choose again.")


class HelpingError(ValueError):
    """What was said of a helper cannot be; ``field`` is what it was said in."""

    def __init__(self, message: str, *, field: str) -> None:
        super().__init__(message)
        self.field = field


@dataclass(frozen=True, slots=True)
class HelperFacts:
    """As what somebody helps; ``mentors`` are ids of memberships."""

    skills: tuple[str, ...] = ()
    is_learner: bool = False
    is_under_18: bool = False
    mentors: frozenset[int] = frozenset()


@transaction.atomic
def describe_helper(
    *, by: Membership, member: Membership, facts: HelperFacts, now: datetime
) -> bool:
    """Say as what a member helps, in place of what was said; whether it is news.

    Whoever is under 18 is a learner.

    Raises
    ------
    PermissionDenied
        ``by`` may not arrange here, or ``member`` is of another orchard or gone.
    HelpingError
        The rules for the young, for learners or for mentors forbid it.
    """
    orchard = Orchard.objects.select_for_update().get(pk=by.orchard_id)
    role = Membership.objects.filter(pk=by.pk).values_list("role", flat=True).first()
    row = _member(orchard, member.pk)
    if row is None or role is None or not may(role, May.ARRANGE):
        raise PermissionDenied(NOBODY_TO_ASK)
    mentors = list(
        Membership.objects.filter(orchard=orchard, pk__in=facts.mentors)
        .select_related("person", "helping")
        .order_by("pk")
    )
    skills = sorted({name for each in facts.skills if (name := skill_named(each))})
    is_learner = facts.is_learner or facts.is_under_18
    _refuse_hazards(skills, is_under_18=facts.is_under_18)
    if is_learner:
        _refuse_learning_mentor(
            row, "is_under_18" if facts.is_under_18 else "is_learner"
        )
    elif facts.mentors:
        raise HelpingError(gettext(NO_LEARNER), field="mentors")
    if len(mentors) < len(facts.mentors):
        raise HelpingError(gettext(NO_MEMBER), field="mentors")
    for mentor in mentors:
        if why := why_no_mentor(mentor, row.pk):
            raise HelpingError(why, field="mentors")
    said = {
        "skills": skills,
        "is_learner": is_learner,
        "is_under_18": facts.is_under_18,
    }
    return _write_helper(by, row, said, mentors, now)


def why_no_mentor(mentor: Membership, learner_id: int) -> str:
    """Return why a member cannot be a learner's mentor; empty where they can.

    ``learner_id`` is the learner's membership. Nothing is asked where the mentor's
    helping was read with them.
    """
    helping = helping_of(mentor)
    if mentor.pk == learner_id:
        return gettext(OWN_MENTOR)
    reasons = (
        (helping.is_under_18, YOUNG_MENTOR),
        (helping.is_learner, LEARNING_MENTOR),
        (not may(mentor.role, May.TICK), VIEWING_MENTOR),
    )
    name = mentor.person.shown_name
    return next((gettext(why).format(name=name) for is_so, why in reasons if is_so), "")


def helping_of(member: Membership) -> Helping:
    """Return a member's row, or an unsaved one that says nothing."""
    try:
        return member.helping
    except Helping.DoesNotExist:
        return Helping(membership=member)


def _refuse_hazards(skills: Sequence[str], *, is_under_18: bool) -> None:
    hazards = [skill_words(skill) for skill in skills if is_hazard_skill(skill)]
    if is_under_18 and hazards:
        message = gettext(YOUNG_HAZARD).format(skills=", ".join(hazards))
        raise HelpingError(message, field="skills")


def _refuse_learning_mentor(member: Membership, field: str) -> None:
    learners = member.learners.exclude(membership=member).order_by("membership_id")
    names = [
        each.membership.person.shown_name
        for each in learners.select_related("membership__person")
    ]
    if names:
        name = member.person.shown_name
        message = gettext(STILL_A_MENTOR).format(name=name, learners=", ".join(names))
        raise HelpingError(message, field=field)


def _write_helper(
    by: Membership,
    member: Membership,
    said: dict[str, object],
    mentors: Sequence[Membership],
    now: datetime,
) -> bool:
    helping, _ = Helping.objects.get_or_create(membership=member)
    before = {name: getattr(helping, name) for name in said}
    names = helping.mentors.select_related("person").order_by("pk")
    before["mentors"] = [each.person.shown_name for each in names]
    after = {**said, "mentors": [each.person.shown_name for each in mentors]}
    has_same_mentors = {each.pk for each in names} == {each.pk for each in mentors}
    was, became = changed(before, after)
    if not became and has_same_mentors:
        return False
    for name, value in said.items():
        setattr(helping, name, value)
    helping.save(update_fields=list(said))
    helping.mentors.set(mentors)
    note(
        orchard=member.orchard,
        person=by.person,
        what="helper_described",
        subject=member.person.shown_name,
        before=was,
        after=became,
        now=now,
    )
    return True


def _member(orchard: Orchard, member_id: int) -> Membership | None:
    return (
        Membership.objects.filter(pk=member_id, orchard=orchard)
        .select_related("person", "orchard")
        .first()
    )
