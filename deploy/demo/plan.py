"""The plan of Alder Row: an invented garden that its trees fit into.

Whoever stands with their back to the house looks south over it: along runs west from
the house's south-east corner, across runs south. One thing is wrong on purpose: the
wires hang over "Apple by the shed", as its own record says.
"""

import math

from orchard.actions.plan_places import Placing, put_plants
from orchard.actions.plans import add_corners, add_feature, set_plan
from orchard.models import Site

UP_BEARING_DEG = 180.0

CORNERS = {"A": (0.0, 0.0), "B": (14.0, 0.0), "Shed": (27.5, 15.6)}

FEATURES: tuple[dict[str, object], ...] = (
    {
        "kind": "boundary",
        "name": "Hedge and fence",
        "points_m": [[-6.0, -11.0], [74.0, -11.0], [74.0, 20.0], [-6.0, 20.0]],
    },
    {
        "kind": "building",
        "name": "House",
        "points_m": [[0.0, 0.0], [14.0, 0.0], [14.0, -9.0], [0.0, -9.0]],
        "height_m": 6.5,
    },
    {
        "kind": "building",
        "name": "Shed",
        "points_m": [[27.5, 15.6], [30.5, 15.6], [30.5, 18.1], [27.5, 18.1]],
        "height_m": 2.6,
    },
    {
        "kind": "paving",
        "name": "Patio",
        "points_m": [[14.2, -8.5], [22.5, -8.5], [22.5, -3.5], [14.2, -3.5]],
    },
    {
        "kind": "wall",
        "name": "Patio wall",
        "points_m": [[14.2, -8.8], [22.5, -8.8]],
        "height_m": 1.8,
    },
    {
        "kind": "wires",
        "name": "Wires to the street",
        "points_m": [[23.6, -11.0], [23.6, 20.0]],
        "height_m": 8.8,
    },
    {
        "kind": "tap",
        "name": "Tap at the house",
        "points_m": [[13.5, 0.2]],
        "flow_l_per_min": 15.0,
    },
)

#: By tag; the trees at the south wall stand 3.3 m from it, the long row 11 m.
PLACES: dict[str, tuple[float, float]] = {
    "S1": (0.0, 3.3),
    "S2": (6.1, 3.3),
    "S3": (11.2, 3.3),
    "S4": (16.3, 3.3),
    "L1": (13.9, 11.0),
    "L2": (18.9, 11.0),
    "L3": (24.0, 11.0),
    "L4": (29.4, 11.0),
    "L5": (35.0, 11.0),
    "L6": (39.9, 11.0),
    "L7": (44.6, 11.0),
    "L8": (49.4, 11.0),
    "L9": (54.2, 11.0),
    "L10": (59.5, 11.0),
    "L11": (67.2, 11.0),
    "P1": (15.2, -7.6),
    "P2": (16.8, -7.6),
    "P3": (18.4, -7.6),
    "P4": (20.0, -7.6),
    "P5": (21.6, -7.6),
    "P6": (15.2, -5.4),
    "P7": (16.8, -5.4),
}


def draw_plan(site: Site) -> None:
    """Draw the plan of Alder Row, unless something is drawn there already."""
    if site.features.exists():
        return
    set_plan(
        site=site,
        values={
            "up_bearing_deg": UP_BEARING_DEG,
            "origin_latitude_deg": site.latitude_deg,
            "origin_longitude_deg": site.longitude_deg,
        },
    )
    add_corners(site=site, corners=CORNERS)
    for values in FEATURES:
        add_feature(site=site, values=values)
    put_plants(
        site=site,
        placings=[
            Placing(tree, PLACES[tree.tag], _taped(PLACES[tree.tag]))
            for tree in site.trees.filter(tag__in=PLACES).order_by("id")
        ],
    )


def _taped(place_m: tuple[float, float]) -> dict[str, object]:
    """Return the two tapes that lead to a place, to the centimetre."""
    return {
        "how": "tape",
        "from": [
            [name, round(math.dist(CORNERS[name], place_m), 2)] for name in ("A", "B")
        ],
        "side": "garden" if place_m[1] > 0 else "right",
        "off_m": 0.0,
    }
