"""A planting of Alder Row that is still a wish: its trees have neither day nor place."""

from datetime import date

from care.actions.plantings import make_planting, want_trees
from orchard.models import Site

NAME = "By the long row"
WANTED: tuple[tuple[str, dict[str, object]], ...] = (
    (
        "Apple to pick late",
        {
            "species_key": "apple",
            "cultivar": "Liberty",
            "rootstock": "M.26",
            "stock": "bare_root",
            "caliper_mm": 13.0,
            "support": "stake",
        },
    ),
    (
        "Blueberry by the path",
        {
            "species_key": "blueberry_highbush",
            "stock_litres": 9.5,
            "backfill": "acid",
            "mulch_material": "pine_straw",
        },
    ),
)


def want_a_planting(site: Site, today: date) -> None:
    """Want two trees at Alder Row, unless something is wanted there already."""
    if site.plantings.exists():
        return
    planting = make_planting(site=site, name=NAME, today=today, person=None)
    for name, values in WANTED:
        want_trees(planting=planting, values=values, names=[name], person=None)
