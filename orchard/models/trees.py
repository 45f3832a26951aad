"""Trees: one row a plant kept for years."""

import uuid
from datetime import date

from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy, pgettext_lazy

from orchard.models.places import SOIL_PH, Block, Site

#: Farther than this from its origin nothing of a garden lies on its plan [m].
FARTHEST_M = 2000.0


class Sex(models.TextChoices):
    """Which flowers a plant bears, where its kind has them on separate plants."""

    UNSAID = "", gettext_lazy("Not said")
    FEMALE = "female", pgettext_lazy("a tree", "Female")
    MALE = "male", pgettext_lazy("a tree", "Male")
    BOTH = "both", gettext_lazy("Both on one plant")


class Clump(models.Model):
    """Trees that share one hole or hedge: one root zone, one canopy.

    ``height_limit_m`` is how high it is kept; a hedge or a shared hole that names its
    limit may stand closer than its kind does alone.
    """

    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="clumps")
    name = models.CharField(max_length=60)
    is_hedge = models.BooleanField(default=False)
    height_limit_m = models.FloatField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["site", "name"],
                name="clump_name_once",
            ),
            models.CheckConstraint(
                condition=Q(height_limit_m=None) | Q(height_limit_m__gt=0),
                name="clump_height_limit",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class Tree(models.Model):
    """One plant, in the ground or in a container, alive, lost or removed.

    One whose ``planted_on`` is still to come is planned: nobody cares for it yet.
    ``x_m`` and ``y_m`` are its place on the plan of the site, ``measured`` how that
    was found.
    """

    class Stock(models.TextChoices):
        """How it came."""

        CONTAINER_GROWN = (
            "container_grown",
            gettext_lazy("Grown in a nursery pot"),
        )
        BALLED = "balled", gettext_lazy("Dug with a ball of soil")
        BARE_ROOT = "bare_root", gettext_lazy("Bare root")

    class Floor(models.TextChoices):
        """What covers the ground under it."""

        BARE = "bare", gettext_lazy("Bare soil")
        MULCH = "mulch", gettext_lazy("Mulch")
        GRASS = "grass", gettext_lazy("Grass or weeds")

    class RainReach(models.TextChoices):
        """How much of the rain reaches its soil."""

        YES = "yes", gettext_lazy("Yes")
        PARTLY = "partly", gettext_lazy("Partly (eaves, a wall)")
        NO = "no", gettext_lazy("No (under a roof)")

    class Known(models.TextChoices):
        """What a person knows of care before the tree was entered."""

        YES = "yes", gettext_lazy("Yes")
        NO = "no", gettext_lazy("No")
        UNKNOWN = "unknown", gettext_lazy("I don't know")

    class MulchMaterial(models.TextChoices):
        """What the mulch is made of; decides how fast it rots."""

        WOOD_CHIPS = "wood_chips", gettext_lazy("Wood chips")
        BARK = "bark", gettext_lazy("Bark")
        STRAW = "straw", gettext_lazy("Straw")
        LEAVES = "leaves", gettext_lazy("Leaves")
        PINE_STRAW = "pine_straw", gettext_lazy("Pine straw")
        COMPOST = "compost", gettext_lazy("Compost")
        CLIPPINGS = "clippings", gettext_lazy("Grass clippings")

    class Goal(models.TextChoices):
        """How far a young tree is pushed."""

        VIGOUR = "vigour", gettext_lazy("Grow fast")
        STANDARD = "standard", gettext_lazy("Grow as usual")
        SURVIVAL = "survival", gettext_lazy("Just come through")

    class Support(models.TextChoices):
        """What holds it up."""

        NONE = "none", pgettext_lazy("what holds a tree up", "Nothing")
        STAKE = "stake", gettext_lazy("A stake, for its first season")
        PERMANENT = "permanent", gettext_lazy("A post or wires, for good")

    class Status(models.TextChoices):
        """Whether it still needs anybody."""

        ALIVE = "alive", pgettext_lazy("a tree", "Alive")
        LOST = "lost", pgettext_lazy("a tree", "Lost")
        REMOVED = "removed", pgettext_lazy("a tree", "Removed")

    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="trees")
    block = models.ForeignKey(
        Block, null=True, blank=True, on_delete=models.SET_NULL, related_name="trees"
    )
    position = models.PositiveSmallIntegerField(default=0)
    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    tag = models.CharField(max_length=20, blank=True)
    name = models.CharField(max_length=80)
    species_key = models.CharField(max_length=40)
    cultivar = models.CharField(max_length=60, blank=True)
    rootstock = models.CharField(max_length=40, blank=True)
    sex = models.CharField(max_length=6, choices=Sex, blank=True, default=Sex.UNSAID)
    replaces = models.ForeignKey(
        "self",
        null=True,
        blank=True,
        on_delete=models.SET_NULL,
        related_name="replaced_by",
    )
    x_m = models.FloatField(null=True, blank=True)
    y_m = models.FloatField(null=True, blank=True)
    measured = models.JSONField(default=dict, blank=True)
    planted_on = models.DateField(null=True, blank=True)
    entered_on = models.DateField()
    in_container = models.BooleanField(default=False)
    container_litres = models.FloatField(null=True, blank=True)
    container_diameter_m = models.FloatField(null=True, blank=True)
    container_medium = models.CharField(max_length=40, default="mix", blank=True)
    stock = models.CharField(
        max_length=16, choices=Stock, default=Stock.CONTAINER_GROWN
    )
    stock_litres = models.FloatField(null=True, blank=True)
    caliper_mm = models.FloatField(null=True, blank=True)
    crown_width_m = models.FloatField(null=True, blank=True)
    height_m = models.FloatField(null=True, blank=True)
    height_target_m = models.FloatField(null=True, blank=True)
    spacing_m = models.FloatField(null=True, blank=True)
    near_wires = models.BooleanField(default=False)
    floor = models.CharField(max_length=8, choices=Floor, default=Floor.BARE)
    watered_radius_m = models.FloatField(null=True, blank=True)
    mulch_material = models.CharField(
        max_length=12, choices=MulchMaterial, blank=True, default=""
    )
    mulch_depth_mm = models.FloatField(null=True, blank=True)
    mulch_laid_on = models.DateField(null=True, blank=True)
    mulch_ring_radius_m = models.FloatField(null=True, blank=True)
    trunk_gap_mm = models.FloatField(null=True, blank=True)
    rain_reach = models.CharField(
        max_length=8, choices=RainReach, default=RainReach.YES
    )
    irrigation_litres = models.FloatField(null=True, blank=True)
    irrigation_weekdays = models.CharField(max_length=7, blank=True, default="")
    irrigation_since = models.DateField(null=True, blank=True)
    irrigation_until = models.DateField(null=True, blank=True)
    drip_l_per_h = models.FloatField(null=True, blank=True)
    goal = models.CharField(max_length=8, choices=Goal, default=Goal.STANDARD)
    drainage_hours = models.FloatField(null=True, blank=True)
    soil_ph = models.FloatField(null=True, blank=True)
    water_distance_m = models.FloatField(null=True, blank=True)
    support = models.CharField(max_length=9, choices=Support, default=Support.NONE)
    has_trunk_guard = models.BooleanField(default=False)
    is_grafted = models.BooleanField(default=True)
    clump = models.ForeignKey(
        Clump, null=True, blank=True, on_delete=models.SET_NULL, related_name="trees"
    )
    fed_before = models.CharField(max_length=8, choices=Known, default=Known.UNKNOWN)
    pruned_before = models.CharField(max_length=8, choices=Known, default=Known.UNKNOWN)
    mulched_before = models.CharField(
        max_length=8, choices=Known, default=Known.UNKNOWN
    )
    status = models.CharField(max_length=8, choices=Status, default=Status.ALIVE)
    ended_on = models.DateField(null=True, blank=True)
    ended_reason = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["block__position", "position", "name", "id"]
        constraints = [
            models.CheckConstraint(
                condition=~Q(name="") & ~Q(species_key=""), name="tree_has_names"
            ),
            models.UniqueConstraint(
                fields=["site", "tag"], condition=~Q(tag=""), name="tree_tag_once"
            ),
            models.CheckConstraint(
                # A missing volume would let the bare comparison pass as unknown.
                condition=Q(in_container=False)
                | Q(container_litres__isnull=False, container_litres__gt=0),
                name="pot_has_a_volume",
            ),
            models.CheckConstraint(
                condition=Q(crown_width_m=None) | Q(crown_width_m__gt=0),
                name="tree_crown_width",
            ),
            models.CheckConstraint(
                condition=Q(goal__in=["vigour", "standard", "survival"])
                & Q(support__in=["none", "stake", "permanent"]),
                name="tree_goal_and_support",
            ),
            models.CheckConstraint(
                condition=(Q(drip_l_per_h=None) | Q(drip_l_per_h__gt=0))
                & (Q(drainage_hours=None) | Q(drainage_hours__gte=0))
                & (Q(water_distance_m=None) | Q(water_distance_m__gte=0)),
                name="tree_measures",
            ),
            models.CheckConstraint(
                condition=Q(soil_ph=None) | Q(soil_ph__range=SOIL_PH),
                name="tree_soil_ph",
            ),
            models.CheckConstraint(
                condition=Q(x_m=None, y_m=None)
                | Q(
                    x_m__isnull=False,
                    x_m__range=(-FARTHEST_M, FARTHEST_M),
                    y_m__isnull=False,
                    y_m__range=(-FARTHEST_M, FARTHEST_M),
                ),
                name="tree_place_is_whole",
            ),
            models.CheckConstraint(
                condition=Q(status="alive", ended_on=None)
                | (Q(status__in=["lost", "removed"]) & Q(ended_on__isnull=False)),
                name="tree_end_has_a_date",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def is_planned(self, today: date) -> bool:
        """Whether it is still to be planted."""
        return self.planted_on is not None and self.planted_on > today


class Stay(models.Model):
    """Where a pot stands, from a day on until its next stay."""

    class Place(models.TextChoices):
        """The kinds of place that change what rain and cold do."""

        OUTDOORS = "outdoors", gettext_lazy("Outdoors")
        UNDER_COVER = "under_cover", gettext_lazy("Outdoors, under cover")
        INDOORS_UNHEATED = (
            "indoors_unheated",
            gettext_lazy("Indoors, unheated"),
        )
        INDOORS_HEATED = "indoors_heated", gettext_lazy("Indoors, heated")

    tree = models.ForeignKey(Tree, on_delete=models.CASCADE, related_name="stays")
    place = models.CharField(max_length=18, choices=Place)
    since = models.DateField()

    class Meta:
        ordering = ["since", "id"]
        constraints = [
            models.UniqueConstraint(fields=["tree", "since"], name="one_stay_a_day")
        ]

    def __str__(self) -> str:
        return f"{self.place} since {self.since}"


class Graft(models.Model):
    """A cultivar grafted onto a tree besides its own, from a day on."""

    tree = models.ForeignKey(Tree, on_delete=models.CASCADE, related_name="grafts")
    species_key = models.CharField(max_length=40)
    cultivar = models.CharField(max_length=60)
    grafted_on = models.DateField()
    ended_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["grafted_on", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["tree", "species_key", "cultivar"],
                condition=Q(ended_on=None),
                name="one_living_graft_a_cultivar",
            ),
            models.CheckConstraint(
                condition=Q(ended_on=None) | Q(ended_on__gte=F("grafted_on")),
                name="graft_ends_after_it_began",
            ),
        ]

    def __str__(self) -> str:
        return self.cultivar
