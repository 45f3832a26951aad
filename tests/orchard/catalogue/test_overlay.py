"""An orchard's own figures over a catalogue that changes under them."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, strategies as st

from orchard.catalogue import Basis, CatalogueError, species_catalogue
from orchard.catalogue.cultivars import CULTIVAR_FIGURES, cultivar_catalogue
from orchard.catalogue.figure_labels import BLOOM_WORDS, CHOICES, LABELS, bloom_words
from orchard.catalogue.overlay import (
    MADE_ROOM,
    SPECIES_FIGURES,
    Said,
    cells_of,
    check_cultivar,
    check_species,
    new_cultivar,
    species_like,
    with_own_cultivar,
    with_own_species,
)
from orchard.catalogue.species import FIGURES, LIMITS, ORDERED

APPLE = species_catalogue()["apple"]
ANNA = cultivar_catalogue()["apple_anna"]
NUMBERS = sorted(name for name in LIMITS if name in SPECIES_FIGURES)


def said(figure, value):
    return Said(figure, str(value), "Seen here", "Marta", date(2025, 5, 3))


@st.composite
def own_and_updates(draw):
    """Own figures within their limits, and the catalogue's after an update."""

    def number(name):
        low, high = LIMITS[name]
        whole = isinstance(getattr(APPLE, name), int)
        sort = st.integers(int(low), int(high)) if whole else st.floats(low, high)
        found = draw(sort)
        return found if whole else round(found, 2)

    names = draw(st.lists(st.sampled_from(NUMBERS), unique=True, max_size=5))
    own = {name: number(name) for name in names}
    updated = {name: number(name) for name in draw(st.sets(st.sampled_from(NUMBERS)))}
    return own, updated


@given(own_and_updates())
def test_an_update_of_the_catalogue_never_changes_an_own_figure(both):
    own, updated = both
    pairs = [pair for pair in ORDERED if set(pair) <= set(own)]
    for lower, upper in pairs:  # as they passed the checks when they were typed
        own[lower], own[upper] = sorted((own[lower], own[upper]))
    for lower, upper in ORDERED:  # as the table was checked when it was loaded
        values = [updated.get(each, getattr(APPLE, each)) for each in (lower, upper)]
        if None not in values:
            updated[lower], updated[upper] = sorted(values)
    newer = replace(APPLE, **updated)
    found = with_own_species(newer, [said(*each) for each in own.items()])
    for name, value in own.items():
        assert getattr(found, name) == value
        figure = found.figure(name)
        assert (figure.basis, figure.source) == (Basis.OWN, "Seen here")
        assert (figure.by, figure.on) == ("Marta", date(2025, 5, 3))
        assert not found.is_unverified(name)
    for lower, upper in ORDERED:
        least, most = getattr(found, lower), getattr(found, upper)
        assert None in {least, most} or least <= most
    moved = {name for name, o in found.provenance.items() if o.note == MADE_ROOM}
    for name in set(NUMBERS) - set(own) - moved:
        assert getattr(found, name) == getattr(newer, name)


def test_what_the_table_takes_no_more_is_left_out_and_the_rest_holds():
    found = with_own_species(
        APPLE, [said("kc_mid", 9), said("leaf", "blue"), said("ph_min", 5.5)]
    )
    assert (found.kc_mid, found.leaf, found.ph_min) == (0.95, APPLE.leaf, 5.5)
    assert found.figure("kc_mid").basis is Basis.READ
    zones = with_own_species(APPLE, [said("usda_zone_min", "10a")])
    assert (zones.usda_zone_min, zones.usda_zone_max) == ("10a", "10a")
    anna = with_own_cultivar(ANNA, [said("chill_hours_min", 350), said("bloom", 9)])
    assert (anna.chill_hours_min, anna.chill_hours_max, anna.bloom) == (350, 350, 1)


@pytest.mark.parametrize(
    ("figure", "value", "message"),
    [
        ("kc_mid", "much", "is not a number"),
        ("kc_mid", "9.5", "outside 0.25 to 1.3"),
        ("kc_mid", "", "is empty"),
        ("chill_hours_min", "250.5", "not a whole number"),
        ("chill_hours_min", "1200", "above chill_hours_max 1000"),
        ("bloom_start_month", "13", "outside 1 to 12"),
        ("prune_months", "1;14", "months 1 to 12"),
        ("usda_zone_min", "9b", "is above 9"),
        ("leaf", "blue", "not one of"),
        ("toxicity_note", "none at all", "no figure that can be changed"),
        ("botanical_name", "Malus nova", "no figure that can be changed"),
        ("wings", "2", "no figure that can be changed"),
    ],
)
def test_an_own_figure_passes_the_tables_own_checks(figure, value, message):
    with pytest.raises(CatalogueError, match=message) as caught:
        check_species(APPLE, [said(figure, value)])
    assert caught.value.column == figure


def test_own_figures_are_checked_beside_each_other():
    own = [said("chill_hours_min", 1100), said("chill_hours_max", 1200)]
    assert check_species(APPLE, own).chill_hours_min == 1100
    with pytest.raises(CatalogueError, match="is above"):
        check_species(APPLE, own[:1])
    with pytest.raises(CatalogueError, match="no partner of itself"):
        check_cultivar(ANNA, [said("partners", "anna")])
    assert check_cultivar(ANNA, [said("partners", "Crab")]).partners == ("Crab",)


def test_cells_are_written_as_in_the_table():
    for species in species_catalogue().values():
        again = with_own_species(species, [said("pup_notes", "none")])
        assert replace(again, pup_notes=species.pup_notes) == species
    for cultivar in cultivar_catalogue().values():
        assert cells_of(with_own_cultivar(cultivar, [])) == cells_of(cultivar)


def test_a_kind_like_another_borrows_and_says_so():
    medlar = species_like(APPLE, ("own-medlar", "Medlar", "Mespilus"), "A label")
    assert (medlar.key, medlar.common_name) == ("own-medlar", "Medlar")
    figure = medlar.figure("kc_mid")
    assert (figure.value, figure.basis) == (APPLE.kc_mid, Basis.PROXY)
    assert figure.note.startswith("as of Apple; FAO-56")
    assert medlar.figure("botanical_name").basis is Basis.OWN
    assert medlar.figure("botanical_name").source == "A label"
    assert medlar.unverified == APPLE.unverified - {"botanical_name"}


def test_a_cultivar_of_ones_own_is_checked_like_the_tables():
    values = {"chill_hours_min": "300", "sex": ""}
    found = new_cultivar("own-1", "apple", "Old Yard", values=values, source="Seen")
    assert found.figure("chill_hours_min").basis is Basis.OWN
    assert "sex" not in found.provenance
    for wrong in ({"chill_hours_min": "x"}, {"wings": "2"}, {"flower_type": "A"}):
        with pytest.raises(CatalogueError):
            new_cultivar("own-1", "apple", "Old Yard", values=wrong, source="Seen")


def test_every_figure_has_a_name_and_every_choice_its_words():
    assert set(LABELS) >= {*FIGURES, *CULTIVAR_FIGURES}
    for name, words in CHOICES.items():
        for row in (*species_catalogue().values(), *cultivar_catalogue().values()):
            value = getattr(row, name, None)
            assert value is None or value in words
    assert bloom_words(1.5) == "very early to early"
    assert [bloom_words(each) for each in BLOOM_WORDS] == list(BLOOM_WORDS.values())
