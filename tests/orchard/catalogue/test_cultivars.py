import csv
import shutil

import pytest

from orchard.catalogue import Basis, CatalogueError, species_catalogue
from orchard.catalogue.cultivars import (
    CULTIVAR_PROVENANCE_FILE,
    CULTIVARS_FILE,
    cultivar_catalogue,
    load_cultivars,
)
from orchard.catalogue.names import cultivar_names, fold_cultivar
from orchard.catalogue.species import FOLDER

SPECIES = frozenset(species_catalogue())


@pytest.fixture
def folder(tmp_path):
    """A copy of the tables of cultivars, to be broken."""
    for name in (CULTIVARS_FILE, CULTIVAR_PROVENANCE_FILE):
        shutil.copy(FOLDER / name, tmp_path / name)
    return tmp_path


def rewrite(path, change):
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    change(rows)
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows(rows)


def set_cell(folder, key, column, value):
    """Write a figure and its origin; return the line of the table it stands on."""
    lines = []

    def in_table(rows):
        lines.append(next(n for n, row in enumerate(rows, 1) if row[0] == key))
        rows[lines[0] - 1][rows[0].index(column)] = value

    def in_origins(rows):
        rows[:] = [row for row in rows if row[:2] != [key, column]]
        if value and column not in {"key", "species_key", "name"}:
            rows.append([key, column, value, "memory", "", "", ""])

    rewrite(folder / CULTIVARS_FILE, in_table)
    rewrite(folder / CULTIVAR_PROVENANCE_FILE, in_origins)
    return lines[0]


def test_every_figure_of_every_cultivar_has_its_origin():
    catalogue = cultivar_catalogue()
    assert len(catalogue) == 67
    for key, cultivar in catalogue.items():
        assert cultivar.key == key
        assert cultivar.species_key in SPECIES
        for name in cultivar.provenance:
            figure = cultivar.figure(name)
            assert figure.value not in {None, "", ()}
            assert (figure.basis is Basis.MEMORY) == (not figure.address)
            assert (name in cultivar.unverified) == (figure.basis is Basis.MEMORY)


@pytest.mark.parametrize(
    ("key", "name", "value", "basis"),
    [
        # Florida Foundation Seed Producers: 'TropicSweet' needs about 250 h.
        ("apple_tropicsweet", "chill_hours_max", 250, Basis.READ),
        # US plant patent 14,764, 'UFSun': 100 to 150 chill units, 80 to 85 days.
        ("peach_ufsun", "chill_hours_min", 100, Basis.READ),
        ("peach_ufsun", "days_bloom_to_harvest", 83, Basis.READ),
        # UC Cooperative Extension, chill portions: almond 'Nonpareil' 23, walnut
        # 'Chandler' 45, pistachio 'Kerman' 54 and its male 'Peters' 60 to 65.
        ("almond_nonpareil", "chill_portions", 23, Basis.READ),
        ("walnut_chandler", "chill_portions", 45, Basis.READ),
        ("pistachio_kerman", "chill_portions", 54, Basis.READ),
        ("pistachio_peters", "chill_portions", 65, Basis.READ),
        # A general site that relays UF/IFAS figures.
        ("apple_anna", "chill_hours_min", 200, Basis.READ_SECONDARY),
        # The species' figure (UC Cooperative Extension, Tehama) stands in for its own.
        ("persimmon_fuyu", "chill_hours_max", 200, Basis.PROXY),
        ("apple_gala", "chill_hours_min", 500, Basis.MEMORY),
        ("apple_jonagold", "is_pollen_sterile", "yes", Basis.MEMORY),
    ],
)
def test_figures_keep_how_far_they_can_be_trusted(key, name, value, basis):
    figure = cultivar_catalogue()[key].figure(name)
    assert (figure.value, figure.basis) == (value, basis)


