"""Photos: what a tree looked like on a day; the files lie in the data folder."""

import uuid

from django.db import models
from django.db.models import Q

from care.models.helper_links import Helper
from care.models.logbook import LogEntry
from orchard.models import Person, Site, Tree


class Photo(models.Model):
    """One photo, as it was kept: made small, without place or camera.

    ``file_id`` names its two files and is never shown. ``sha256`` is of the bytes that
    came, so that the same photo sent twice is kept once. ``size_bytes`` is of both
    files. One taken back keeps its files for a while, and its row until they go.
    """

    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    file_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="photos")
    tree = models.ForeignKey(
        Tree, null=True, on_delete=models.CASCADE, related_name="photos"
    )
    entry = models.ForeignKey(
        LogEntry, null=True, on_delete=models.SET_NULL, related_name="photos"
    )
    person = models.ForeignKey(Person, null=True, on_delete=models.SET_NULL)
    helper = models.ForeignKey(
        Helper, null=True, on_delete=models.SET_NULL, related_name="photos"
    )
    on = models.DateField()
    recorded_at = models.DateTimeField()
    caption = models.CharField(max_length=200, blank=True)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    size_bytes = models.PositiveIntegerField()
    sha256 = models.CharField(max_length=64)
    voided_at = models.DateTimeField(null=True)
    voided_by = models.ForeignKey(
        Person, null=True, on_delete=models.SET_NULL, related_name="voided_photos"
    )
    voided_by_helper = models.ForeignKey(
        Helper, null=True, on_delete=models.SET_NULL, related_name="voided_photos"
    )

    class Meta:
        ordering = ["-on", "-recorded_at", "-id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(width__gt=0, height__gt=0, size_bytes__gt=0),
                name="photo_size",
            ),
            models.CheckConstraint(
                condition=Q(person=None) | Q(helper=None),
                name="photo_by_one",
            ),
        ]
        indexes = [
            models.Index(fields=["tree", "on"]),
            models.Index(fields=["site", "sha256"]),
        ]

    def __str__(self) -> str:
        return f"photo {self.on}"

    @property
    def file_name(self) -> str:
        """Where the whole photo lies in the storage."""
        return f"{self.file_id}.jpg"

    @property
    def small_file_name(self) -> str:
        """Where the thumbnail lies in the storage."""
        return f"{self.file_id}-small.jpg"
