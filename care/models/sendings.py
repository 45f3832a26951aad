"""What phones without a network kept and sent later: each is done exactly once."""

from django.db import models

from care.models.helper_links import Helper
from care.models.logbook import LogEntry
from orchard.models import Person, Site


class Sending(models.Model):
    """One act that a phone kept under an id of its own, and what came of it.

    The row is written in the transaction of what it did, so that sending the same
    again gives the same ``answer``; another body under the same id is refused.
    """

    id = models.UUIDField(primary_key=True, editable=False)
    person = models.ForeignKey(Person, null=True, on_delete=models.CASCADE)
    helper = models.ForeignKey(Helper, null=True, on_delete=models.CASCADE)
    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="sendings")
    entry = models.ForeignKey(LogEntry, null=True, on_delete=models.SET_NULL)
    what = models.CharField(max_length=24)
    body_sha256 = models.CharField(max_length=64)
    happened_at = models.DateTimeField()
    received_at = models.DateTimeField()
    answer = models.JSONField(default=dict)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(person=None) | ~models.Q(helper=None),
                name="sending_by_somebody",
            )
        ]
        indexes = [models.Index(fields=["received_at"])]

    def __str__(self) -> str:
        return f"{self.what} {self.pk}"