BROKEN = [
    ("apple_gala", "species_key", "weed", "'weed' is no species"),
    ("apple_gala", "species_key", "", "is empty"),
    ("apple_fuji", "key", "apple_gala", "'apple_gala' appears twice"),
    ("apple_gala", "name", "", "is empty"),
    ("apple_honeycrisp", "name", "gala's", "'Gala' appears twice"),
    ("apple_gala", "chill_hours_min", "some", "is not a number"),
    ("apple_gala", "chill_hours_min", "-1", "outside 0 to 2000"),
    ("apple_gala", "chill_hours_min", "500.5", "not a whole number"),
    ("apple_gala", "chill_hours_min", "700", "is above chill_hours_max 600"),
    ("apple_gala", "chill_portions", "151", "outside 0 to 150"),
    ("apple_gala", "bloom", "5.5", "outside 1 to 5"),
    ("apple_gala", "bloom", "2.3", "not a whole or a half class"),
    ("apple_gala", "self_fruitful", "maybe", "not one of yes, partial, no"),
    ("apple_gala", "is_pollen_sterile", "triploid", "not one of yes, no"),
    ("kiwi_hayward", "sex", "hen", "not one of female, male, both"),
    ("avocado_hass", "flower_type", "C", "not one of A, B, I, II"),
    ("avocado_hass", "flower_type", "II", "II is not a type of this species"),
    ("apple_gala", "partners", "Fuji;Rosebud", "'Rosebud' has no row here"),
    ("apple_gala", "partners", "Fuji [outside]", "'Fuji' has a row"),
    ("apple_gala", "partners", "Fuji;fuji", "each once"),
    ("apple_gala", "partners", "Gala", "Gala is no partner of itself"),
    ("apple_gala", "not_partners", "Fuji", "names a partner as well"),
    ("apple_gala", "harvest_start_month", "13", "outside 1 to 12"),
    ("apple_gala", "harvest_end_month", "", "a first and a last month"),
    ("apple_gala", "days_bloom_to_harvest", "9", "outside 15 to 500"),
]


@pytest.mark.parametrize(("key", "column", "value", "message"), BROKEN)
def test_a_broken_row_is_refused_by_file_line_and_column(
    folder, key, column, value, message
):
    line = set_cell(folder, key, column, value)
    with pytest.raises(CatalogueError, match=message) as caught:
        load_cultivars(folder, SPECIES)
    error = caught.value
    assert error.file == CULTIVARS_FILE
    assert error.line == line
    assert error.column == ("harvest_start_month" if "first and" in message else column)


def test_a_figure_needs_an_origin_and_an_origin_a_figure(folder):
    origins = folder / CULTIVAR_PROVENANCE_FILE
    kept = origins.read_text(encoding="utf-8")
    rewrite(origins, lambda rows: rows.pop(1))
    with pytest.raises(CatalogueError, match=CULTIVAR_PROVENANCE_FILE) as caught:
        load_cultivars(folder, SPECIES)
    assert (caught.value.file, caught.value.line) == (CULTIVARS_FILE, 2)
    assert caught.value.column == "chill_hours_min"
    origins.write_text(kept + "apple_gala,sex,male,memory,,,\n", encoding="utf-8")
    with pytest.raises(CatalogueError, match="no figure of the cultivar table"):
        load_cultivars(folder, SPECIES)


def test_a_table_never_holds_an_orchards_own_figure(folder):
    def change(rows):
        rows[1][3] = "own"

    rewrite(folder / CULTIVAR_PROVENANCE_FILE, change)
    with pytest.raises(CatalogueError, match="figures of an orchard") as caught:
        load_cultivars(folder, SPECIES)
    assert (caught.value.line, caught.value.column) == (2, "basis")


def test_an_empty_table_is_refused(folder):
    for name in (CULTIVARS_FILE, CULTIVAR_PROVENANCE_FILE):
        rewrite(folder / name, lambda rows: rows.__delitem__(slice(1, None)))
    with pytest.raises(CatalogueError, match="holds no cultivars"):
        load_cultivars(folder, SPECIES)


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("bramleys  seedling", "Bramley's Seedling"),
        ("BRAMLEY\N{RIGHT SINGLE QUOTATION MARK}S SEEDLINGS", "Bramley's Seedling"),
        ("'Tropic Sweet'", "TropicSweet"),
        ("T\N{LATIN SMALL LETTER U WITH DIAERESIS}pi", "tupi"),
    ],
)
def test_spelling_of_a_cultivar_does_not_matter(written, name):
    assert fold_cultivar(written) == fold_cultivar(name)


def test_what_stands_in_brackets_may_be_left_out():
    assert fold_cultivar("western") in cultivar_names("Western (Schley)")
    assert fold_cultivar("Western Schley") in cultivar_names("Western (Schley)")
