"""Cold: what a cover goes with, and which pots need two people or each other."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from care.facts import Mulch, Place, Stay
from care.rules.cold import propose
from tests.care.rules.cases import minima, morning, orange, species, tree

TODAY = date(2014, 11, 12)
CHIPS = Mulch("wood_chips", 75.0, date(2014, 4, 1))
YOUNG = date(2013, 4, 1)


def potted(kind, litres):
    stays = (Stay(Place.OUTDOORS, date(2014, 6, 1)),)
    return tree(kind, in_container=True, container_litres=litres, stays=stays)


@pytest.mark.parametrize(
    ("its_tree", "wind_ms", "is_pulled"),
    [
        # LSU AgCenter: pull mulch back from young citrus before a frost of a calm night
        (tree(orange(), planted_on=YOUNG, mulch=CHIPS), 1.0, True),
        (tree(orange(), planted_on=YOUNG, mulch=CHIPS), 6.0, False),
        (tree(orange(), planted_on=YOUNG), 1.0, False),
        (tree(orange(), mulch=CHIPS), 1.0, False),
        (tree(orange(), planted_on=YOUNG, mulch=CHIPS, height_m=5.0), 1.0, False),
    ],
)
def test_mulch_is_drawn_from_young_citrus_on_moist_ground_too(
    its_tree, wind_ms, is_pulled
):
    weather = minima(TODAY, [-4.0, -4.0])
    weather = replace(weather, wind_ms=np.full(2, wind_ms))
    (task,) = propose(morning(TODAY, its_tree, weather=weather))
    assert ("mulch_back_before_frost" in task.cautions) is is_pulled
    assert ("lsu_citrus_freeze" in task.sources) is is_pulled


@pytest.mark.parametrize(("litres", "people"), [(12.0, 1), (15.0, 2), (None, 2)])
def test_a_pot_past_one_persons_limit_is_lifted_by_two(litres, people):
    # NIOSH lifting equation for a load as wide as the pot; a pot of 13 L meets it.
    (task,) = propose(
        morning(TODAY, potted(orange(), litres), weather=minima(TODAY, [0.0]))
    )
    assert ("two_people_lift" in task.cautions) is (people == 2)


@pytest.mark.parametrize(("low_c", "is_asked"), [(0.0, True), (0.1, False)])
def test_pots_huddle_on_freezing_nights_alone(low_c, is_asked):
    # The alarm rings from -0.8 degC; 1.7 above it pots are put together
    hardy = potted(species(move_in_temp_c=-2.5), 40.0)
    found = propose(morning(TODAY, hardy, weather=minima(TODAY, [low_c])))
    assert [task.action for task in found] == (["group"] if is_asked else [])
