"""Taking a file into a plan, and taking it back.

What an import changed stands in its entry of the trail, before and after, under
:data:`ROWS`: the trail keeps it as long as the orchard lives and nobody can change it.
Taking back restores each row that is still as the import left it, and tells which ones
somebody has changed since.
"""

from collections.abc import Iterator, Mapping

from django.db import transaction
from django.db.models import Model

from orchard.actions.audit import note
from orchard.actions.places import raise_revision
from orchard.actions.plan_places import Placing, write_place
from orchard.actions.plans import lock_plan
from orchard.models import AuditEntry, Corner, Feature, Person, Site, Tree, WantedTree
from orchard.plans.changes import Changes, changes_of
from orchard.plans.gathered import on_plan
from orchard.plans.geojson_in import ReadFeature, ReadPlan

IMPORTED, TAKEN_BACK = "plan_imported", "plan_import_taken_back"
#: Names that begin so are for the program, not for the page of the trail.
ROWS, SITE = "_rows", "_site"
BY_FILE = {"how": "file"}
_FIELDS: dict[str, tuple[type[Model], tuple[str, ...]]] = {
    "tree": (Tree, ("x_m", "y_m", "measured")),
    "wanted": (WantedTree, ("x_m", "y_m", "is_pinned")),
    "corner": (Corner, ("name", "x_m", "y_m", "measured")),
    "feature": (
        Feature,
        ("kind", "name", "points_m", "height_m", "flow_l_per_min"),
    ),
}
Row = dict[str, object]


@transaction.atomic
def import_plan(
    *,
    site: Site,
    read: ReadPlan,
    may_be_outside: bool = False,
    label: str = "",
    person: Person | None = None,
) -> Changes:
    """Write what a file changes on a site's plan; return it.

    ``person`` is who does it, for the trail; ``None`` is the server.

    Raises
    ------
    PlanFileError
        Something in it cannot stand on the plan as it is now.
    """
    lock_plan(site)
    changes = changes_of(read, on_plan(site), may_be_outside=may_be_outside)
    before: dict[str, Row] = {}
    touched = [*_move(changes, before), *_draw(site, changes, before)]
    raise_revision(site)
    note(
        orchard=site.orchard,
        person=person,
        what="plan_imported",
        subject=label or site.name,
        before={ROWS: before},
        after={
            "things_changed": changes.number,
            ROWS: {_key(row): _state(row) for row in touched},
            SITE: site.pk,
        },
    )
    return changes


def _move(changes: Changes, before: dict[str, Row]) -> Iterator[Model]:
    """Put trees and known corners where the file has them."""
    for plant, place in changes.moved:
        _keep(before, plant)
        write_place(Placing(plant, place, BY_FILE))
        yield plant
    for corner, place in changes.moved_corners:
        _keep(before, corner)
        corner.x_m, corner.y_m = place
        corner.measured = BY_FILE
        corner.save()
        yield corner


def _draw(site: Site, changes: Changes, before: dict[str, Row]) -> Iterator[Model]:
    """Write features and new corners."""
    for feature, read in changes.changed_features:
        _keep(before, feature)
        yield _written(feature, read)
    for read in changes.new_features:
        yield _written(Feature(site=site), read)
    for name, place in changes.new_corners:
        corner = Corner(site=site, name=name, measured=BY_FILE)
        corner.x_m, corner.y_m = place
        corner.save()
        yield corner


def _written(feature: Feature, read: ReadFeature) -> Feature:
    feature.kind, feature.name = read.kind, read.name
    feature.points_m = [list(point) for point in read.points_m]
    feature.height_m, feature.flow_l_per_min = read.height_m, read.flow_l_per_min
    feature.save()
    return feature


def _key(row: Model) -> str:
    kind = next(kind for kind, (model, _) in _FIELDS.items() if isinstance(row, model))
    return f"{kind}-{row.pk}"


def _state(row: Model) -> Row:
    _, fields = _FIELDS[_key(row).partition("-")[0]]
    return {name: getattr(row, name) for name in fields}


def _keep(before: dict[str, Row], row: Model) -> None:
    before[_key(row)] = _state(row)


def last_import(site: Site) -> AuditEntry | None:
    """Return the newest import of a site's plan, unless it was taken back."""
    entry = (
        AuditEntry.objects.filter(
            orchard=site.orchard,
            what__in=(IMPORTED, TAKEN_BACK),
            after___site=site.pk,
        )
        .order_by("-id")
        .first()
    )
    return entry if entry is not None and entry.what == IMPORTED else None


@transaction.atomic
def take_back_import(
    *, site: Site, entry: AuditEntry, person: Person | None = None
) -> list[str]:
    """Restore what an import changed; return the names of what was left alone.

    Only the newest import can be taken back, and once: :func:`last_import` finds it.
    A row that somebody changed since, or removed, is left as it is now.
    """
    lock_plan(site)
    before, after = _rows_of(entry.before), _rows_of(entry.after)
    left_alone = [
        name
        for key, state in after.items()
        if (name := _restore(site, key, before.get(key), state))
    ]
    raise_revision(site)
    note(
        orchard=site.orchard,
        person=person,
        what="plan_import_taken_back",
        subject=entry.subject,
        after={"left_alone": left_alone, SITE: site.pk},
    )
    return left_alone


def _rows_of(values: object) -> Mapping[str, Row]:
    rows = values.get(ROWS) if isinstance(values, Mapping) else None
    return rows if isinstance(rows, dict) else {}


def _restore(site: Site, key: str, before: Row | None, after: Row) -> str:
    """Put a row back; return its name if it is no longer as the import left it."""
    kind, _, number = key.partition("-")
    model, fields = _FIELDS[kind]
    whose = {"planting__site": site} if model is WantedTree else {"site": site}
    row = model._default_manager.filter(pk=int(number), **whose).first()
    if row is None:
        return str(after.get("name") or kind)
    if _state(row) != after:
        return str(row)
    if before is None:
        row.delete()
        return ""
    for name in fields:
        setattr(row, name, before[name])
    row.save(update_fields=list(fields))
    return ""
