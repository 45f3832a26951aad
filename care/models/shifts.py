"""Shifts, their places, who holds them, and how places changed hands."""

import uuid

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy, pgettext_lazy

from orchard.models import Block, Person, Site


class ShiftSeries(models.Model):
    """Shifts that come back on weekdays, such as watering through the dry season.

    ``skills`` names what each place asks for, an empty text for none; its length is how
    many people are needed. One that is ``silent_when_wet`` gives no shift for a day on
    which nothing of its ``kinds`` is due.
    """

    site = models.ForeignKey(
        Site, on_delete=models.CASCADE, related_name="shift_series"
    )
    name = models.CharField(max_length=60)
    block = models.ForeignKey(Block, null=True, blank=True, on_delete=models.CASCADE)
    weekdays = models.CharField(max_length=7)  # digits, Monday is 0
    starts_at = models.TimeField()
    minutes = models.PositiveSmallIntegerField()
    skills = models.JSONField(default=list)
    kinds = models.JSONField(default=list, blank=True)
    is_critical = models.BooleanField(default=False)
    silent_when_wet = models.BooleanField(default=True)
    from_on = models.DateField()
    until_on = models.DateField()
    is_ended = models.BooleanField(default=False)

    class Meta:
        ordering = ["from_on", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(until_on__gte=models.F("from_on"), minutes__gt=0),
                name="series_span",
            )
        ]

    def __str__(self) -> str:
        return self.name


class Shift(models.Model):
    """Work of one site on one day; ``starts_at`` is the site's local time.

    ``kinds`` limits which work of the day belongs to it; empty is all. ``order`` is the
    walking order of its trees, frozen once it began. ``changed_at`` and ``sequence``
    are what a calendar shows.
    """

    class Status(models.TextChoices):
        """How far it is."""

        DRAFT = "draft", gettext_lazy("Not published")
        PUBLISHED = "published", gettext_lazy("Published")
        CANCELLED = "cancelled", gettext_lazy("Cancelled")

    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="shifts")
    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    series = models.ForeignKey(
        ShiftSeries, null=True, on_delete=models.SET_NULL, related_name="shifts"
    )
    block = models.ForeignKey(Block, null=True, blank=True, on_delete=models.SET_NULL)
    name = models.CharField(max_length=60)
    day = models.DateField()
    starts_at = models.TimeField()
    minutes = models.PositiveSmallIntegerField()
    kinds = models.JSONField(default=list, blank=True)
    note = models.TextField(blank=True, max_length=1000)
    is_critical = models.BooleanField(default=False)
    is_hazardous = models.BooleanField(default=False)
    status = models.CharField(max_length=9, choices=Status, default=Status.DRAFT)
    cancelled_why = models.CharField(max_length=120, blank=True)
    moved_from = models.DateField(null=True)
    published_at = models.DateTimeField(null=True)
    changed_at = models.DateTimeField()
    sequence = models.PositiveIntegerField(default=0)
    begun_at = models.DateTimeField(null=True)
    order = models.JSONField(default=list, blank=True)

    class Meta:
        ordering = ["day", "starts_at", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["series", "day"],
                condition=Q(series__isnull=False),
                name="one_shift_a_series_and_day",
            ),
            models.CheckConstraint(condition=Q(minutes__gt=0), name="shift_minutes"),
            models.CheckConstraint(
                condition=Q(status__in=["draft", "published", "cancelled"]),
                name="shift_status",
            ),
        ]
        indexes = [models.Index(fields=["site", "day"])]

    def __str__(self) -> str:
        return f"{self.name} {self.day}"


class ShiftPlace(models.Model):
    """One person's part in a shift.

    An ``offered`` place is still its holder's until somebody takes it. ``busy_on`` is
    the shift's day while the place is held and the shift takes place: nobody holds two
    on one day. ``version`` rises each time it changes hands; a learner's place is never
    counted as a needed one, and is ``on_hold`` while the rules for learners fail.
    """

    class State(models.TextChoices):
        """What is with it."""

        OPEN = "open", pgettext_lazy("a place in a shift", "Open")
        HELD = "held", pgettext_lazy("a place in a shift", "Held")
        OFFERED = "offered", gettext_lazy("Cover asked for")
        DONE = "done", pgettext_lazy("a place in a shift", "Done")
        MISSED = "missed", gettext_lazy("Missed")

    shift = models.ForeignKey(Shift, on_delete=models.CASCADE, related_name="places")
    number = models.PositiveSmallIntegerField()
    skill = models.CharField(max_length=24, blank=True)
    is_learner = models.BooleanField(default=False)
    state = models.CharField(max_length=8, choices=State, default=State.OPEN)
    holder = models.ForeignKey(
        Person, null=True, on_delete=models.SET_NULL, related_name="shift_places"
    )
    offered_to = models.ForeignKey(
        Person, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    accepted_at = models.DateTimeField(null=True)
    on_hold = models.BooleanField(default=False)
    busy_on = models.DateField(null=True)
    version = models.PositiveIntegerField(default=0)
    minutes_worked = models.PositiveSmallIntegerField(null=True)
    credit_percent = models.PositiveSmallIntegerField(default=100)

    class Meta:
        ordering = ["shift", "is_learner", "number"]
        constraints = [
            models.UniqueConstraint(
                fields=["shift", "number"], name="shift_place_number_once"
            ),
            models.UniqueConstraint(
                fields=["holder", "busy_on"],
                condition=Q(holder__isnull=False, busy_on__isnull=False),
                name="one_shift_a_person_and_day",
            ),
            models.CheckConstraint(
                condition=Q(state="open", holder=None, busy_on=None)
                | Q(state__in=["held", "offered", "done", "missed"]),
                name="open_place_has_no_holder",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.shift_id}/{self.number}"


class HandOver(models.Model):
    """A place changed hands once; the version is the one it made."""

    place = models.ForeignKey(
        ShiftPlace, on_delete=models.CASCADE, related_name="hand_overs"
    )
    version = models.PositiveIntegerField()
    from_person = models.ForeignKey(
        Person, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    to_person = models.ForeignKey(
        Person, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    by_person = models.ForeignKey(
        Person, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    why = models.CharField(max_length=24)
    at = models.DateTimeField()

    class Meta:
        ordering = ["at", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["place", "version"], name="one_hand_over_a_version"
            )
        ]

    def __str__(self) -> str:
        return f"{self.place_id} v{self.version}"


class ShiftRefusal(models.Model):
    """Somebody said no to a shift; it is not proposed to them again."""

    shift = models.ForeignKey(Shift, on_delete=models.CASCADE, related_name="refusals")
    person = models.ForeignKey(Person, on_delete=models.CASCADE)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["shift", "person"], name="refused_once")
        ]

    def __str__(self) -> str:
        return f"{self.shift_id} {self.person_id}"


class RotaPublished(models.Model):
    """A span of the rota as it was published: who held which place then."""

    site = models.ForeignKey(
        Site, on_delete=models.CASCADE, related_name="rotas_published"
    )
    from_on = models.DateField()
    until_on = models.DateField()
    by_person = models.ForeignKey(Person, null=True, on_delete=models.SET_NULL)
    at = models.DateTimeField()
    held = models.JSONField(default=dict)

    class Meta:
        ordering = ["-at", "-id"]

    def __str__(self) -> str:
        return f"{self.from_on}/{self.until_on}"
