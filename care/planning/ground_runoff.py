"""Heavy rain that runs off the open ground of each plant, by its soil and its floor.

The watered place has a rim of earth and keeps its rain: only the ground beyond it
loses any. Soil is taken as usually moist; days of rain before are not counted.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from care.facts import Array, Flags
from care.planning.futures import Whole
from care.planning.root_zones import Plant
from care.science.runoff import Cover, curve_number, soil_group, storm_runoff

COVERS = {"grass": Cover.GOOD, "mulch": Cover.GOOD, "bare": Cover.POOR}  # ours


@dataclass(frozen=True, slots=True)
class GroundRunoff:
    """Runoff of each day of the record on each kind of ground there is [mm]."""

    by_ground_mm: Array  # (days, grounds)
    ground: Whole  # (plants,): the column of each plant's ground
    has_any: Flags  # (days,)

    def on(self, picks: Whole | int) -> Array | float:
        """Return the runoff of the picked days; shapes broadcast as for forcing."""
        if not self.has_any[picks].any():
            return 0.0
        return np.asarray(self.by_ground_mm[picks, self.ground])


def plant_curve_number(plant: Plant) -> float:
    """Return the curve number of the open ground about a plant [-]."""
    cover = COVERS.get(plant.chief.floor, Cover.POOR)
    return curve_number(soil_group(plant.texture_key), cover)


def lay_out_runoff(plants: Sequence[Plant], storm_mm: Array) -> GroundRunoff:
    """Return what runs off each plant's ground on every day of the record.

    Parameters
    ----------
    plants : sequence of Plant
    storm_mm : array (days,)
        Rain of each day; days of which only the usual is known have none.

    Returns
    -------
    GroundRunoff
        Source: USDA-SCS (1986), TR-55, curve numbers.
    """
    numbers, ground = np.unique(
        [plant_curve_number(plant) for plant in plants], return_inverse=True
    )
    runoff = storm_runoff(storm_mm[:, None], numbers).runoff_mm
    return GroundRunoff(runoff, ground.reshape(-1), np.asarray(runoff.any(axis=1)))
