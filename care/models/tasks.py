"""Tasks and the rounds that gather them."""

import uuid

from django.db import models
from django.db.models import F, Q
from django.utils.translation import pgettext_lazy

from orchard.models import Block, Site, Tree


class Round(models.Model):
    """One walk through one block on one day; what a calendar shows.

    The row keeps its ``uid`` for life; ``sequence`` rises when its day changes.
    ``order`` is the walking order of its trees, frozen once the walk began.
    """

    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="rounds")
    block = models.ForeignKey(Block, null=True, on_delete=models.CASCADE)
    day = models.DateField()
    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    sequence = models.PositiveIntegerField(default=0)
    changed_at = models.DateTimeField()
    digest = models.CharField(max_length=64, blank=True)
    is_withdrawn = models.BooleanField(default=False)
    begun_at = models.DateTimeField(null=True)
    order = models.JSONField(default=list, blank=True)

    class Meta:
        ordering = ["day", "block__position", "id"]
        indexes = [models.Index(fields=["site", "is_withdrawn", "day"])]

    def __str__(self) -> str:
        return f"{self.day} {self.uid}"


class Task(models.Model):
    """Something to do for one tree, made by the plan.

    A moved date keeps the row; a withdrawn one keeps its reason and returns as
    itself. Only firm tasks can be ticked; the others are projections.
    """

    class Status(models.TextChoices):
        """What became of it."""

        OPEN = "open", pgettext_lazy("a task", "Open")
        DONE = "done", pgettext_lazy("a task", "Done")
        SKIPPED = "skipped", pgettext_lazy("a task", "Skipped")
        WITHDRAWN = "withdrawn", pgettext_lazy("a task", "Withdrawn")

    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="tasks")
    tree = models.ForeignKey(Tree, on_delete=models.CASCADE, related_name="tasks")
    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    kind = models.CharField(max_length=12)
    key = models.CharField(max_length=24)
    action = models.CharField(max_length=16)
    earliest = models.DateField()
    due = models.DateField()
    latest = models.DateField()
    likely_from = models.DateField(null=True)
    likely_to = models.DateField(null=True)
    not_before = models.DateField(null=True)
    amount = models.FloatField(null=True)
    unit = models.CharField(max_length=6, blank=True)
    reason = models.JSONField(default=dict)
    sources = models.JSONField(default=list)
    cautions = models.JSONField(default=list)
    effort_minutes = models.PositiveSmallIntegerField(default=5)
    is_firm = models.BooleanField(default=True)
    is_urgent = models.BooleanField(default=False)
    status = models.CharField(max_length=10, choices=Status, default=Status.OPEN)
    round = models.ForeignKey(
        Round, null=True, on_delete=models.SET_NULL, related_name="tasks"
    )

    class Meta:
        ordering = ["due", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["tree", "kind", "key"],
                condition=Q(status__in=["open", "withdrawn"]),
                name="one_open_task_a_key",
            ),
            models.CheckConstraint(
                condition=Q(earliest__lte=F("due")) & Q(due__lte=F("latest")),
                name="task_window",
            ),
            models.CheckConstraint(
                condition=Q(status__in=["open", "done", "skipped", "withdrawn"]),
                name="task_status",
            ),
        ]
        indexes = [models.Index(fields=["site", "status", "due"])]

    def __str__(self) -> str:
        return f"{self.kind} {self.key}"
