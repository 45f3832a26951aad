"""How much a tree may bear, against published bearing ages, bushels and pickers."""

import csv
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, strategies as st

from care.planning.species_facts import species_facts
from care.science.yields import (
    NOVICE_KG_PER_HOUR,
    age_share,
    crown_share,
    expected_crop,
    learned_yield,
)
from tests.care.rules.cases import species, tree

TODAY = date(2014, 6, 1)
POUND_KG = 0.45359237
DATA = Path(__file__).parent / "data"
POTTED = {"in_container": True, "crown_width_m": 2.5}
APPLE = species(mature_spread_m=5.0, yield_mature_kg=87.0)


def rows(name):
    lines = (DATA / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


BEARING = rows("bearing_ages.csv")
YIELDS = rows("orchard_yields.csv")


@pytest.mark.parametrize("row", BEARING, ids=lambda row: row["species"])
def test_the_catalogues_first_crop_lies_in_the_published_spread(row):
    years = species_facts(row["species"]).years_to_first_crop
    assert float(row["years_from"]) <= years <= float(row["years_to"])


@pytest.mark.parametrize("row", YIELDS, ids=lambda row: row["species"])
def test_the_catalogues_yield_lies_in_the_spread_it_adopted(row):
    kg = species_facts(row["species"]).yield_mature_kg
    least = float(row["units_from"]) * float(row["lb_per_unit_from"]) * POUND_KG
    most = float(row["units_to"]) * float(row["lb_per_unit_to"]) * POUND_KG
    # The catalogue rounds to whole kilograms.
    assert (least - 0.5 <= kg <= most + 0.5) is (row["adopted"] == "yes")


def test_bushels_in_pounds():
    # Arizona Master Gardener Manual: 8 bushels a standard apple tree, 4 a peach
    by_species = {row["species"]: row for row in YIELDS}
    apple, peach = by_species["apple"], by_species["peach"]
    assert [8 * float(apple[f"lb_per_unit_{end}"]) for end in ("from", "to")] == [
        336.0,
        384.0,
    ]
    assert [4 * float(peach[f"lb_per_unit_{end}"]) for end in ("from", "to")] == [
        176.0,
        208.0,
    ]


def test_pickers_and_novices():
    # Oregon State University Bulletin 420: 1,386 lb of apples and 1,808 lb of Bartlett
    # pears a picker's day of eight hours
    apple, pear = (POUND_KG * pounds / 8 for pounds in (1386.0, 1808.0))
    for least, most in ((apple / 3, apple / 2), (pear / 3, pear / 2)):
        assert least < NOVICE_KG_PER_HOUR < most


def test_yield_goes_with_the_ground_the_crown_covers():
    assert crown_share(tree(APPLE, crown_width_m=2.5)) == pytest.approx(0.25)
    assert crown_share(tree(APPLE, crown_width_m=9.0)) == 1.0
    assert crown_share(tree(APPLE, crown_width_m=None)) is None
    assert crown_share(tree(species(mature_spread_m=None))) is None


@pytest.mark.parametrize(
    ("years", "share"), [(2, 0.0), (3, 0.0), (4, 1 / 6), (6, 0.5), (9, 1.0), (30, 1.0)]
)
def test_without_a_crown_the_years_decide(years, share):
    planted = date(2014 - years, 6, 1)
    old = tree(APPLE, planted_on=planted, crown_width_m=None)
    assert age_share(old, TODAY) == pytest.approx(share, abs=0.001)
    expected = expected_crop(old, TODAY)
    assert expected.basis == "age"
    assert expected.most_kg == pytest.approx(share * 87.0, abs=0.1)


@pytest.mark.parametrize(
    "changes",
    [
        {"species": species(years_to_first_crop=None, yield_mature_kg=87.0)},
        {"planted_on": None},
        {"in_container": True},
    ],
)
def test_nothing_is_expected_where_neither_crown_nor_years_tell(changes):
    unknown = tree(**{"species": APPLE, "crown_width_m": None, **changes})
    assert age_share(unknown, TODAY) is None
    assert expected_crop(unknown, TODAY) is None


def test_a_kind_without_a_figure_has_no_yield():
    assert expected_crop(tree(species(yield_mature_kg=None)), TODAY) is None


def test_a_pot_may_bear_a_third_of_what_its_crown_would():
    ground = expected_crop(tree(APPLE, crown_width_m=2.5), TODAY)
    pot = expected_crop(tree(APPLE, **POTTED), TODAY)
    assert ground.least_kg == ground.most_kg == pytest.approx(87 / 4)
    assert (pot.least_kg, pot.most_kg) == (pytest.approx(87 / 12), ground.most_kg)


@given(st.floats(0.1, 8.0), st.floats(0.1, 8.0))
def test_a_wider_crown_never_bears_less(width_m, other_m):
    narrow, wide = sorted((width_m, other_m))
    less = expected_crop(tree(APPLE, crown_width_m=narrow), TODAY)
    more = expected_crop(tree(APPLE, crown_width_m=wide), TODAY)
    assert less.most_kg <= more.most_kg <= 87.0


def test_own_pickings_correct_what_is_expected_within_bounds():
    assert learned_yield(20.0, []) == 1.0
    assert learned_yield(0.0, [5.0]) == 1.0
    assert learned_yield(20.0, [14.0, 18.0]) == pytest.approx(0.8)
    # The last three of four: (20 + 30 + 40) / 3 over 20
    assert learned_yield(20.0, [900.0, 20.0, 30.0, 40.0]) == pytest.approx(1.5)


@given(st.floats(0.1, 500), st.lists(st.floats(0.01, 2000), max_size=6))
def test_no_pickings_however_odd_run_away_with_the_yield(expected, crops):
    assert 0.5 <= learned_yield(expected, crops) <= 2.0
