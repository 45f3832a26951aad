"""Finding kinds and cultivars by what was typed, near spellings too."""

from dataclasses import replace

import pytest

from orchard.catalogue import find_species
from orchard.catalogue.search import Names, catalogue_names
from orchard.catalogue.species import species_catalogue


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("persimon", "asian_persimmon"),
        ("blubery", "blueberry_highbush"),
        ("malus domestca", "apple"),
        ("passionfrut", "passion_fruit"),
        ("Fj\N{LATIN SMALL LETTER O WITH DIAERESIS}a seloviana", "feijoa"),
    ],
)
def test_a_name_spelt_nearly_so_finds_its_kind_first(text, key):
    assert find_species(text)[0].key == key


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        ("Anna", ["apple_anna"]),
        ("tropic sweet", ["apple_tropicsweet"]),
        ("bramley", ["apple_bramleys_seedling"]),
        ("goldn delicius", ["apple_golden_delicious"]),
        ("western", ["pecan_western"]),
        ("", []),
        ("zzzzqq", []),
    ],
)
def test_cultivars_are_found_by_name(text, keys):
    found = catalogue_names().find_cultivars(text)
    assert [cultivar.key for cultivar in found] == keys


def test_of_two_kinds_of_one_name_the_orchards_own_is_meant():
    apple = species_catalogue()["apple"]
    mine = replace(apple, key="own-apple")
    names = Names({"apple": apple, "own-apple": mine}, ())
    assert names.named("apples") is mine
    both = {"own-a": mine, "own-b": replace(mine, key="own-b")}
    assert Names(both, ()).named("apple") is None
