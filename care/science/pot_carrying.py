"""Carrying a pot: what it weighs wet, and how many people it takes."""

from enum import StrEnum

from care.science.container_water import pot_diameter_m
from care.science.potting import ONE_PERSON_KG, wet_weight_kg

# Pot and plant add about a sixth to the wet medium; ours, from guesses at pots of
# plastic, and clay ones are heavier still.
POT_AND_PLANT_SHARE = 1 / 6

# NIOSH lifting equation: Waters, Putz-Anderson and Garg (1994), publication 94-110.
NEAREST_CM = 25.0  # hands in front of the ankles; nearer counts as this
BODY_TO_LOAD_CM = 20.0  # its first guess is this and half the load's width
HANDS_CM = 30.0  # from the ground, under the rim of a pot; ours
WAIST_CM = 75.0
FAIR_GRIP = 0.95  # no handles, fingers bent under; its coupling table
# Health and Safety Executive (2016), L23: two together two thirds of what each bears.
TWO_TOGETHER = 2 * 2 / 3


class Carried(StrEnum):
    """How many people a pot takes, and whether they may lift it at all."""

    ONE = "one"
    TWO = "two"
    DOLLY = "dolly"


def carried_kg(litres: float, medium: str) -> float:
    """Return what a watered pot weighs with its plant [kg]; likely, not measured.

    Parameters
    ----------
    litres : float
        The pot's volume.
    medium : str
        What is in it; ``mix`` unless it names soil.
    """
    return (1 + POT_AND_PLANT_SHARE) * wet_weight_kg(litres, medium)


def one_person_limit_kg(litres: float) -> float:
    """Return what one person should lift off the ground, as wide as that pot [kg].

    Parameters
    ----------
    litres : float
        The pot's volume, for its width.

    Returns
    -------
    float
        23 kg at most, less the wider the pot holds its weight from the body. Lifted
        straight ahead, now and then, to the height of the waist.
        Source: NIOSH lifting equation, metric (Waters et al. 1994).
    """
    width_cm = 100 * pot_diameter_m(litres)
    away_cm = max(BODY_TO_LOAD_CM + width_cm / 2, NEAREST_CM)
    rise_cm = WAIST_CM - HANDS_CM
    horizontal = NEAREST_CM / away_cm
    vertical = 1 - 0.003 * abs(HANDS_CM - WAIST_CM)
    distance = 0.82 + 4.5 / rise_cm
    return ONE_PERSON_KG * horizontal * vertical * distance * FAIR_GRIP


def carried_by(litres: float | None, medium: str) -> Carried:
    """Return how a pot is carried; one of unknown size by two.

    One person within the equation's limit for a load so wide; two lift together what
    two thirds of twice 23 kg come to; what is heavier goes on a dolly.
    """
    if litres is None:
        return Carried.TWO
    weight_kg = carried_kg(litres, medium)
    if weight_kg <= one_person_limit_kg(litres):
        return Carried.ONE
    is_for_two = weight_kg <= TWO_TOGETHER * ONE_PERSON_KG
    return Carried.TWO if is_for_two else Carried.DOLLY
