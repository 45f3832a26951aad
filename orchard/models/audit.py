"""Who did what in an orchard, with what it was before and after."""

from django.db import models

from orchard.models.people import Orchard, Person


class AuditEntry(models.Model):
    """One change; written with it in one transaction and never changed again.

    ``person_name`` stays when the person's account is gone.
    """

    orchard = models.ForeignKey(Orchard, on_delete=models.CASCADE, related_name="audit")
    person = models.ForeignKey(Person, null=True, on_delete=models.SET_NULL)
    person_name = models.CharField(max_length=150)
    at = models.DateTimeField()
    what = models.CharField(max_length=32)
    subject = models.CharField(max_length=160)
    before = models.JSONField(default=dict)
    after = models.JSONField(default=dict)

    class Meta:
        ordering = ["-at", "-id"]
        indexes = [models.Index(fields=["orchard", "-at"])]

    def __str__(self) -> str:
        return f"{self.what} {self.subject}"
