"""The log: what happened, by whom; corrected with a trace, never rewritten."""

import uuid
from datetime import datetime

from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy, pgettext_lazy

from care.models.helper_links import Helper
from care.models.tasks import Task
from orchard.models import Person, Site, Tree


class LogEntry(models.Model):
    """One thing that happened.

    ``amount`` is in the SI unit of ``unit``; for feeding it is grams of product and
    ``nitrogen_g`` the nitrogen in it. ``held_until`` is the last day on which what was
    done forbids picking. ``before`` is what the entry changed of its tree, so that it
    can be taken back. ``happened_at`` is when a phone without a network kept it, and
    ``clock_off_s`` by how much that phone's clock was ahead of ours when it sent it,
    where that matters. An entry taken back keeps its row, voided; a skip that somebody's
    doing overruled is voided too and names what it was ``replaced_by``. Who else did
    the same work stands in ``also_by`` and ``also_by_helpers``.
    """

    class What(models.TextChoices):
        """The kinds of entry."""

        DONE = "done", pgettext_lazy("what happened", "Done")
        SKIPPED = "skipped", pgettext_lazy("what happened", "Skipped")
        OBSERVED = "observed", pgettext_lazy("what happened", "Observed")
        HARVESTED = "harvested", pgettext_lazy("what happened", "Harvested")
        MOVED = "moved", pgettext_lazy("what happened", "Moved")
        LOST = "lost", pgettext_lazy("what happened", "Lost")
        NOTE = "note", gettext_lazy("Note")

    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="log")
    tree = models.ForeignKey(
        Tree, null=True, on_delete=models.CASCADE, related_name="log"
    )
    task = models.ForeignKey(
        Task, null=True, on_delete=models.SET_NULL, related_name="log"
    )
    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    person = models.ForeignKey(Person, null=True, on_delete=models.SET_NULL)
    helper = models.ForeignKey(
        Helper, null=True, on_delete=models.SET_NULL, related_name="log"
    )
    also_by = models.ManyToManyField(Person, related_name="log_shared")
    also_by_helpers = models.ManyToManyField(Helper, related_name="log_shared")
    what = models.CharField(max_length=10, choices=What)
    kind = models.CharField(max_length=16)
    key = models.CharField(max_length=24, blank=True)
    action = models.CharField(max_length=16, blank=True)
    on = models.DateField()
    recorded_at = models.DateTimeField()
    happened_at = models.DateTimeField(null=True)
    clock_off_s = models.IntegerField(null=True)
    amount = models.FloatField(null=True)
    unit = models.CharField(max_length=6, blank=True)
    nitrogen_g = models.FloatField(null=True)
    minutes_spent = models.FloatField(null=True)
    word = models.CharField(max_length=24, blank=True)
    reason = models.CharField(max_length=40, blank=True)
    product = models.CharField(max_length=80, blank=True, default="")
    held_until = models.DateField(null=True)
    before = models.JSONField(null=True)
    note = models.TextField(blank=True, max_length=2000)
    voided_at = models.DateTimeField(null=True)
    voided_by = models.ForeignKey(
        Person, null=True, on_delete=models.SET_NULL, related_name="voided_entries"
    )
    voided_by_helper = models.ForeignKey(
        Helper, null=True, on_delete=models.SET_NULL, related_name="voided_entries"
    )
    replaced_by = models.ForeignKey(
        "self", null=True, on_delete=models.SET_NULL, related_name="replaces"
    )

    class Meta:
        ordering = ["-on", "-recorded_at", "-id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(amount=None)
                | Q(amount__gte=0)
                | Q(kind__in=["thermometer"]),
                name="log_amount",
            ),
            models.CheckConstraint(
                condition=Q(held_until=None) | Q(held_until__gte=F("on")),
                name="log_hold",
            ),
            models.CheckConstraint(
                condition=Q(minutes_spent=None) | Q(minutes_spent__gt=0),
                name="log_minutes",
            ),
        ]
        indexes = [models.Index(fields=["site", "on"])]

    def __str__(self) -> str:
        return f"{self.what} {self.kind} {self.on}"

    @property
    def written_at(self) -> datetime:
        """When somebody wrote it, which for a phone without a network is before it came."""
        return self.happened_at or self.recorded_at
