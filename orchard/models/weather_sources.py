"""Where weather comes from by itself: services asked, stations that send, warnings."""

from django.db import models
from django.db.models import Q

from orchard.models.people import Person
from orchard.models.places import Site
from orchard.models.weather import WeatherSeries


class SeriesFetch(models.Model):
    """How asking one series' service goes; the last good answer is kept elsewhere.

    ``fetched_at`` is the last good answer, ``asked_at`` the last try. Nothing is asked
    before ``wait_until``: what the service wished, a pause after failures, or both.
    ``remembered`` holds what is sent back to the service (its own change marks, the
    addresses it named), by address.
    """

    series = models.OneToOneField(
        WeatherSeries, on_delete=models.CASCADE, related_name="fetch"
    )
    asked_at = models.DateTimeField(null=True)
    fetched_at = models.DateTimeField(null=True)
    wait_until = models.DateTimeField(null=True)
    lease_until = models.DateTimeField(null=True)
    failures = models.PositiveSmallIntegerField(default=0)
    error = models.CharField(max_length=240, blank=True)
    remark = models.CharField(max_length=240, blank=True)
    remembered = models.JSONField(default=dict)

    class Meta:
        indexes = [models.Index(fields=["wait_until"])]

    def __str__(self) -> str:
        return f"fetch of {self.series_id}"


class OfficialWarning(models.Model):
    """A warning of a public weather service, quoted as it was issued.

    ``begins_at`` to ``ends_at`` is when the weather comes, ``expires_at`` until when
    the message itself is meant to be shown.
    """

    series = models.ForeignKey(
        WeatherSeries, on_delete=models.CASCADE, related_name="warnings"
    )
    identifier = models.CharField(max_length=200)
    event = models.CharField(max_length=80)
    headline = models.CharField(max_length=400, blank=True)
    text = models.TextField(blank=True, max_length=6000)
    instruction = models.TextField(blank=True, max_length=4000)
    severity = models.CharField(max_length=20, blank=True)
    sender = models.CharField(max_length=120, blank=True)
    area = models.CharField(max_length=400, blank=True)
    sent_at = models.DateTimeField()
    begins_at = models.DateTimeField()
    ends_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    withdrawn_at = models.DateTimeField(null=True)

    class Meta:
        ordering = ["begins_at", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["series", "identifier"], name="warning_once"
            )
        ]
        indexes = [models.Index(fields=["series", "ends_at"])]

    def __str__(self) -> str:
        return self.event


class StationKey(models.Model):
    """Lets one station at a site send its readings; only the secret's hash is kept.

    ``wind_height_m`` is how high above the ground its anemometer stands.
    """

    site = models.ForeignKey(
        Site, on_delete=models.CASCADE, related_name="station_keys"
    )
    series = models.ForeignKey(
        WeatherSeries, on_delete=models.CASCADE, related_name="station_keys"
    )
    name = models.CharField(max_length=60)
    wind_height_m = models.FloatField(default=2.0)
    token_hash = models.CharField(max_length=64, unique=True)
    made_by = models.ForeignKey(Person, null=True, on_delete=models.SET_NULL)
    made_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True)
    heard_at = models.DateTimeField(null=True)
    refused_at = models.DateTimeField(null=True)
    refusal = models.CharField(max_length=240, blank=True)

    class Meta:
        ordering = ["-made_at", "-id"]

    def __str__(self) -> str:
        return self.name


class SentReading(models.Model):
    """One reading a station sent, in SI; days are derived from these."""

    key = models.ForeignKey(
        StationKey, on_delete=models.CASCADE, related_name="readings"
    )
    at = models.DateTimeField()
    received_at = models.DateTimeField()
    temp_c = models.FloatField(null=True)
    dew_point_c = models.FloatField(null=True)
    humidity_percent = models.FloatField(null=True)
    wind_ms = models.FloatField(null=True)
    gust_ms = models.FloatField(null=True)
    rain_hour_mm = models.FloatField(null=True)
    rain_day_mm = models.FloatField(null=True)
    radiation_wm2 = models.FloatField(null=True)

    class Meta:
        ordering = ["at", "id"]
        constraints = [
            models.UniqueConstraint(fields=["key", "at"], name="reading_once")
        ]

    def __str__(self) -> str:
        return str(self.at)


class DoubtedValue(models.Model):
    """A value that came but is not believed, and why; a person may say it is right."""

    series = models.ForeignKey(
        WeatherSeries, on_delete=models.CASCADE, related_name="doubts"
    )
    batch = models.ForeignKey(
        "orchard.WeatherBatch",
        null=True,
        on_delete=models.CASCADE,
        related_name="doubts",
    )
    day = models.DateField()
    variable = models.CharField(max_length=20)
    value = models.FloatField()
    why = models.CharField(max_length=24)
    found_at = models.DateTimeField()
    settled_at = models.DateTimeField(null=True)
    settled_by = models.ForeignKey(Person, null=True, on_delete=models.SET_NULL)
    is_right = models.BooleanField(null=True)

    class Meta:
        ordering = ["-day", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["series", "batch", "day", "variable"],
                condition=Q(settled_at=None),
                name="doubt_once",
            )
        ]

    def __str__(self) -> str:
        return f"{self.variable} of {self.day}"
