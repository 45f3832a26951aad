"""Points as people write them, one a line."""

import pytest

from orchard.plans.point_text import read_point, read_points
from orchard.plans.problems import PlanError
from orchard.units import UnitSystem

METRIC, US = UnitSystem.METRIC, UnitSystem.US
CORNERS = {"A": (0.0, 0.0), "B": (5.0, 0.0), "Shed, left": (1.0, 9.0)}


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("A", (0, 0)),
        ("b", (5, 0)),
        ("shed, LEFT", (1, 9)),
        ("3, 4.5", (3, 4.5)),
        ("3,4.5", (3, 4.5)),
        ("3 4.5", (3, 4.5)),
        ("3,5; 4,5", (3.5, 4.5)),
        ("3,5, 4,5", (3.5, 4.5)),
        ("3,5 4,5", (3.5, 4.5)),
        ("3 m, 450 cm", (3, 4.5)),
        ("10 ft, 5'3\"", (3.048, 63 * 0.0254)),
        ("-1, 2", (-1, 2)),
        ("3 from A, 4 from B", (1.8, 2.4)),
        ("3 from A; 4 from B; right", (1.8, -2.4)),
        ("3 from a, 4 from b, left", (1.8, 2.4)),
        ("3 m  from A, 400 cm from B", (1.8, 2.4)),
        ("3 de A, 4 de B, izquierda", (1.8, 2.4)),
        ("3,0 de A; 4,0 de B; derecha", (1.8, -2.4)),
    ],
)
def test_a_line(text, place):
    assert read_point(text, CORNERS, METRIC) == pytest.approx(place)


def test_bare_numbers_are_in_the_reader_s_units_and_the_garden_says_the_side():
    assert read_point("10, 20", {}, US) == pytest.approx((3.048, 6.096))
    below = read_point("3 from A, 4 from B", CORNERS, METRIC, (9.0, -9.0))
    assert below == pytest.approx((1.8, -2.4))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "Write a corner's name"),
        ("x" * 200, "Write a corner's name"),
        ("by the shed", "“by the shed” is no point"),
        ("3", "“3” is no point"),
        ("1, 2, 3", "is no point|is not a number"),
        ("3 from A", "write two, from two corners"),
        ("3 from A, left", "write two, from two corners"),
        ("3 from A, 4 from C", "“4 from C”: write it as 5.1 from A"),
        ("3 from A, 4", "“4”: write it as"),
        ("lots from A, 4 from B", "lots"),
        ("-3 from A, 4 from B", "no negative length"),
        ("1 from A, 1 from B", "cannot meet"),
        ("{x} from A, 4 from B", "{x}"),
    ],
)
def test_what_is_no_point_is_told(text, words):
    with pytest.raises(PlanError, match=words):
        read_point(text, CORNERS, METRIC)


def test_lines_are_counted_as_they_stand():
    assert read_points("A\n\nB\n 1, 2 \n", CORNERS, METRIC) == [(0, 0), (5, 0), (1, 2)]
    with pytest.raises(PlanError, match="Line 3: “nowhere” is no point"):
        read_points("A\n\nnowhere\nB", CORNERS, METRIC)
