"""Plantings: trees that are wanted, from the first wish to the day they stand."""

import uuid

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy

from orchard.models.places import Block, Site
from orchard.models.trees import FARTHEST_M, Sex, Tree


class Planting(models.Model):
    """Trees wanted together: bought on one list, planted with one sheet."""

    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="plantings")
    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    name = models.CharField(max_length=60)
    begun_on = models.DateField()
    is_put_away = models.BooleanField(default=False)

    class Meta:
        ordering = ["-begun_on", "-id"]
        constraints = [
            models.UniqueConstraint(fields=["site", "name"], name="planting_name_once")
        ]

    def __str__(self) -> str:
        return self.name


class WantedTree(models.Model):
    """One tree that is wanted; ``tree`` is its row once its day is set.

    ``plant_on`` without a ``tree`` is a day somebody thinks of. A pinned one stays
    where it was put when places are proposed.
    """

    class Backfill(models.TextChoices):
        """What the hole is filled with."""

        NATIVE = "native", gettext_lazy("The soil that came out")
        COMPOST = (
            "compost",
            gettext_lazy("That soil with compost mixed in"),
        )
        ACID = (
            "acid",
            gettext_lazy("Peat or pine bark mixed in, for acid lovers"),
        )

    planting = models.ForeignKey(
        Planting, on_delete=models.CASCADE, related_name="wanted"
    )
    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    tree = models.OneToOneField(
        Tree, null=True, blank=True, on_delete=models.SET_NULL, related_name="wanted"
    )
    replaces = models.ForeignKey(
        Tree, null=True, blank=True, on_delete=models.SET_NULL, related_name="+"
    )
    name = models.CharField(max_length=80)
    species_key = models.CharField(max_length=40)
    cultivar = models.CharField(max_length=60, blank=True)
    rootstock = models.CharField(max_length=40, blank=True)
    sex = models.CharField(max_length=6, choices=Sex, blank=True, default=Sex.UNSAID)
    block = models.ForeignKey(Block, null=True, blank=True, on_delete=models.SET_NULL)
    in_container = models.BooleanField(default=False)
    container_litres = models.FloatField(null=True, blank=True)
    container_medium = models.CharField(max_length=40, default="mix", blank=True)
    stock = models.CharField(
        max_length=16, choices=Tree.Stock, default=Tree.Stock.CONTAINER_GROWN
    )
    stock_litres = models.FloatField(null=True, blank=True)
    caliper_mm = models.FloatField(null=True, blank=True)
    support = models.CharField(
        max_length=9, choices=Tree.Support, default=Tree.Support.NONE
    )
    plant_on = models.DateField(null=True, blank=True)
    x_m = models.FloatField(null=True, blank=True)
    y_m = models.FloatField(null=True, blank=True)
    is_pinned = models.BooleanField(default=False)
    backfill = models.CharField(max_length=8, choices=Backfill, default=Backfill.NATIVE)
    is_fed = models.BooleanField(default=False)
    has_edging = models.BooleanField(default=True)
    mulch_material = models.CharField(
        max_length=12,
        choices=Tree.MulchMaterial,
        default=Tree.MulchMaterial.WOOD_CHIPS,
    )
    mulch_depth_mm = models.FloatField(default=75.0)
    mulch_ring_radius_m = models.FloatField(default=0.6)

    class Meta:
        ordering = ["id"]
        constraints = [
            models.CheckConstraint(
                condition=~Q(name="") & ~Q(species_key=""), name="wanted_has_names"
            ),
            models.CheckConstraint(
                condition=Q(in_container=False)
                | Q(container_litres__isnull=False, container_litres__gt=0),
                name="wanted_pot_has_a_volume",
            ),
            models.CheckConstraint(
                condition=Q(x_m=None, y_m=None)
                | Q(
                    x_m__isnull=False,
                    x_m__range=(-FARTHEST_M, FARTHEST_M),
                    y_m__isnull=False,
                    y_m__range=(-FARTHEST_M, FARTHEST_M),
                ),
                name="wanted_place_is_whole",
            ),
            models.CheckConstraint(
                condition=Q(mulch_depth_mm__gte=0, mulch_ring_radius_m__gt=0),
                name="wanted_mulch",
            ),
        ]

    def __str__(self) -> str:
        return self.name
