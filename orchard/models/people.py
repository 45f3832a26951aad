"""People, the orchards they share, and what they are in each."""

import uuid

from django.contrib.auth.models import AbstractUser
from django.db import models
from django.utils.translation import gettext_lazy


class Role(models.TextChoices):
    """What a member is in an orchard; what each may do stands in access.py."""

    OWNER = "owner", gettext_lazy("Owner")
    COORDINATOR = "coordinator", gettext_lazy("Coordinator")
    GROWER = "grower", gettext_lazy("Grower")
    VIEWER = "viewer", gettext_lazy("Viewer")


class Person(AbstractUser):
    """Somebody who signs in."""

    class Units(models.TextChoices):
        """How amounts are shown; everything is stored in SI units."""

        METRIC = "metric", gettext_lazy("Metric (L, mm, °C)")
        US = "us", gettext_lazy("US (gal, in, °F)")

    class Language(models.TextChoices):
        """What pages and messages are written in; none follows the browser."""

        BROWSER = "", gettext_lazy("As my browser asks")
        ENGLISH = "en", "English"
        SPANISH = "es", "Español"

    units = models.CharField(max_length=6, choices=Units, default=Units.METRIC)
    language = models.CharField(
        max_length=5, choices=Language, default=Language.BROWSER, blank=True
    )

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(units__in=["metric", "us"]), name="person_units"
            ),
            models.CheckConstraint(
                condition=models.Q(language__in=["", "en", "es"]),
                name="person_language",
            ),
        ]

    @property
    def shown_name(self) -> str:
        """The first name where there is one, else the user name."""
        return self.first_name or self.username


class Orchard(models.Model):
    """The shared account: one family's or garden's trees, people and places."""

    name = models.CharField(max_length=80)
    is_demo = models.BooleanField(default=False)
    members = models.ManyToManyField(
        Person, through="Membership", related_name="orchards"
    )

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(name=""), name="orchard_has_a_name"
            )
        ]

    def __str__(self) -> str:
        return self.name


class Membership(models.Model):
    """One person's role in one orchard."""

    person = models.ForeignKey(
        Person, on_delete=models.CASCADE, related_name="memberships"
    )
    orchard = models.ForeignKey(
        Orchard, on_delete=models.CASCADE, related_name="memberships"
    )
    role = models.CharField(max_length=12, choices=Role)
    joined_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["person", "orchard"], name="one_membership_each"
            ),
            models.CheckConstraint(
                condition=models.Q(role__in=Role.values), name="membership_role"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.role} {self.pk}"


class SigninLink(models.Model):
    """A one-time way in without a password; only its hash is stored."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    person = models.ForeignKey(Person, on_delete=models.CASCADE)
    token_hash = models.CharField(max_length=64, unique=True)
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return str(self.pk)
