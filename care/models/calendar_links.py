"""Calendar links: secret, revocable addresses a calendar program subscribes to."""

from django.db import models

from orchard.models import Membership


class CalendarLink(models.Model):
    """One member's subscription; only the hash of its secret is stored.

    It hangs on the membership, so that somebody who leaves loses it at once.
    ``only_in_care`` leaves out what its member does not look after.
    """

    membership = models.ForeignKey(
        Membership, on_delete=models.CASCADE, related_name="calendar_links"
    )
    label = models.CharField(max_length=60)
    only_in_care = models.BooleanField(default=False)
    token_hash = models.CharField(max_length=64, unique=True)
    created_at = models.DateTimeField(auto_now_add=True)
    revoked_at = models.DateTimeField(null=True)
    last_read_at = models.DateTimeField(null=True)

    class Meta:
        ordering = ["-created_at", "-id"]

    def __str__(self) -> str:
        return self.label
