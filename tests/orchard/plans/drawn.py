"""A plan of unsaved rows, for what only reads them."""

from datetime import date

from orchard.models import Corner, Feature, NeighbourTree, Site, SitePlan, Tree
from orchard.plans.gathered import OnPlan

YARD = [[0.0, 0.0], [20.0, 0.0], [20.0, 12.0], [0.0, 12.0]]
SHED = [[16.0, 8.0], [16.0, 11.0], [19.0, 11.0], [19.0, 8.0]]  # clockwise


def drawn_plan(
    latitude_deg: float = 47.45, longitude_deg: float = -122.31, bearing_deg: float = 30
) -> OnPlan:
    site = Site(slug="yard", latitude_deg=latitude_deg, longitude_deg=longitude_deg)
    features = [
        Feature(pk=1, kind="boundary", points_m=YARD),
        Feature(pk=2, kind="building", name="Shed", points_m=SHED, height_m=2.5),
        Feature(pk=3, kind="wires", name="Wires", points_m=YARD[:3], height_m=6.0),
        Feature(pk=4, kind="tap", points_m=[[1.0, 0.5]], flow_l_per_min=15.0),
    ]
    trees = [
        Tree(
            pk=number,
            name=name,
            species_key="apple",
            cultivar="Liberty",
            planted_on=date(2020, 3, 1),
            x_m=4.0 * number,
            y_m=6.0,
        )
        for number, name in enumerate(("Anna", "Berta"), 1)
    ]
    return OnPlan(
        site=site,
        plan=SitePlan(site=site, up_bearing_deg=bearing_deg),
        corners=[
            Corner(name="A", x_m=0.0, y_m=0.0),
            Corner(name="B", x_m=5.0, y_m=0.0),
        ],
        features=features,
        trees=[*trees, Tree(pk=9, name="Nowhere", species_key="fig")],
        wanted=[],
        neighbours=[NeighbourTree(pk=1, species_key="pear", x_m=25.0, y_m=3.0)],
    )
