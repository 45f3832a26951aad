from collections import Counter

import pytest
from django.utils import translation

from orchard.catalogue import find_species, species_catalogue, species_named
from orchard.catalogue.common_names import FILES, kind_name, names_in
from orchard.catalogue.names import fold


@pytest.mark.parametrize("language", FILES)
def test_every_kind_of_the_catalogue_has_a_name(language):
    assert set(names_in(language)) == set(species_catalogue())


@pytest.mark.parametrize("language", FILES)
def test_no_two_kinds_are_shown_under_one_name(language):
    shown = Counter(fold(names.name) for names in names_in(language).values())
    assert [name for name, number in shown.items() if number > 1] == []


@pytest.mark.parametrize("language", FILES)
def test_what_a_form_shows_is_read_back_as_the_same_kind(language):
    with translation.override(language):
        for species in species_catalogue().values():
            found = species_named(species.shown_name)
            assert found is not None, species.shown_name
            assert found.key == species.key


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        *(("manzana", "apple"), ("Melocotonero", "peach"), ("durazno", "peach")),
        *(("NISPERO", "loquat"), ("higos", "fig"), ("apple", "apple")),
    ],
)
def test_a_kind_is_found_by_its_names_in_either_language(typed, key):
    for language in ("en", "es"):
        with translation.override(language):
            assert find_species(typed)[0].key == key


def test_the_reader_sees_the_name_of_their_language():
    fig = species_catalogue()["fig"]
    with translation.override("es"):
        assert fig.shown_name == "Higuera"
    with translation.override("es-mx"):
        assert fig.shown_name == "Higuera"
    with translation.override("en"):
        assert fig.shown_name == "Fig"


def test_a_kind_of_an_orchards_own_keeps_the_name_it_was_given():
    with translation.override("es"):
        assert kind_name("own-medlar", "Medlar") == "Medlar"
