"""What somebody without an account tells of a tree whose label they read."""

from datetime import datetime, timedelta

from django.db import transaction
from django.urls import reverse
from django.utils.translation import gettext

from orchard.access import May, may
from orchard.actions.audit import note
from orchard.actions.messages import Told, write_message
from orchard.languages import in_language
from orchard.models import AuditEntry, Membership, Orchard, Person, Tree

#: More of one orchard in a day is mischief, or known already; common practice, no source.
MOST_A_DAY = 20
DAY = timedelta(days=1)
PASSER_BY = "Somebody who read a label"


class EnoughError(Exception):
    """So much was told today that nobody would read more."""


@transaction.atomic
def tell_of_tree(*, tree: Tree, words: str, now: datetime) -> int:
    """Pass what a passer-by saw on to those who arrange the work; return how many.

    It is shown to nobody else, and changes nothing in the log or the plan.

    Raises
    ------
    EnoughError
        Its orchard was told of as many trees as it takes in a day.
    """
    orchard = Orchard.objects.select_for_update().get(pk=tree.site.orchard_id)
    told = AuditEntry.objects.filter(
        orchard=orchard, what="tree_told_of", at__gt=now - DAY
    )
    if told.count() >= MOST_A_DAY:
        raise EnoughError
    members = Membership.objects.filter(orchard=orchard).select_related("person")
    arranging = [one for one in members if may(one.role, May.ARRANGE)]
    for member in arranging:
        with in_language(member.person.language):
            _tell(member.person, orchard, tree, words, now)
    entry = note(
        orchard=orchard,
        person=None,
        what="tree_told_of",
        subject=tree.name,
        now=now,
    )
    entry.person_name = PASSER_BY  # not the server, as nobody would mean
    entry.save(update_fields=["person_name"])
    return len(arranging)


def _tell(
    person: Person, orchard: Orchard, tree: Tree, words: str, now: datetime
) -> None:
    write_message(
        person=person,
        orchard=orchard,
        what=Told.TREE_TOLD_OF,
        key=f"tree/{tree.pk}/{now.isoformat()}",
        why=gettext("You arrange the work of {orchard}.").format(orchard=orchard.name),
        title=gettext("Somebody tells of {tree}").format(tree=tree.name),
        lines=[
            gettext("They write: “{words}”").format(words=words),
            gettext(
                "They read its label and have no account. Nobody has looked into it yet."
            ),
        ],
        time_zone=tree.site.time_zone,
        due_at=now,
        path=reverse("tree", args=[tree.site.slug, tree.public_id]),
    )
