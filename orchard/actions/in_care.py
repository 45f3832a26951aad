"""Who looks after what: read it at once, take, leave.

A tree's own carers stand in the place of its block's; so do its own backups. Somebody
who may not tick looks after nothing, whatever was arranged before.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.db.models import Q

from orchard.access import NOBODY_TO_ASK, May, may
from orchard.actions.audit import note
from orchard.models import Block, InCare, Membership, Site, Tree

Members = dict[int, Membership]


@dataclass(slots=True)
class Care:
    """Who looks after one tree or block, and who stands in, by membership."""

    carers: Members = field(default_factory=dict)
    backups: Members = field(default_factory=dict)


NOBODY = Care()


@dataclass(frozen=True, slots=True)
class CareOfSite:
    """Who looks after what at one site."""

    trees: dict[int, Care]
    blocks: dict[int, Care]

    def of_tree(self, tree_id: int) -> Care:
        """Return what was arranged for the tree itself."""
        return self.trees.get(tree_id, NOBODY)

    def of_block(self, block_id: int | None) -> Care:
        """Return what was arranged for a block."""
        return NOBODY if block_id is None else self.blocks.get(block_id, NOBODY)

    def carers(self, tree_id: int, block_id: int | None) -> Members:
        """Return who looks after a tree, itself or by its block."""
        return self.of_tree(tree_id).carers or self.of_block(block_id).carers

    def backups(self, tree_id: int, block_id: int | None) -> Members:
        """Return who stands in for a tree's carers, itself or by its block."""
        return self.of_tree(tree_id).backups or self.of_block(block_id).backups

    def has(self, membership: Membership) -> bool:
        """Whether a member looks after anything here or stands in."""
        return any(
            membership.pk in care.carers or membership.pk in care.backups
            for care in (*self.trees.values(), *self.blocks.values())
        )

    @property
    def is_arranged(self) -> bool:
        """Whether anybody looks after anything here."""
        return bool(self.trees or self.blocks)


def care_of_site(site: Site) -> CareOfSite:
    """Read who looks after what at a site, in one query."""
    rows = InCare.objects.filter(Q(tree__site=site) | Q(block__site=site))
    return _gathered(rows.select_related("membership__person").order_by("pk"))


def _gathered(rows: Iterable[InCare]) -> CareOfSite:
    trees: dict[int, Care] = {}
    blocks: dict[int, Care] = {}
    for row in rows:
        member = row.membership
        if not may(member.role, May.TICK):
            continue
        things = blocks if row.tree_id is None else trees
        care = things.setdefault(row.tree_id or row.block_id or 0, Care())
        (care.backups if row.is_backup else care.carers)[member.pk] = member
    return CareOfSite(trees, blocks)


@transaction.atomic
def take(
    *,
    by: Membership,
    member: Membership,
    thing: Tree | Block,
    now: datetime,
    is_backup: bool = False,
) -> bool:
    """Let ``member`` look after a tree or block, or stand in; whether it is news.

    Raises
    ------
    PermissionDenied
        ``by`` may not arrange this, ``member`` may not tick, or the thing is of
        another orchard.
    """
    _require_arranging(by, member, thing)
    if not may(member.role, May.TICK):
        raise PermissionDenied(NOBODY_TO_ASK)
    row, is_new = InCare.objects.get_or_create(
        membership=member, **_named(thing), defaults={"is_backup": is_backup}
    )
    if not is_new and row.is_backup == is_backup:
        return False
    before = {} if is_new else {"is_backup": row.is_backup}
    if not is_new:
        row.is_backup = is_backup
        row.save(update_fields=["is_backup"])
    note(
        orchard=member.orchard,
        person=by.person,
        what="care_taken",
        subject=f"{thing}: {member.person.shown_name}",
        before=before,
        after={"is_backup": is_backup},
        now=now,
    )
    return True


@transaction.atomic
def leave(
    *, by: Membership, member: Membership, thing: Tree | Block, now: datetime
) -> bool:
    """Let ``member`` no longer look after a tree or block; whether they did.

    Raises
    ------
    PermissionDenied
        ``by`` may not arrange this, or the thing is of another orchard.
    """
    _require_arranging(by, member, thing)
    row = InCare.objects.filter(membership=member, **_named(thing)).first()
    if row is None:
        return False
    row.delete()
    note(
        orchard=member.orchard,
        person=by.person,
        what="care_left",
        subject=f"{thing}: {member.person.shown_name}",
        before={"is_backup": row.is_backup},
        now=now,
    )
    return True


def _named(thing: Tree | Block) -> dict[str, Tree | Block]:
    return {"tree" if isinstance(thing, Tree) else "block": thing}


def _require_arranging(by: Membership, member: Membership, thing: Tree | Block) -> None:
    """One's own care needs ticking, another's needs arranging; in one orchard."""
    needed = May.TICK if by.pk == member.pk else May.ARRANGE
    is_one = by.orchard_id == member.orchard_id == thing.site.orchard_id
    if not is_one or not may(by.role, needed):
        raise PermissionDenied(NOBODY_TO_ASK)
