"""How wide a crown is guessed to be."""

from datetime import timedelta

import pytest

from care.planning.sizes import crown_width_m
from tests.care.planning.water_cases import new_apple, old_apple


@pytest.mark.parametrize(
    ("rootstock", "share"), [("", 1), ("X99", 1), ("M.9", 12 / 25), ("MM.106", 18 / 25)]
)
def test_a_tree_grows_to_the_width_of_its_rootstock(rootstock, share):
    # The apple of these cases grows 4 m wide.
    tree = new_apple(crown_width_m=None, rootstock=rootstock)
    grown_on = tree.planted_on + timedelta(days=4000)
    assert crown_width_m(tree, grown_on) == (pytest.approx(4 * share), False)
    old = old_apple(crown_width_m=None, rootstock=rootstock)
    assert crown_width_m(old, grown_on) == (pytest.approx(4 * share), False)
    measured = new_apple(crown_width_m=3.0, rootstock=rootstock)
    assert crown_width_m(measured, grown_on) == (3.0, True)
