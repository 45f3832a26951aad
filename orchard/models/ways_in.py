"""How to get in, whom to call, what was signed: what a coordinator writes down."""

from django.db import models
from django.db.models import F, Q

from orchard.models.people import Membership
from orchard.models.places import Site


class WayIn(models.Model):
    """How people reach a site, find water and tools, and share what is picked."""

    site = models.OneToOneField(Site, on_delete=models.CASCADE, related_name="way_in")
    gate = models.CharField(max_length=200, blank=True)
    key_note = models.CharField(max_length=200, blank=True)
    tap = models.CharField(max_length=200, blank=True)
    tools_at = models.CharField(max_length=200, blank=True)
    first_aid = models.CharField(max_length=200, blank=True)
    harvest_rule = models.TextField(blank=True, max_length=1000)

    def __str__(self) -> str:
        return f"way in to {self.site_id}"


class EmergencyContact(models.Model):
    """Whom to call; shown on every sheet and helper page of the site."""

    site = models.ForeignKey(
        Site, on_delete=models.CASCADE, related_name="emergency_contacts"
    )
    name = models.CharField(max_length=60)
    phone = models.CharField(max_length=40)
    note = models.CharField(max_length=80, blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return self.name


class SignedPaper(models.Model):
    """A waiver or an insurance a member brought; written elsewhere, recorded here."""

    membership = models.ForeignKey(
        Membership, on_delete=models.CASCADE, related_name="signed_papers"
    )
    what = models.CharField(max_length=80)
    signed_on = models.DateField()
    until = models.DateField(null=True, blank=True)
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["-signed_on", "-id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(until=None) | Q(until__gte=F("signed_on")),
                name="paper_ends_after_it_was_signed",
            )
        ]

    def __str__(self) -> str:
        return self.what
