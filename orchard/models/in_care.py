"""Which member looks after which trees, and who stands in."""

from django.db import models
from django.db.models import Q

from orchard.models.people import Membership
from orchard.models.places import Block
from orchard.models.trees import Tree


class InCare(models.Model):
    """A member looks after one tree or one block, or stands in for whoever does."""

    membership = models.ForeignKey(
        Membership, on_delete=models.CASCADE, related_name="in_care"
    )
    tree = models.ForeignKey(
        Tree, null=True, on_delete=models.CASCADE, related_name="carers"
    )
    block = models.ForeignKey(
        Block, null=True, on_delete=models.CASCADE, related_name="carers"
    )
    is_backup = models.BooleanField(default=False)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(tree=None, block__isnull=False)
                | Q(tree__isnull=False, block=None),
                name="in_care_one_thing",
            ),
            models.UniqueConstraint(
                fields=["membership", "tree"],
                condition=Q(tree__isnull=False),
                name="in_care_tree_once",
            ),
            models.UniqueConstraint(
                fields=["membership", "block"],
                condition=Q(block__isnull=False),
                name="in_care_block_once",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.membership_id} {self.tree_id or self.block_id}"
