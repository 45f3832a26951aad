"""Ways for a volunteer without an account to help with one round."""

from django.db import models

from care.models.tasks import Round
from orchard.models import Person, Site


class HelperLink(models.Model):
    """Opens one round to whoever holds it, until the day after; hash only."""

    site = models.ForeignKey(
        Site, on_delete=models.CASCADE, related_name="helper_links"
    )
    round = models.ForeignKey(
        Round, on_delete=models.CASCADE, related_name="helper_links"
    )
    token_hash = models.CharField(max_length=64, unique=True)
    made_by = models.ForeignKey(Person, null=True, on_delete=models.SET_NULL)
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True)

    class Meta:
        ordering = ["-made_at", "-id"]

    def __str__(self) -> str:
        return f"helper link {self.pk}"


class Helper(models.Model):
    """One volunteer behind a link; a cookie holds the secret, the row its hash."""

    link = models.ForeignKey(
        HelperLink, on_delete=models.CASCADE, related_name="helpers"
    )
    name = models.CharField(max_length=40)
    secret_hash = models.CharField(max_length=64, unique=True)
    first_seen_at = models.DateTimeField()

    class Meta:
        ordering = ["first_seen_at", "id"]

    def __str__(self) -> str:
        return self.name
