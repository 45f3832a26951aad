"""What a member offers an orchard: days, limits, skills, whom they learn from."""

from django.db import models
from django.db.models import Q

from orchard.models.people import Membership


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
