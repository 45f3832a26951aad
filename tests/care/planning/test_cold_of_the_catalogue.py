"""The catalogue's cold figures against published ranges of tender fruit plants."""

import pytest

from care.planning.species_facts import species_facts
from care.science.cold_limits import Limit
from care.science.frost import fahrenheit_to_c, must_protect
from tests.care.rules.cases import MILD
from tests.care.science.reference import reference_rows

ROWS = reference_rows("tender_damage_f.csv")
AGES = {"young": "damage_temp_young_c", "grown": "damage_temp_mature_c"}
PRINTED = [(row, age) for row in ROWS for age in AGES if row[f"{age}_warm_f"]]


def alarm_c(row, age):
    """From which minimum the alarm rings, doubt about the figure included."""
    species, field = species_facts(row["species"]), AGES[age]
    figure_c = getattr(species, field)
    limit = Limit(figure_c, field, "", is_unverified=field in species.unverified)
    return limit.alarm_c(MILD.frost_margin_c)


def name(value):
    return value if isinstance(value, str) else value["species"]


@pytest.mark.parametrize(("row", "age"), PRINTED, ids=name)
def test_the_alarm_rings_before_injury_begins(row, age):
    # Injury begins at the warm end of the range; one avocado stands for all races, the
    # hardiest of which bears 18 degF and the least hardy 30
    warm_f = {"avocado": 29.0}.get(row["species"], float(row[f"{age}_warm_f"]))
    assert must_protect(fahrenheit_to_c(warm_f), alarm_c(row, age), 0.0)


@pytest.mark.parametrize(("row", "age"), PRINTED, ids=name)
def test_no_figure_lies_far_above_the_printed_range(row, age):
    figure_c = getattr(species_facts(row["species"]), AGES[age])
    assert figure_c <= fahrenheit_to_c(float(row[f"{age}_warm_f"])) + 4.0


def test_a_tender_pot_comes_in_before_its_top_is_hurt():
    for row in ROWS:
        species = species_facts(row["species"])
        assert species.move_in_temp_c > species.damage_temp_young_c
