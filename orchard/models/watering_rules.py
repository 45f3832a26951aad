"""What the local authority allows of watering."""

from django.db import models
from django.db.models import Q

from orchard.models.people import Person
from orchard.models.places import Site


class WateringRule(models.Model):
    """A span of the year in which watering is allowed on some weekdays only.

    ``weekdays`` holds the allowed days as digits, Monday 0; empty allows none.
    ``spares_hand_watering`` and ``spares_containers`` tell what the rule leaves free.
    """

    site = models.ForeignKey(
        Site, on_delete=models.CASCADE, related_name="watering_rules"
    )
    start_month = models.PositiveSmallIntegerField()
    start_day = models.PositiveSmallIntegerField()
    end_month = models.PositiveSmallIntegerField()
    end_day = models.PositiveSmallIntegerField()
    weekdays = models.CharField(max_length=7, blank=True)
    spares_hand_watering = models.BooleanField(default=False)
    spares_containers = models.BooleanField(default=False)
    source = models.CharField(max_length=120, blank=True)
    entered_by = models.ForeignKey(Person, null=True, on_delete=models.SET_NULL)

    class Meta:
        ordering = ["start_month", "start_day", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(weekdays__regex=r"^0?1?2?3?4?5?6?$"),
                name="watering_rule_weekdays",
            )
        ]

    def __str__(self) -> str:
        return f"{self.start_month}/{self.start_day}-{self.end_month}/{self.end_day}"
