"""The catalogue's water figures against the rows of FAO-56 they name."""

import pytest

from orchard.catalogue import Basis, species_catalogue
from tests.care.science.reference import reference_rows

TABLE = {row["crop"]: row for row in reference_rows("fao56_trees.csv")}
FIGURES = {
    "kc_ini": "kc_ini",
    "kc_mid": "kc_mid",
    "kc_end": "kc_end",
    "root_depth_m": "root_low_m",  # the smaller, for scheduling: Table 22, footnote 1
    "root_depth_max_m": "root_high_m",
    "depletion_p": "depletion_p",
}
STATED, BORROWED = "FAO-56: ", "proxy: "
CATALOGUE = species_catalogue()


def row_of(species):
    name = species.kc_source.removeprefix(STATED).removeprefix(BORROWED)
    return TABLE[name.partition(" (proxy")[0]]


@pytest.mark.parametrize("key", sorted(CATALOGUE))
def test_a_species_has_the_figures_of_the_row_it_names(key):
    species = CATALOGUE[key]
    row = row_of(species)
    found = {name: getattr(species, name) for name in FIGURES}
    assert found == {name: float(row[column]) for name, column in FIGURES.items()}


@pytest.mark.parametrize("key", sorted(CATALOGUE))
def test_only_a_species_with_its_own_row_claims_to_be_read(key):
    species = CATALOGUE[key]
    basis = species.provenance["kc_mid"].basis
    is_own = species.kc_source.startswith(STATED)
    assert is_own or species.kc_source.startswith(BORROWED)
    assert (basis is Basis.READ) == is_own


def test_fruits_that_fao_56_has_no_row_for_say_that_theirs_is_borrowed():
    unlisted = ["mango", "fig", "asian_persimmon", "pomegranate", "guava", "lychee"]
    unlisted += ["papaya", "loquat", "jujube", "mulberry"]
    assert all(CATALOGUE[key].kc_source.startswith(BORROWED) for key in unlisted)


@pytest.mark.parametrize(
    "crop", [crop for crop, row in TABLE.items() if row["kcb_mid"]]
)
def test_a_row_gives_the_ground_a_tenth_at_most(crop):
    # p. 184: a single coefficient is the basal one and .05 to .10 of evaporation;
    # citrus over grass, whose cover is in both, has none.
    row = TABLE[crop]
    ground = float(row["kc_mid"]) - float(row["kcb_mid"])
    assert -1e-9 <= ground <= 0.10 + 1e-9


@pytest.mark.parametrize("crop", TABLE)
def test_ranges_of_a_row_are_in_order(crop):
    row = TABLE[crop]
    for low, high in (("height_low_m", "height_high_m"), ("root_low_m", "root_high_m")):
        assert 0 < float(row[low]) <= float(row[high])
    assert 0.1 <= float(row["depletion_p"]) <= 0.8
