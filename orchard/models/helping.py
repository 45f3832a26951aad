"""What a member offers an orchard: days, limits, skills, whom they learn from."""

import re
from collections.abc import Sequence
from datetime import date, timedelta

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy

from orchard.models.people import Membership

SKILL_LENGTH = 24
# Typed skills of the same dangers: a chainsaw, spraying. Sawdust is none.
_HAZARD_WORD = re.compile(
    r"ladders?\b|saw(s|ing|yer)?\b|spray|pesticide", re.IGNORECASE
)


class Skill(models.TextChoices):
    """The skills every orchard knows; others are typed, in an orchard's own words."""

    LADDER = "ladder", gettext_lazy("Ladders")
    SAW = "saw", gettext_lazy("Saws")
    SPRAY = "spray", gettext_lazy("Sprays")
    FIRST_AID = "first_aid", gettext_lazy("First aid")


def skill_named(text: str) -> str:
    """Return how a skill is kept that somebody typed; empty for no skill.

    Big and small letters make no difference, and a name or label of ``Skill`` is it.
    """
    typed = " ".join(text.casefold().replace("_", " ").split())
    for skill in Skill:
        if typed in (skill.value.replace("_", " "), skill.label.casefold()):
            return skill.value
    return typed


def skill_words(skill: str) -> str:
    """Return a skill as people read it."""
    return str(Skill(skill).label) if skill in Skill.values else skill.capitalize()


def is_hazard_skill(skill: str) -> bool:
    """Whether a skill is one for ladders, saws or sprays, known or typed."""
    return _HAZARD_WORD.search(skill) is not None


class Helping(models.Model):
    """How much and as what a member helps; without a row, as much as they offer days.

    ``skills`` are names such as ``ladder``, confirmed by a coordinator.
    """

    membership = models.OneToOneField(
        Membership, on_delete=models.CASCADE, related_name="helping"
    )
    most_a_week = models.PositiveSmallIntegerField(null=True, blank=True)
    most_a_season = models.PositiveSmallIntegerField(null=True, blank=True)
    skills = models.JSONField(default=list, blank=True)
    is_learner = models.BooleanField(default=False)
    is_under_18 = models.BooleanField(default=False)
    mentors = models.ManyToManyField(Membership, related_name="learners", blank=True)

    def __str__(self) -> str:
        return f"helping of {self.membership_id}"


class Offered(models.Model):
    """A weekday, or one day, on which a member can come; one day goes before.

    ``wish`` is -1 rather not, 0 can come, 1 gladly; ``None`` says: not that day.
    """

    membership = models.ForeignKey(
        Membership, on_delete=models.CASCADE, related_name="offered"
    )
    weekday = models.PositiveSmallIntegerField(null=True, blank=True)  # Monday is 0
    day = models.DateField(null=True, blank=True)
    wish = models.SmallIntegerField(null=True, blank=True)

    class Meta:
        ordering = ["weekday", "day", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(weekday__isnull=False, weekday__lte=6, day=None)
                | Q(weekday=None, day__isnull=False),
                name="offered_one_way",
            ),
            models.CheckConstraint(
                condition=Q(wish=None) | Q(wish__gte=-1, wish__lte=1),
                name="offered_wish",
            ),
            models.UniqueConstraint(
                fields=["membership", "weekday"],
                condition=Q(weekday__isnull=False),
                name="offered_weekday_once",
            ),
            models.UniqueConstraint(
                fields=["membership", "day"],
                condition=Q(day__isnull=False),
                name="offered_day_once",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.membership_id} {self.day or self.weekday}"


def wishes_between(
    rows: Sequence[Offered], first: date, last: date
) -> dict[date, int | None]:
    """Return what one member said of the days from a first to a last, both included.

    A day that was named goes before its weekday; where any weekday was named, those
    that were not are days they cannot come. Days of which nothing is known are left
    out.
    """
    by_day = {row.day: row.wish for row in rows if row.day is not None}
    by_weekday = {row.weekday: row.wish for row in rows if row.weekday is not None}
    wishes: dict[date, int | None] = {}
    for number in range((last - first).days + 1):
        day = first + timedelta(days=number)
        if day in by_day:
            wishes[day] = by_day[day]
        elif by_weekday:
            wishes[day] = by_weekday.get(day.weekday())
    return wishes
