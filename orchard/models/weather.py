"""Weather: series of days, shared or one site's own, in order of trust."""

from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy

from orchard.models.people import Person
from orchard.models.places import Site


class WeatherSeries(models.Model):
    """A station, a public grid cell, a gauge or twelve typed normals.

    ``owner`` is the one site a private series belongs to; a shared series has none but
    the ``source`` it is fetched from (a key of the registry of sources) and the
    ``cell`` asked for, so that every place near it reads the same rows.
    """

    class Kind(models.TextChoices):
        """What the days are."""

        STATION = "station", gettext_lazy("Station file")
        SENT = "sent", gettext_lazy("Station at the site")
        TYPED = "typed", gettext_lazy("Readings typed in")
        FORECAST = "forecast", gettext_lazy("Forecast")
        NORMALS = "normals", gettext_lazy("Twelve monthly normals")

    owner = models.ForeignKey(
        Site,
        null=True,
        blank=True,
        on_delete=models.CASCADE,
        related_name="private_series",
    )
    kind = models.CharField(max_length=10, choices=Kind)
    name = models.CharField(max_length=80)
    attribution = models.CharField(max_length=240, blank=True)
    source = models.CharField(max_length=24, blank=True)
    cell = models.CharField(max_length=80, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(
                    kind__in=["station", "sent", "typed", "forecast", "normals"]
                ),
                name="series_kind",
            ),
            models.UniqueConstraint(
                fields=["source", "cell"],
                condition=Q(owner=None) & ~Q(source=""),
                name="shared_series_once",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class SiteSeries(models.Model):
    """A series a site reads; the lowest rank is trusted most."""

    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="readings")
    series = models.ForeignKey(
        WeatherSeries, on_delete=models.CASCADE, related_name="readers"
    )
    rank = models.PositiveSmallIntegerField()

    class Meta:
        ordering = ["rank", "id"]
        constraints = [
            models.UniqueConstraint(fields=["site", "series"], name="series_read_once"),
            models.UniqueConstraint(fields=["site", "rank"], name="one_series_a_rank"),
        ]

    def __str__(self) -> str:
        return f"rank {self.rank}"


class WeatherBatch(models.Model):
    """Days that came together; taking the batch back restores what was before."""

    series = models.ForeignKey(
        WeatherSeries, on_delete=models.CASCADE, related_name="batches"
    )
    label = models.CharField(max_length=120)
    person = models.ForeignKey(Person, null=True, on_delete=models.SET_NULL)
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return self.label


class WeatherDay(models.Model):
    """One local day; an empty field is missing, never zero.

    Observed days have no ``issued_on``; a forecast day has the day it was issued.
    """

    batch = models.ForeignKey(
        WeatherBatch, on_delete=models.CASCADE, related_name="days"
    )
    day = models.DateField()
    issued_on = models.DateField(null=True, blank=True)
    tmin_c = models.FloatField(null=True, blank=True)
    tmax_c = models.FloatField(null=True, blank=True)
    rain_mm = models.FloatField(null=True, blank=True)
    humidity_percent = models.FloatField(null=True, blank=True)
    wind_ms = models.FloatField(null=True, blank=True)
    gust_ms = models.FloatField(null=True, blank=True)
    radiation_mj = models.FloatField(null=True, blank=True)
    et0_mm = models.FloatField(null=True, blank=True)

    class Meta:
        ordering = ["day", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["batch", "day"],
                condition=Q(issued_on=None),
                name="observed_day_once",
            ),
            models.UniqueConstraint(
                fields=["batch", "day", "issued_on"],
                condition=Q(issued_on__isnull=False),
                name="forecast_day_once",
            ),
            models.CheckConstraint(
                condition=Q(tmin_c=None) | Q(tmax_c=None) | Q(tmax_c__gte=F("tmin_c")),
                name="day_tmax_above_tmin",
            ),
            models.CheckConstraint(
                condition=Q(rain_mm=None) | Q(rain_mm__gte=0, rain_mm__lte=2000),
                name="day_rain",
            ),
        ]
        indexes = [models.Index(fields=["batch", "issued_on", "day"])]

    def __str__(self) -> str:
        return str(self.day)


class NormalMonth(models.Model):
    """One month of a normals series: mean daily low and high, and the month's rain."""

    series = models.ForeignKey(
        WeatherSeries, on_delete=models.CASCADE, related_name="normal_months"
    )
    month = models.PositiveSmallIntegerField()
    tmin_c = models.FloatField()
    tmax_c = models.FloatField()
    rain_mm = models.FloatField()

    class Meta:
        ordering = ["month"]
        constraints = [
            models.UniqueConstraint(fields=["series", "month"], name="normal_once"),
            models.CheckConstraint(
                condition=Q(month__gte=1, month__lte=12), name="normal_month"
            ),
            models.CheckConstraint(
                condition=Q(tmax_c__gte=F("tmin_c")), name="normal_tmax_above_tmin"
            ),
        ]

    def __str__(self) -> str:
        return str(self.month)


class FrostEvening(models.Model):
    """Air and dew point two hours after sunset of one clear, calm night.

    With the minimum typed for the next day it teaches what such nights bring here.
    """

    site = models.ForeignKey(
        Site, on_delete=models.CASCADE, related_name="frost_evenings"
    )
    on = models.DateField()
    air_c = models.FloatField()
    dew_point_c = models.FloatField()
    person = models.ForeignKey(Person, null=True, on_delete=models.SET_NULL)

    class Meta:
        ordering = ["on"]
        constraints = [
            models.UniqueConstraint(fields=["site", "on"], name="one_evening_a_day"),
            models.CheckConstraint(
                condition=Q(dew_point_c__lte=F("air_c")), name="evening_dew_point"
            ),
        ]

    def __str__(self) -> str:
        return str(self.on)
