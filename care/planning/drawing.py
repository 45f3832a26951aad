"""What a drawing of a site's plan shows at a time: numbered plants with their size."""

from dataclasses import dataclass
from datetime import date

from care.facts import LayoutFacts, PlantFacts, PlanTime, Standing
from care.science.crown_growth import size_at


@dataclass(frozen=True, slots=True)
class DrawnPlant:
    """A plant with its number on the drawing and its size at that time [m].

    ``grown_m`` is how wide it grows, so that drawings of all times show one cut-out.
    ``is_to_come`` tells that it does not stand there yet.
    """

    number: int
    plant: PlantFacts
    width_m: float
    height_m: float
    grown_m: float
    is_to_come: bool


@dataclass(frozen=True, slots=True)
class Drawing:
    """A plan at one time; ``unplaced`` are ours and wanted ones without a place."""

    time: PlanTime
    layout: LayoutFacts
    plants: tuple[DrawnPlant, ...]
    unplaced: tuple[PlantFacts, ...]

    @property
    def is_empty(self) -> bool:
        """Whether nothing has a place on the plan yet."""
        return not self.plants and not self.layout.features


def drawing_of(layout: LayoutFacts, time: PlanTime, today: date) -> Drawing:
    """Return the drawing of a layout at a time, plants numbered in the layout's order."""
    placed = [plant for plant in layout.plants if plant.place_m is not None]
    return Drawing(
        time=time,
        layout=layout,
        plants=tuple(
            _drawn(number, plant, time, today)
            for number, plant in enumerate(placed, start=1)
        ),
        unplaced=tuple(
            plant
            for plant in layout.plants
            if plant.place_m is None and plant.standing is not Standing.NEIGHBOUR
        ),
    )


def _drawn(number: int, plant: PlantFacts, time: PlanTime, today: date) -> DrawnPlant:
    size = size_at(plant, time, today)
    return DrawnPlant(
        number=number,
        plant=plant,
        width_m=size.width_m,
        height_m=size.height_m,
        grown_m=size_at(plant, PlanTime.GROWN, today).width_m,
        is_to_come=_is_to_come(plant, today),
    )


def _is_to_come(plant: PlantFacts, today: date) -> bool:
    is_planned = plant.planted_on is not None and plant.planted_on > today
    return is_planned or plant.standing is Standing.WANTED
