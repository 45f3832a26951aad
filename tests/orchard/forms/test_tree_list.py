import re
import time
from datetime import date

import pytest
from hypothesis import given, settings, strategies as st

from orchard.catalogue import species_catalogue
from orchard.forms.tree_list import MAX_LINES, TreeRow, parse_tree_list
from orchard.units import UnitSystem

TODAY = date(2014, 7, 1)


def only_problem(text, **kwargs):
    found = parse_tree_list(text, TODAY, **kwargs)
    assert len(found.problems) == 1
    assert found.to_store == ()
    return str(found.problems[0])


def in_ground(name, key, planted_on):
    return TreeRow(
        name=name,
        species_key=key,
        in_container=False,
        container_litres=None,
        planted_on=planted_on,
    )


def test_a_list_with_headings_is_read():
    text = """Name, Species, Where, Planted
Old Tom, apple, ground, 1998-03-15

Corner, Malus domestica, in the ground, unknown
"""
    found = parse_tree_list(text, TODAY)
    assert found.problems == ()
    assert found.to_store == (
        in_ground("Old Tom", "apple", date(1998, 3, 15)),
        in_ground("Corner", "apple", None),
    )


@pytest.mark.parametrize(
    "line",
    [
        "Lemon 1, lemon, pot 60 L, 2014-03",
        "Lemon 1; LEMON ; container 60l; 2014-3",
        "Lemon 1\tlemons\tpot: 60\t2014-03-01",
        "Lemon 1,lemon,60 litre pot,2014-03,",
        "Lemon 1;lemon;tub 60,0 L;2014-03",
    ],
)
def test_a_pot_is_written_in_many_ways(line):
    assert parse_tree_list(line, TODAY).to_store == (
        TreeRow(
            name="Lemon 1",
            species_key="lemon",
            in_container=True,
            container_litres=60.0,
            planted_on=date(2014, 3, 1),
        ),
    )


def test_a_pot_in_gallons_is_converted():
    for line, system in (
        ("Fig, fig, pot 15 gal, 2014", UnitSystem.METRIC),
        ("Fig, fig, pot 15, 2014", UnitSystem.US),
    ):
        row = parse_tree_list(line, TODAY, system).to_store[0]
        # NIST SP 811 (from memory): 1 US gallon = 3.785412 L.
        assert row.container_litres == pytest.approx(15 * 3.785412, rel=1e-6)


@pytest.mark.parametrize(
    ("planted", "day"),
    [
        ("2014-06-30", date(2014, 6, 30)),
        ("2014-07-01", TODAY),
        ("2014-07", date(2014, 7, 1)),
        ("2014", date(2014, 1, 1)),
        ("unknown", None),
        ("?", None),
        ("", None),
    ],
)
def test_planting_may_be_a_day_a_month_a_year_or_unknown(planted, day):
    row = parse_tree_list(f"A, apple, ground, {planted}", TODAY).to_store[0]
    assert row.planted_on == day


def test_the_planting_date_may_be_left_out():
    assert parse_tree_list("A, apple, ground", TODAY).to_store[0].planted_on is None


@pytest.mark.parametrize(
    ("line", "message"),
    [
        (
            "A, plum, ground, 2010",
            "species: “plum” .*; write European plum or Japanese",
        ),
        ("A, appel, ground, 2010", "species: “appel” is not in the .*; write Apple$"),
        ("A, zzzz, ground, 2010", "species: “zzzz” is not in the catalogue; see"),
        ("A, , ground, 2010", "species: is missing; write one such as apple"),
        (", apple, ground, 2010", "name: is missing"),
        (
            "A, apple, pot 0 L, 2010",
            "place: a pot of 0 L holds no tree; write pot 60 L",
        ),
        ("A, apple, pot -5 L, 2010", "place: a pot of -5 L holds no tree"),
        ("A, apple, pot 6000 L, 2010", "place: a pot of 6000 L holds no tree"),
        ("A, apple, pot, 2010", "place: the pot's size is missing; write pot 60 L"),
        ("A, apple, pot large, 2010", "place: “large” is no pot size; write pot 60 L"),
        (
            "A, apple, roof, 2010",
            "place: “roof” is no place; write ground, or pot 60 L",
        ),
        ("A, apple, , 2010", "place: “” is no place"),
        (
            "A, apple, ground, 2017-07-02",
            "planted: 2017-07-02 is too far ahead to plan",
        ),
        ("A, apple, ground, 2031", "planted: 2031 is too far ahead to plan; today"),
        ("A, apple, ground, 31/12/2013", "planted: “31/12/2013” is no planting date"),
        ("A, apple, ground, 2014-02-30", "planted: “2014-02-30” is no planting date"),
        ("A, apple, ground, 1066", "planted: “1066” is no planting date"),
        ("A, apple", "Line 2: has 2 parts; write name, species, ground or pot"),
        ("A, apple, ground, 2010, x", "Line 2: has 5 parts; write name"),
        ("A" * 81 + ", apple, ground, 2010", "Line 2: is too long"),
        ("apple 1, apple, ground", "name: “apple 1” is on line 1 already"),
    ],
)
def test_a_mistake_is_named_with_its_line_and_what_to_type(line, message):
    found = only_problem(f"Apple 1, apple, ground, 2001\n{line}")
    assert found.startswith("Line 2")
    assert re.search(message, found)


def test_one_mistake_stores_nothing_but_shows_the_good_rows():
    found = parse_tree_list("A, apple, ground\nB, rose, ground\n", TODAY)
    assert [row.name for row in found.rows] == ["A"]
    assert found.to_store == ()


@pytest.mark.parametrize("text", ["", "\n \n", "name, species, where, planted\n"])
def test_an_empty_list_says_what_to_write(text):
    assert only_problem(text).startswith("The list is empty: write name, species")


@pytest.mark.parametrize("text", ["x\n" * (MAX_LINES + 1), "x" * 200_001])
def test_an_endless_list_is_refused(text):
    assert "too long" in only_problem(text)


def test_no_list_takes_long():
    start = time.perf_counter()
    spaces = "A, apple, a" + " " * 190_000 + "b"
    names = "\n".join(f"T{n}, {'qx' * 35}{n}, ground" for n in range(300))
    for text in (spaces, names):
        assert parse_tree_list(text, TODAY).problems
    assert time.perf_counter() - start < 5


PIECES = ["apple", "ground", "pot", "60 L", "2014", "-", ",", ";", "\t", "\n", "0"]


@given(
    st.one_of(
        st.text(max_size=200),
        st.lists(st.sampled_from(PIECES), max_size=60).map(" ".join),
    ),
    st.sampled_from(list(UnitSystem)),
)
@settings(max_examples=200)
def test_any_text_is_rows_or_problems(text, system):
    found = parse_tree_list(text, TODAY, system)
    assert found.rows or found.problems
    for row in found.rows:
        assert row.name
        assert row.species_key in species_catalogue()
        assert row.in_container == (row.container_litres is not None)
        assert row.planted_on is None or row.planted_on <= TODAY
