"""What stands on the plan of a site, read from its rows once for a page."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

from orchard.models import (
    Corner,
    Feature,
    NeighbourTree,
    Site,
    SitePlan,
    Tree,
    WantedTree,
)
from orchard.plans.axes import PlanAxes, axes_of
from orchard.plans.measured import Point
from orchard.plans.shapes import Neighbour, middle_of

Plant = Tree | WantedTree


def place_of(plant: Plant | NeighbourTree) -> Point | None:
    """Return where a plant stands on the plan [m], if it is known."""
    if plant.x_m is None or plant.y_m is None:
        return None
    return plant.x_m, plant.y_m


def site_plan(site: Site) -> SitePlan:
    """Return the plan of a site; one that nobody described is not saved."""
    found = SitePlan.objects.filter(site=site).first()
    return found or SitePlan(site=site)


def axes_at(site: Site, plan: SitePlan) -> PlanAxes:
    """Return how the plan lies on the earth; without its own origin, at the site's."""
    return axes_of(plan) or PlanAxes(
        site.latitude_deg, site.longitude_deg, plan.up_bearing_deg
    )


@dataclass
class OnPlan:
    """The rows of one site's plan; living and wanted trees in walking order."""

    site: Site
    plan: SitePlan
    corners: list[Corner]
    features: list[Feature]
    trees: list[Tree]
    wanted: list[WantedTree]
    neighbours: list[NeighbourTree] = field(default_factory=list)

    @property
    def axes(self) -> PlanAxes:
        """How it lies on the earth."""
        return axes_at(self.site, self.plan)

    @property
    def plants(self) -> Sequence[Plant]:
        """The trees that stand, then those that are wanted."""
        return [*self.trees, *self.wanted]

    @property
    def corner_places(self) -> dict[str, Point]:
        """The places of the corners by name [m]."""
        return {corner.name: (corner.x_m, corner.y_m) for corner in self.corners}

    @cached_property
    def boundary_m(self) -> list[Point] | None:
        """The outline of the garden [m], if it is drawn."""
        for feature in self.features:
            if feature.kind == Feature.Kind.BOUNDARY:
                return points_of(feature)
        return None

    @cached_property
    def garden_m(self) -> Point | None:
        """The middle of the garden: of its boundary, else of what stands in it [m]."""
        if self.boundary_m:
            return middle_of(self.boundary_m)
        places = [place for plant in self.plants if (place := place_of(plant))]
        return middle_of(places) if places else None

    def others(self, *but: Plant) -> list[Neighbour]:
        """Return the plants with a place, without some and those they stand in for."""
        keys = {key_of(plant) for plant in but}
        keys |= {
            f"tree-{plant.replaces_id}"
            for plant in but
            if isinstance(plant, WantedTree) and plant.replaces_id
        }
        return [
            Neighbour(plant.name, place)
            for plant in self.plants
            if key_of(plant) not in keys and (place := place_of(plant))
        ]


def key_of(plant: Plant) -> str:
    """Return what tells a plant of one plan from every other."""
    kind = "tree" if isinstance(plant, Tree) else "wanted"
    return f"{kind}-{plant.pk}"


def points_of(feature: Feature) -> list[Point]:
    """Return the points of a feature [m]."""
    return [(float(x), float(y)) for x, y in feature.points_m]


def on_plan(site: Site) -> OnPlan:
    """Return what stands on a site's plan, in a constant number of queries."""
    trees = site.trees.filter(status=Tree.Status.ALIVE).select_related("block")
    wanted = WantedTree.objects.filter(
        planting__site=site, planting__is_put_away=False, tree=None
    ).select_related("planting")
    return OnPlan(
        site=site,
        plan=site_plan(site),
        corners=list(site.corners.all()),
        features=list(site.features.all()),
        trees=list(trees.order_by("block__position", "block_id", "position", "id")),
        wanted=list(wanted.order_by("planting_id", "id")),
        neighbours=list(site.neighbour_trees.all()),
    )
