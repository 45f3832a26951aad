"""Messages to people: rows first, sent by whatever channel there is."""

from datetime import time

from django.db import models
from django.utils.translation import gettext_lazy as _

from orchard.models.people import Orchard, Person


class Message(models.Model):
    """Something to tell one person, once: ``key`` guards against telling it twice.

    A worker takes a lease before it sends, so that two never send the same; a lease
    that ran out is taken again. ``held_until`` keeps it back over quiet hours, or for
    the mail of the day. Quiet hours are those of ``time_zone``, where it concerns.
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
    is_urgent = models.BooleanField(default=False)
    time_zone = models.CharField(max_length=64, blank=True)
    due_at = models.DateTimeField()
    held_until = models.DateTimeField(null=True)
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


class MessageWays(models.Model):
    """How messages reach one person, and when they do not; without a row, by mail.

    ``digest_at`` and the quiet hours are times of a wall clock; without quiet hours
    both ends are empty. While ``is_mail_stopped``, no mail goes out whatever the way.
    """

    class Way(models.TextChoices):
        """How messages reach a person beside their own page."""

        PUSH = "push", _("To my devices")
        MAIL = "mail", _("By email, each at once")
        DIGEST = "digest", _("By email, once a day")
        NONE = "none", _("Not at all: I read them on this page")

    person = models.OneToOneField(
        Person, on_delete=models.CASCADE, related_name="message_ways"
    )
    way = models.CharField(max_length=8, choices=Way, default=Way.MAIL)
    is_mail_stopped = models.BooleanField(default=False)
    digest_at = models.TimeField(default=time(18))
    digest_sent_at = models.DateTimeField(null=True)
    digest_lease_until = models.DateTimeField(null=True)
    quiet_from = models.TimeField(null=True, default=time(22))
    quiet_until = models.TimeField(null=True, default=time(6))
    urgent_in_quiet = models.BooleanField(default=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(way__in=["push", "mail", "digest", "none"]),
                name="message_way",
            ),
            models.CheckConstraint(
                condition=models.Q(quiet_from=None, quiet_until=None)
                | models.Q(quiet_from__isnull=False, quiet_until__isnull=False),
                name="message_quiet_hours_have_both_ends",
            ),
        ]

    def __str__(self) -> str:
        return self.way


class PushSubscription(models.Model):
    """One browser of one person that takes messages from a push service (RFC 8030).

    ``public_key`` and ``auth_secret`` are the browser's own (RFC 8291), in base64url.
    ``device_key`` stands in the session of that browser: a row ends with it.
    ``failing_since`` is when the first of ``failures`` in a row came.
    """

    person = models.ForeignKey(
        Person, on_delete=models.CASCADE, related_name="push_subscriptions"
    )
    endpoint = models.CharField(max_length=500, unique=True)
    public_key = models.CharField(max_length=100)
    auth_secret = models.CharField(max_length=40)
    user_agent = models.CharField(max_length=200, blank=True)
    device_key = models.CharField(max_length=40, blank=True)
    made_at = models.DateTimeField()
    sent_at = models.DateTimeField(null=True)
    failures = models.PositiveSmallIntegerField(default=0)
    failing_since = models.DateTimeField(null=True)
    error = models.CharField(max_length=200, blank=True)
    is_off = models.BooleanField(default=False)

    class Meta:
        ordering = ["made_at", "id"]

    def __str__(self) -> str:
        return f"device {self.pk}"
