"""Invitations to an orchard: hashed, single use, a week long."""

from django.db import models
from django.db.models import Q

from orchard.models.people import Orchard, Person, Role


class Invite(models.Model):
    """A way into one orchard with one role; only the hash of its secret is stored."""

    orchard = models.ForeignKey(
        Orchard, on_delete=models.CASCADE, related_name="invites"
    )
    role = models.CharField(max_length=12, choices=Role)
    token_hash = models.CharField(max_length=64, unique=True)
    note = models.CharField(max_length=80, blank=True)
    made_by = models.ForeignKey(
        Person, null=True, on_delete=models.SET_NULL, related_name="invites_made"
    )
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    used_by = models.ForeignKey(
        Person, null=True, on_delete=models.SET_NULL, related_name="invites_used"
    )
    used_at = models.DateTimeField(null=True)
    revoked_at = models.DateTimeField(null=True)

    class Meta:
        ordering = ["-made_at", "-id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(role__in=Role.values), name="invite_role"
            ),
            models.CheckConstraint(
                condition=Q(used_at=None) | Q(revoked_at=None),
                name="invite_used_or_revoked",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.role} {self.pk}"
