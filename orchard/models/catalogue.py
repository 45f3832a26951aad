"""What an orchard knows better than the catalogue, or knows besides.

The catalogue itself is a table in a file; nothing here is touched when it changes.
"""

from django.db import models
from django.db.models import Q

from orchard.models.people import Orchard, Person
from orchard.models.trees import Tree


class OwnSpecies(models.Model):
    """A kind the catalogue does not have; figures not given are those of ``like_key``."""

    orchard = models.ForeignKey(
        Orchard, on_delete=models.CASCADE, related_name="own_species"
    )
    key = models.SlugField(max_length=40)
    common_name = models.CharField(max_length=60)
    botanical_name = models.CharField(max_length=80)
    like_key = models.CharField(max_length=40)
    source = models.CharField(max_length=200)

    class Meta:
        ordering = ["common_name", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["orchard", "key"], name="own_species_key_once"
            ),
            models.UniqueConstraint(
                fields=["orchard", "common_name"], name="own_species_name_once"
            ),
        ]

    def __str__(self) -> str:
        return self.common_name


class OwnCultivar(models.Model):
    """A cultivar the catalogue does not have; ``values`` are texts as in its table."""

    orchard = models.ForeignKey(
        Orchard, on_delete=models.CASCADE, related_name="own_cultivars"
    )
    species_key = models.CharField(max_length=40)
    name = models.CharField(max_length=60)
    values = models.JSONField(default=dict)
    source = models.CharField(max_length=200)

    class Meta:
        ordering = ["species_key", "name", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["orchard", "species_key", "name"], name="own_cultivar_once"
            )
        ]

    def __str__(self) -> str:
        return self.name


class OwnFigure(models.Model):
    """A figure that goes before the catalogue's, for a kind or for one tree of it.

    ``value`` is written as in the catalogue's table. With a ``cultivar`` it holds for
    that cultivar's row; with a ``tree`` for that tree alone.
    """

    orchard = models.ForeignKey(
        Orchard, on_delete=models.CASCADE, related_name="own_figures"
    )
    species_key = models.CharField(max_length=40)
    cultivar = models.CharField(max_length=60, blank=True, default="")
    tree = models.ForeignKey(
        Tree,
        null=True,
        blank=True,
        on_delete=models.CASCADE,
        related_name="own_figures",
    )
    figure = models.CharField(max_length=40)
    value = models.CharField(max_length=200)
    source = models.CharField(max_length=200)
    changed_by = models.ForeignKey(
        Person, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    changed_on = models.DateField()

    class Meta:
        ordering = ["species_key", "figure", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["orchard", "species_key", "cultivar", "figure"],
                condition=Q(tree=None),
                name="own_figure_once",
            ),
            models.UniqueConstraint(
                fields=["tree", "figure"],
                condition=Q(tree__isnull=False),
                name="own_figure_of_a_tree_once",
            ),
            models.CheckConstraint(
                condition=Q(tree=None) | Q(cultivar=""), name="own_figure_one_scope"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.species_key} {self.figure}"
