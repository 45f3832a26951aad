"""As what members help: the young, learners, mentors, under any edits."""

from datetime import UTC, datetime

import pytest
from django.core.exceptions import PermissionDenied
from django.db import transaction
from hypothesis import HealthCheck, given, settings, strategies as st

from orchard.actions.helping import HelperFacts, HelpingError, describe_helper
from orchard.actions.members import change_role, remove_member
from orchard.actions.offers import limit_help, offer_weekdays
from orchard.actions.ways_in import record_paper
from orchard.models import (
    AuditEntry,
    Helping,
    Membership,
    Offered,
    SignedPaper,
    is_hazard_skill,
)

NOW = datetime(2025, 7, 2, 12, 0, tzinfo=UTC)
ROLES = ("owner", "coordinator", "grower", "viewer")


@pytest.fixture
def member(cast):
    def of(role):
        return Membership.objects.get(person=getattr(cast, role))

    return of


@pytest.fixture
def describe(member):
    def say(role, by="coordinator", **facts):
        mentors = frozenset(
            each if isinstance(each, int) else member(each).pk
            for each in facts.pop("mentors", ())
        )
        said = HelperFacts(mentors=mentors, **facts)
        return describe_helper(by=member(by), member=member(role), facts=said, now=NOW)

    return say


def helping(member, role):
    return Helping.objects.get(membership=member(role))


def test_skills_are_kept_one_way_and_in_order(member, describe):
    assert describe("grower", skills=("Ladders", "grafting", "ladder", " "))
    assert helping(member, "grower").skills == ["grafting", "ladder"]
    assert not describe("grower", skills=("ladder", "Grafting"))
    entry = AuditEntry.objects.get(what="helper_described")
    assert entry.after == {"skills": ["grafting", "ladder"]}


def test_a_learner_has_mentors_and_the_trail_says_whom(member, describe):
    assert describe("grower", is_learner=True, mentors=["owner"])
    assert [one.pk for one in helping(member, "grower").mentors.all()] == [
        member("owner").pk
    ]
    assert describe("grower", is_learner=True, mentors=["coordinator"])
    entry = AuditEntry.objects.filter(what="helper_described").first()
    assert (entry.before, entry.after) == (
        {"mentors": ["owner"]},
        {"mentors": ["coordinator"]},
    )


@pytest.mark.parametrize("skill", ["ladder", "Saws", "spray", "chainsaw", "Spraying"])
def test_nobody_under_18_is_given_a_skill_that_can_hurt(skill, describe):
    with pytest.raises(HelpingError, match=r"29 CFR 570.*local law") as error:
        describe("grower", skills=("first_aid", skill), is_under_18=True)
    assert error.value.field == "skills"
    assert not Helping.objects.exists()


def test_whoever_turns_out_to_be_under_18_keeps_no_such_skill(member, describe):
    describe("grower", skills=("ladder",))
    with pytest.raises(HelpingError):
        describe("grower", skills=("ladder",), is_under_18=True)
    assert describe("grower", skills=("first aid",), is_under_18=True)
    row = helping(member, "grower")
    assert (row.skills, row.is_learner) == (["first_aid"], True)


def test_who_cannot_be_a_mentor(member, describe):
    describe("owner", is_under_18=True)
    for mentor, words in (
        ("grower", "own mentor"),
        ("owner", "owner is under 18"),
        ("viewer", "only looks on"),
        (0, "no member any more"),
    ):
        with pytest.raises(HelpingError, match=words) as error:
            describe("grower", is_learner=True, mentors=[mentor])
        assert error.value.field == "mentors"
    describe("owner", is_learner=True)
    with pytest.raises(HelpingError, match="learner too"):
        describe("grower", is_learner=True, mentors=["owner"])
    with pytest.raises(HelpingError, match="for learners"):
        describe("grower", mentors=["coordinator"])


@pytest.mark.parametrize("mark", ["is_under_18", "is_learner"])
def test_a_mentor_is_made_neither_learner_nor_young(mark, describe):
    describe("grower", is_learner=True, mentors=["owner"])
    with pytest.raises(HelpingError, match="owner is a mentor of grower") as error:
        describe("owner", **{mark: True})
    assert error.value.field == mark
    describe("grower", is_learner=True)
    assert describe("owner", **{mark: True})


def test_only_who_may_arrange_says_so_and_in_one_orchard(cast, member, describe):
    for by in ("grower", "viewer", "stranger"):
        with pytest.raises(PermissionDenied):
            describe("grower", by=by, skills=("ladder",))
    with pytest.raises(PermissionDenied):
        describe("stranger", by="owner", skills=("ladder",))
    stranger = member("stranger").pk
    with pytest.raises(HelpingError, match="no member any more"):
        describe("grower", is_learner=True, mentors=[stranger])
    late = member("coordinator")
    change_role(by=member("owner"), member_id=late.pk, role="grower", now=NOW)
    with pytest.raises(PermissionDenied):  # read before the role was lowered
        describe_helper(by=late, member=late, facts=HelperFacts(), now=NOW)


def test_who_leaves_takes_all_that_was_said_of_them_along(cast, member, describe):
    describe("grower", is_learner=True, mentors=["coordinator"])
    leaving = member("coordinator")
    offer_weekdays(membership=leaving, wishes={5: 1}, now=NOW)
    limit_help(membership=leaving, most_a_week=1, most_a_season=None, now=NOW)
    record_paper(
        by=leaving, member=leaving, what="Waiver", signed_on=NOW.date(), now=NOW
    )
    remove_member(by=member("owner"), member_id=leaving.pk, now=NOW)
    assert not Offered.objects.exists()
    assert not SignedPaper.objects.exists()
    row = Helping.objects.get()
    assert row.membership.person == cast.grower
    assert not row.mentors.exists()


EDITS = st.lists(
    st.tuples(
        st.sampled_from(ROLES),
        st.sets(st.sampled_from(["ladder", "chainsaw", "first_aid"]), max_size=2),
        st.booleans(),
        st.booleans(),
        st.sets(st.sampled_from(ROLES), max_size=2),
    ),
    min_size=3,
    max_size=6,
)


@settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(edits=EDITS)
def test_no_edits_ever_leave_the_young_with_hazards_or_as_mentors(
    edits, cast, member, describe
):
    with transaction.atomic():
        for role, skills, is_learner, is_under_18, mentors in edits:
            try:
                describe(
                    role,
                    skills=tuple(skills),
                    is_learner=is_learner,
                    is_under_18=is_under_18,
                    mentors=mentors,
                )
            except HelpingError:
                continue
            rows = Helping.objects.prefetch_related("mentors__helping")
            for row in rows:
                young = row.is_under_18
                assert not (young and any(map(is_hazard_skill, row.skills)))
                for mentor in row.mentors.all():
                    as_helper = getattr(mentor, "helping", Helping())
                    assert not as_helper.is_under_18
                    assert not as_helper.is_learner
                    assert mentor.pk != row.membership_id
        transaction.set_rollback(True)
