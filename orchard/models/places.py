"""Places with one climate, and the blocks walked within them."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from django.db import models
from django.utils.translation import gettext_lazy

from orchard.models.people import Orchard, Person


class SoilTexture(models.TextChoices):
    """The textures of FAO-56 Table 19 (Allen et al. 1998)."""

    SAND = "sand", gettext_lazy("Sand")
    LOAMY_SAND = "loamy_sand", gettext_lazy("Loamy sand")
    SANDY_LOAM = "sandy_loam", gettext_lazy("Sandy loam")
    LOAM = "loam", gettext_lazy("Loam")
    SILT_LOAM = "silt_loam", gettext_lazy("Silt loam")
    SILT = "silt", gettext_lazy("Silt")
    SILTY_CLAY_LOAM = "silty_clay_loam", gettext_lazy("Silty clay loam")
    SILTY_CLAY = "silty_clay", gettext_lazy("Silty clay")
    CLAY = "clay", gettext_lazy("Clay")


class NitrogenAdvice(models.TextChoices):
    """What a laboratory advises on nitrogen."""

    USUAL = "usual", gettext_lazy("Feed as usual, or it says nothing")
    HALF = "half", gettext_lazy("Feed half")
    NONE = "none", gettext_lazy("Feed none")


#: No soil in which a tree grows lies outside; common practice, no source.
SOIL_PH = (3.0, 10.0)


class Site(models.Model):
    """A place with one climate: its coordinates, clock, soil and local rules.

    ``revision`` counts every change that may change the plan; planning stores the
    revision it read, so a stale plan is a comparison and never a lost message; and the
    version of the catalogue, 0 where none was noted.
    ``own_today`` is the day a demonstration site lives in; other sites use the clock.
    The hose is kept as it was timed: a bucket of so many litres, filled in so long.
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
    feed_density_g_per_ml = models.FloatField(null=True, blank=True)
    water_setback_m = models.FloatField(null=True, blank=True)
    soil_tested_on = models.DateField(null=True, blank=True)
    soil_ph = models.FloatField(null=True, blank=True)
    soil_nitrogen = models.CharField(
        max_length=5, choices=NitrogenAdvice, default=NitrogenAdvice.USUAL
    )
    hose_bucket_l = models.FloatField(null=True, blank=True)
    hose_bucket_s = models.FloatField(null=True, blank=True)
    is_water_salty = models.BooleanField(default=False)
    has_high_water_table = models.BooleanField(default=False)
    local_rules = models.TextField(blank=True)
    revision = models.PositiveIntegerField(default=1)
    planned_revision = models.PositiveIntegerField(default=0)
    planned_on = models.DateField(null=True, blank=True)
    planned_at = models.DateTimeField(null=True, blank=True)
    planned_catalogue = models.PositiveSmallIntegerField(default=0)
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
            models.CheckConstraint(
                condition=models.Q(feed_density_g_per_ml=None)
                | models.Q(feed_density_g_per_ml__gt=0),
                name="site_feed_density",
            ),
            models.CheckConstraint(
                condition=models.Q(water_setback_m=None)
                | models.Q(water_setback_m__gte=0),
                name="site_water_setback",
            ),
            models.CheckConstraint(
                condition=models.Q(soil_ph=None) | models.Q(soil_ph__range=SOIL_PH),
                name="site_soil_ph",
            ),
            models.CheckConstraint(
                condition=models.Q(soil_nitrogen__in=NitrogenAdvice.values),
                name="site_soil_nitrogen",
            ),
            models.CheckConstraint(
                # A missing half would let the bare comparison pass as unknown.
                condition=models.Q(hose_bucket_l=None, hose_bucket_s=None)
                | models.Q(
                    hose_bucket_l__isnull=False,
                    hose_bucket_l__gt=0,
                    hose_bucket_s__isnull=False,
                    hose_bucket_s__gt=0,
                ),
                name="site_hose",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def is_southern(self) -> bool:
        """Whether the seasons run half a year from the north's."""
        return self.latitude_deg < 0

    @property
    def hose_flow_l_per_min(self) -> float | None:
        """What the hose gives, if somebody timed a bucket."""
        if self.hose_bucket_l is None or self.hose_bucket_s is None:
            return None
        return 60 * self.hose_bucket_l / self.hose_bucket_s

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
