"""The plan of a site: corners to measure from, what stands there, neighbours' trees.

Places on the plan are metres along its own two axes: ``x_m`` to the right, ``y_m`` up
the page. ``up_bearing_deg`` says which way up is on the compass, and the origin where
on the earth ``x_m = y_m = 0`` lies, once somebody knows it.
"""

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy

from orchard.models.places import Site
from orchard.models.trees import FARTHEST_M


class SitePlan(models.Model):
    """How the plan of a site lies on the earth."""

    site = models.OneToOneField(Site, on_delete=models.CASCADE, related_name="plan")
    up_bearing_deg = models.FloatField(default=0.0)
    origin_latitude_deg = models.FloatField(null=True, blank=True)
    origin_longitude_deg = models.FloatField(null=True, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(up_bearing_deg__gte=0, up_bearing_deg__lt=360),
                name="plan_bearing",
            ),
            models.CheckConstraint(
                # A missing half would let the bare comparison pass as unknown.
                condition=Q(origin_latitude_deg=None, origin_longitude_deg=None)
                | Q(
                    origin_latitude_deg__isnull=False,
                    origin_latitude_deg__range=(-90, 90),
                    origin_longitude_deg__isnull=False,
                    origin_longitude_deg__range=(-180, 180),
                ),
                name="plan_origin",
            ),
        ]

    def __str__(self) -> str:
        return f"plan of {self.site_id}"


class Corner(models.Model):
    """A named point that a tape starts from, such as a corner of the house."""

    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="corners")
    name = models.CharField(max_length=40)
    x_m = models.FloatField()
    y_m = models.FloatField()
    measured = models.JSONField(default=dict, blank=True)

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(fields=["site", "name"], name="corner_name_once"),
            models.CheckConstraint(
                condition=Q(x_m__range=(-FARTHEST_M, FARTHEST_M))
                & Q(y_m__range=(-FARTHEST_M, FARTHEST_M)),
                name="corner_on_the_plan",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class Feature(models.Model):
    """What lies or stands on the plan and is no tree.

    ``points_m`` are [x, y] pairs: the outline of an area without its first point once
    more, the course of a line, or one point.
    """

    class Kind(models.TextChoices):
        """What it is; decides the shape and what keeps away from it."""

        BOUNDARY = "boundary", gettext_lazy("Boundary of the garden")
        FREE = "free", gettext_lazy("Room for trees")
        BUILDING = "building", gettext_lazy("Building")
        WALL = "wall", gettext_lazy("Wall or fence")
        WIRES = "wires", gettext_lazy("Overhead wires")
        PIPE = "pipe", gettext_lazy("Pipe or cable in the ground")
        SEPTIC = "septic", gettext_lazy("Septic drain field")
        PAVING = "paving", gettext_lazy("Paving or a path")
        WATER = "water", gettext_lazy("Pond, ditch or shore")
        TAP = "tap", gettext_lazy("Tap")

    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="features")
    kind = models.CharField(max_length=10, choices=Kind)
    name = models.CharField(max_length=60, blank=True)
    points_m = models.JSONField()
    height_m = models.FloatField(null=True, blank=True)
    flow_l_per_min = models.FloatField(null=True, blank=True)

    class Meta:
        ordering = ["kind", "name", "id"]
        constraints = [
            models.CheckConstraint(
                condition=(Q(height_m=None) | Q(height_m__gt=0))
                & (Q(flow_l_per_min=None) | Q(flow_l_per_min__gt=0)),
                name="feature_measures",
            ),
            models.UniqueConstraint(
                fields=["site"], condition=Q(kind="boundary"), name="one_boundary"
            ),
        ]

    def __str__(self) -> str:
        return self.name or self.get_kind_display()


class NeighbourTree(models.Model):
    """A tree beyond the fence that may pollinate ours; nobody here cares for it.

    Where its place on the plan is not known, ``distance_m`` says how far it is from
    the nearest of ours of its kind.
    """

    site = models.ForeignKey(
        Site, on_delete=models.CASCADE, related_name="neighbour_trees"
    )
    species_key = models.CharField(max_length=40)
    cultivar = models.CharField(max_length=60, blank=True)
    note = models.CharField(max_length=80, blank=True)
    x_m = models.FloatField(null=True, blank=True)
    y_m = models.FloatField(null=True, blank=True)
    distance_m = models.FloatField(null=True, blank=True)

    class Meta:
        ordering = ["species_key", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(x_m=None, y_m=None)
                | Q(x_m__isnull=False, y_m__isnull=False),
                name="neighbour_place_is_whole",
            ),
            models.CheckConstraint(
                condition=Q(distance_m=None) | Q(distance_m__gte=0),
                name="neighbour_distance",
            ),
        ]

    def __str__(self) -> str:
        return self.note or self.species_key
