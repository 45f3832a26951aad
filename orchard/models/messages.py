"""Messages to people: rows first, sent by whatever channel there is."""

from django.db import models

from orchard.models.people import Orchard, Person


class Message(models.Model):
    """Something to tell one person, once: ``key`` guards against telling it twice.

    A worker takes a lease before it sends, so that two never send the same; a lease
    that ran out is taken again.
    """

    person = models.ForeignKey(
        Person, on_delete=models.CASCADE, related_name="messages"
    )
    orchard = models.ForeignKey(
        Orchard, null=True, on_delete=models.CASCADE, related_name="messages"
    )
    what = models.CharField(max_length=32)
    key = models.CharField(max_length=80)
    why = models.CharField(max_length=200, blank=True)
    body = models.JSONField(default=dict)
    due_at = models.DateTimeField()
    lease_until = models.DateTimeField(null=True)
    attempts = models.PositiveSmallIntegerField(default=0)
    sent_at = models.DateTimeField(null=True)
    channel = models.CharField(max_length=16, blank=True)
    error = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["due_at", "id"]
        constraints = [
            models.UniqueConstraint(fields=["person", "key"], name="message_told_once")
        ]
        indexes = [models.Index(fields=["sent_at", "due_at"])]

    def __str__(self) -> str:
        return f"{self.what} {self.key}"


class MessageChoice(models.Model):
    """Whether one person wants messages of one kind; without a row they do."""

    person = models.ForeignKey(
        Person, on_delete=models.CASCADE, related_name="message_choices"
    )
    what = models.CharField(max_length=32)
    is_on = models.BooleanField()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["person", "what"], name="message_choice_once"
            )
        ]

    def __str__(self) -> str:
        return f"{self.what} {'on' if self.is_on else 'off'}"
