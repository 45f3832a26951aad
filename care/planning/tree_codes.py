"""The codes on the labels of trees: made for printing, found again by a scan."""

from collections import Counter
from collections.abc import Iterable

from care.charts.labels import LONG, SHORT, code_of, ids_between, read_code
from orchard.models import Membership, Person, Tree


def codes_of(trees: Iterable[Tree]) -> dict[int, str]:
    """Return the code of each tree by its id: short, unless the server has it twice."""
    ids = Tree.objects.values_list("public_id", flat=True)
    counts = Counter(code_of(public_id) for public_id in ids.iterator())
    codes = {}
    for tree in trees:
        code = code_of(tree.public_id, SHORT)
        codes[tree.pk] = code if counts[code] == 1 else code_of(tree.public_id, LONG)
    return codes


def tree_of_code(typed: str, person: Person | None) -> tuple[Tree | None, bool]:
    """Return the tree that a label names, and whether ``person`` is a member there.

    A code that two trees came to share names the one of the person's own orchards; to
    anybody else it names none, as does the code of a tree that no longer stands.
    """
    code = read_code(typed)
    if code is None:
        return None, False
    found = list(
        Tree.objects.filter(public_id__range=ids_between(code)).select_related(
            "site__orchard"
        )
    )
    orchards = [tree.site.orchard_id for tree in found]
    own = set(
        Membership.objects.filter(person=person, orchard__in=orchards).values_list(
            "orchard", flat=True
        )
        if person
        else ()
    )
    theirs = [tree for tree in found if tree.site.orchard_id in own]
    if len(theirs) == 1:
        return theirs[0], True
    standing = [tree for tree in found if tree.status == Tree.Status.ALIVE]
    return (standing[0], False) if len(found) == len(standing) == 1 else (None, False)
