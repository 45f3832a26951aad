"""What became of the plans of earlier Mondays."""

from django.db import models

from orchard.models import Site


class Hindcast(models.Model):
    """One site's last look back: wished for, begun, done; ``report`` as printed.

    ``digest`` says of which weather it was made, so that an old one shows as old.
    """

    site = models.OneToOneField(Site, on_delete=models.CASCADE, related_name="hindcast")
    wished_at = models.DateTimeField(null=True)
    begun_at = models.DateTimeField(null=True)
    done_at = models.DateTimeField(null=True)
    digest = models.CharField(max_length=64, blank=True)
    report = models.JSONField(default=dict)
    error = models.CharField(max_length=240, blank=True)

    def __str__(self) -> str:
        return f"hindcast of {self.site_id}"
