"""Proposed places kept for wanted trees, and taken back."""

from collections.abc import Collection, Mapping

from django.db import transaction

from orchard.actions.audit import note
from orchard.actions.places import raise_revision
from orchard.models import Person, Planting, WantedTree

#: Where a wanted tree goes, and whether it stays there: x_m, y_m, is_pinned.
Placed = tuple[float | None, float | None, bool]
PlacedById = dict[str, Placed]  # by public id, as a session can keep it


@transaction.atomic
def keep_places(
    *,
    planting: Planting,
    places: Mapping[str, tuple[float, float]],
    released: Collection[str],
    person: Person | None,
) -> tuple[PlacedById, PlacedById]:
    """Write places down and pin the trees to them; let others go again.

    Parameters
    ----------
    places : mapping of str to (float, float)
        By the public id of wanted trees of the planting, on the plan [m]. Trees that
        have their row already are passed over: they are moved where they are measured.
    released : collection of str
        Pinned trees that may be proposed another place; theirs stays until then.

    Returns
    -------
    before, after : dict
        What changed, for taking it back.
    """
    wanted: dict[str, Placed] = {key: (*at, True) for key, at in places.items()}
    for row in _rows(planting, released):
        wanted.setdefault(str(row.public_id), (row.x_m, row.y_m, False))
    return _write(planting, wanted, person, is_kept=True)


@transaction.atomic
def take_places_back(
    *, planting: Planting, before: PlacedById, after: PlacedById, person: Person | None
) -> int:
    """Put trees back where they were before, if they are still where they were put.

    Returns
    -------
    int
        How many were put back; the others changed since, or are there no more.
    """
    same = {
        str(row.public_id)
        for row in _rows(planting, after)
        if _placed(row) == tuple(after[str(row.public_id)])
    }
    wanted = {key: value for key, value in before.items() if key in same}
    _, done = _write(planting, wanted, person, is_kept=False)
    return len(done)


def _rows(planting: Planting, keys: Collection[str]) -> list[WantedTree]:
    """Return the planting's wanted trees of some ids, locked, without a row yet."""
    rows = planting.wanted.filter(tree=None, public_id__in=list(keys))
    return list(rows.select_for_update(of=("self",)).order_by("id"))


def _write(
    planting: Planting, wanted: PlacedById, person: Person | None, *, is_kept: bool
) -> tuple[PlacedById, PlacedById]:
    before: PlacedById = {}
    after: PlacedById = {}
    names: dict[str, str] = {}
    for row in _rows(planting, wanted):
        key = str(row.public_id)
        was, becomes = _placed(row), wanted[key]
        if was == tuple(becomes):
            continue
        before[key], after[key], names[key] = was, becomes, row.name
        row.x_m, row.y_m, row.is_pinned = becomes
        row.save(update_fields=["x_m", "y_m", "is_pinned"])
    if after:
        raise_revision(planting.site)
        note(
            orchard=planting.site.orchard,
            person=person,
            what="places_kept" if is_kept else "places_taken_back",
            subject=planting.name,
            before={names[key]: _told(value) for key, value in before.items()},
            after={names[key]: _told(value) for key, value in after.items()},
        )
    return before, after


def _placed(row: WantedTree) -> Placed:
    return (row.x_m, row.y_m, row.is_pinned)


def _told(placed: Placed) -> str:
    x_m, y_m, is_pinned = placed
    where = "no place" if x_m is None else f"{x_m:g} m right, {y_m:g} m up"
    return f"{where}, {'kept' if is_pinned else 'free to move'}"
