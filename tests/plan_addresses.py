"""The addresses of the plan of a site, and one of everything they name."""

from orchard.actions.plan_imports import import_plan, last_import
from orchard.actions.plans import add_corners, add_feature
from orchard.models import Person, Site
from orchard.plans.geojson_in import ReadCorner, ReadPlan
from tests.address_roles import EDIT, EDIT_PAGE, SEE

#: Posted without values, the forms come back: 422 for who may write.
ASK_AGAIN = {
    role: 422 if status == 200 else status for role, status in EDIT_PAGE.items()
}

PLAN_TABLE: dict[str, tuple[str, dict[str, int], dict[str, object]]] = {
    "plan_measure": ("get", SEE, {}),
    "plan_place": ("post", ASK_AGAIN, {"way": "tape"}),
    "plan_row": ("post", ASK_AGAIN, {}),
    "plan_place_clear": ("post", EDIT, {"plant": "tree-0"}),
    "plan_corners": ("get", SEE, {}),
    "corner_add": ("post", ASK_AGAIN, {}),
    "plan_axes": ("post", EDIT, {"direction": "90"}),
    "corner_edit": ("get", EDIT_PAGE, {}),
    "corner_remove": ("post", EDIT, {}),
    "plan_features": ("get", SEE, {}),
    "feature_add": ("get", EDIT_PAGE, {}),
    "feature_edit": ("get", EDIT_PAGE, {}),
    "feature_remove": ("post", EDIT, {}),
    "plan_geojson": ("get", SEE, {}),
    "plan_import": ("get", EDIT_PAGE, {}),
    "plan_import_undo": ("post", EDIT, {}),
}


def draw_something(site: Site, person: Person, mark: str = "") -> dict[str, object]:
    """Draw a corner and a wall, take a file in; return what addresses name of it."""
    name = f"{mark} A".strip()
    add_corners(site=site, corners={name: (0.0, 0.0)}, person=person)
    values = {"kind": "wall", "name": f"{mark} wall".strip()}
    points = {"points_m": [[0.0, 0.0], [5.0, 0.0]]}
    add_feature(site=site, values={**values, **points}, person=person)
    read = ReadPlan(corners=[ReadCorner(f"{mark} B".strip(), (5.0, 0.0))])
    import_plan(site=site, read=read, label=f"{mark} file".strip(), person=person)
    return drawn_ids(site)


def drawn_ids(site: Site) -> dict[str, object]:
    """Return what addresses name of what :func:`draw_something` drew."""
    entry = last_import(site)
    assert entry is not None
    return {
        "corner": site.corners.earliest("pk").pk,
        "feature": site.features.latest("pk").pk,
        "plan_file": entry.pk,
    }
