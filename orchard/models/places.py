"""Places with one climate, and the blocks walked within them."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from django.db import models

from orchard.models.people import Orchard, Person


class SoilTexture(models.TextChoices):
    """The textures of FAO-56 Table 19 (Allen et al. 1998)."""

    SAND = "sand", "Sand"
    LOAMY_SAND = "loamy_sand", "Loamy sand"
    SANDY_LOAM = "sandy_loam", "Sandy loam"
    LOAM = "loam", "Loam"
    SILT_LOAM = "silt_loam", "Silt loam"
    SILT = "silt", "Silt"
    SILTY_CLAY_LOAM = "silty_clay_loam", "Silty clay loam"
    SILTY_CLAY = "silty_clay", "Silty clay"
    CLAY = "clay", "Clay"


class Site(models.Model):
    """A place with one climate: its coordinates, clock, soil and local rules.

    ``revision`` counts every change that may change the plan; planning stores the
    revision it read, so a stale plan is a comparison and never a lost message.
    ``own_today`` is the day a demonstration site lives in; other sites use the clock.
    """

    orchard = models.ForeignKey(Orchard, on_delete=models.CASCADE, related_name="sites")
    name = models.CharField(max_length=80)
    slug = models.SlugField(max_length=60, unique=True)
    latitude_deg = models.FloatField()
    longitude_deg = models.FloatField()
    elevation_m = models.FloatField(default=0)
    time_zone = models.CharField(max_length=60, default="UTC")
    soil_texture = models.CharField(
        max_length=20, choices=SoilTexture, default=SoilTexture.LOAM
    )
    last_frost_month = models.PositiveSmallIntegerField(null=True, blank=True)
    last_frost_day = models.PositiveSmallIntegerField(null=True, blank=True)
    first_frost_month = models.PositiveSmallIntegerField(null=True, blank=True)
    first_frost_day = models.PositiveSmallIntegerField(null=True, blank=True)
    is_frost_free = models.BooleanField(default=False)
    frost_margin_c = models.FloatField(default=1.7)
    feed_product_name = models.CharField(max_length=60, default="10-10-10")
    feed_nitrogen_percent = models.FloatField(default=10.0)
    local_rules = models.TextField(blank=True)
    revision = models.PositiveIntegerField(default=1)
    planned_revision = models.PositiveIntegerField(default=0)
    planned_on = models.DateField(null=True, blank=True)
    planned_at = models.DateTimeField(null=True, blank=True)
    own_today = models.DateField(null=True, blank=True)
    calendar_shift_days = models.IntegerField(default=0)

    class Meta:
        ordering = ["name", "id"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(latitude_deg__gte=-90, latitude_deg__lte=90),
                name="site_latitude",
            ),
            models.CheckConstraint(
                condition=models.Q(longitude_deg__gte=-180, longitude_deg__lte=180),
                name="site_longitude",
            ),
            models.CheckConstraint(
                condition=models.Q(elevation_m__gte=-430, elevation_m__lte=6000),
                name="site_elevation",
            ),
            models.CheckConstraint(
                condition=models.Q(soil_texture__in=SoilTexture.values),
                name="site_soil",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    feed_nitrogen_percent__gt=0, feed_nitrogen_percent__lte=46
                ),
                name="site_feed_nitrogen",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def is_southern(self) -> bool:
        """Whether the seasons run half a year from the north's."""
        return self.latitude_deg < 0

    def today(self, now: datetime) -> date:
        """Return the site's local date at ``now``, or a demonstration's own day."""
        return self.own_today or now.astimezone(ZoneInfo(self.time_zone)).date()


class Block(models.Model):
    """Trees walked together: a row, a bed, the patio."""

    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="blocks")
    name = models.CharField(max_length=60)
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ["position", "id"]
        constraints = [
            models.UniqueConstraint(fields=["site", "name"], name="block_name_once")
        ]

    def __str__(self) -> str:
        return self.name


class FeedingBlackout(models.Model):
    """Part of the year in which the local authority forbids feeding."""

    site = models.ForeignKey(
        Site, on_delete=models.CASCADE, related_name="feeding_blackouts"
    )
    start_month = models.PositiveSmallIntegerField()
    start_day = models.PositiveSmallIntegerField()
    end_month = models.PositiveSmallIntegerField()
    end_day = models.PositiveSmallIntegerField()
    entered_by = models.ForeignKey(Person, null=True, on_delete=models.SET_NULL)

    class Meta:
        ordering = ["start_month", "start_day", "id"]

    def __str__(self) -> str:
        return f"{self.start_month}/{self.start_day}-{self.end_month}/{self.end_day}"
