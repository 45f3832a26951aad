import csv
import shutil

import pytest
from hypothesis import given, settings, strategies as st

from orchard.catalogue import (
    CATALOGUE_VERSION,
    Basis,
    CatalogueError,
    find_species,
    load_species,
    species_catalogue,
    species_named,
)
from orchard.catalogue.species import FOLDER, PROVENANCE_FILE, SPECIES_FILE

CITRUS = {"orange", "lemon", "lime", "grapefruit", "mandarin_satsuma", "kumquat"}


@pytest.fixture
def folder(tmp_path):
    """A copy of the catalogue's files, to be broken."""
    for name in (SPECIES_FILE, PROVENANCE_FILE):
        shutil.copy(FOLDER / name, tmp_path / name)
    return tmp_path


def rewrite(path, change):
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    change(rows)
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows(rows)


def set_cell(folder, key, column, value, *, with_origin=True):
    def in_table(rows):
        row = next(row for row in rows if row[0] == key)
        row[rows[0].index(column)] = value

    def in_origins(rows):
        row = next(row for row in rows if row[:2] == [key, column])
        row[2] = value

    rewrite(folder / SPECIES_FILE, in_table)
    if with_origin:
        rewrite(folder / PROVENANCE_FILE, in_origins)


def test_the_catalogue_has_every_common_kind_and_a_version():
    catalogue = species_catalogue()
    assert len(catalogue) == 71
    assert set(catalogue) > CITRUS
    assert CATALOGUE_VERSION >= 1
    assert all(key == species.key for key, species in catalogue.items())


def test_the_catalogue_is_read_once_and_cannot_be_changed():
    catalogue = species_catalogue()
    assert species_catalogue() is catalogue
    with pytest.raises(TypeError):
        catalogue["weed"] = catalogue["apple"]


@pytest.mark.parametrize(
    ("key", "field", "value"),
    [
        # Allen et al. (1998), FAO-56, table 12: apples, cherries, pears, no ground
        # cover, killing frost 0.45 0.95 0.70; citrus, no ground cover, 70 % canopy
        # 0.70 0.65 0.70; stone fruit 0.45 0.90 0.65.
        ("apple", "kc_ini", 0.45),
        ("apple", "kc_mid", 0.95),
        ("apple", "kc_end", 0.70),
        ("orange", "kc_ini", 0.70),
        ("orange", "kc_mid", 0.65),
        ("orange", "kc_end", 0.70),
        ("peach", "kc_mid", 0.90),
        ("peach", "kc_end", 0.65),
        # FAO-56, table 22: depletion fraction p of apples 0.50, citrus 0.50,
        # bananas 0.35; least root depth of apples 1.0 m, grapes 1.0 m.
        ("apple", "depletion_p", 0.50),
        ("orange", "depletion_p", 0.50),
        ("banana", "depletion_p", 0.35),
        ("apple", "root_depth_m", 1.0),
        ("grape", "root_depth_m", 1.0),
    ],
)
def test_water_figures_are_those_of_fao_56(key, field, value):
    figure = species_catalogue()[key].figure(field)
    assert figure.value == pytest.approx(value)
    assert figure.basis is Basis.READ
    assert figure.source == "fao56"
    assert figure.address.startswith("https://www.fao.org/")


def test_a_remembered_figure_is_marked_unverified():
    apple = species_catalogue()["apple"]
    figure = apple.figure("move_in_temp_c")
    assert figure.basis is Basis.MEMORY
    assert (figure.source, figure.address) == ("", "")
    assert apple.is_unverified("move_in_temp_c")
    assert not apple.is_unverified("kc_mid")
    assert "move_in_temp_c" in apple.unverified
    assert "kc_mid" not in apple.unverified


def test_a_borrowed_figure_names_the_crop_it_is_borrowed_from():
    figure = species_catalogue()["mango"].figure("kc_mid")
    assert figure.basis is Basis.PROXY
    assert "citrus" in figure.note


def test_no_cold_alarm_rests_on_a_killing_temperature_of_ecocrop_alone():
    walnut = species_catalogue()["walnut"]
    assert walnut.figure("damage_temp_mature_c").source == "ecocrop"
    assert walnut.is_unverified("damage_temp_mature_c")
    assert not walnut.is_unverified("ph_min")


def test_every_figure_says_where_it_comes_from():
    for species in species_catalogue().values():
        assert len(species.provenance) >= 38
        for name in species.provenance:
            figure = species.figure(name)
            assert figure.value not in {None, ""}
            assert (figure.basis is Basis.MEMORY) == (not figure.address)


def test_a_figure_that_is_not_known_is_none_and_has_no_origin():
    elderberry = species_catalogue()["elderberry"]
    assert elderberry.chill_hours_min is None
    with pytest.raises(KeyError):
        elderberry.figure("chill_hours_min")


def test_months_are_tuples_and_windows_may_wrap():
    catalogue = species_catalogue()
    assert catalogue["apple"].prune_months == (1, 2, 3)
    orange = catalogue["orange"]
    assert orange.harvest_start_month > orange.harvest_end_month


BROKEN = [
    ("kc_mid", "much", "is not a number"),
    ("kc_mid", "nan", "is not a number"),
    ("kc_mid", "9.5", "outside 0.25 to 1.3"),
    ("chill_hours_min", "-5", "outside 0 to 2000"),
    ("chill_hours_min", "250.5", "not a whole number"),
    ("chill_hours_min", "1200", "is above chill_hours_max 1000"),
    ("spacing_min_m", "9", "is above spacing_typical_m 4.6"),
    ("root_depth_m", "2.5", "is above root_depth_max_m 2.0"),
    ("ph_min", "7.5", "is above ph_max 7.0"),
    ("nitrogen_first_year_g", "250", "is above nitrogen_mature_g 200"),
    ("bloom_start_month", "13", "outside 1 to 12"),
    ("bloom_start_month", "0", "outside 1 to 12"),
    ("prune_months", "1;2;14", "months 1 to 12"),
    ("prune_months", "2;2", "each once"),
    ("prune_months", "winter", "months 1 to 12"),
    ("habit", "bush", "'bush' is not one of tree, shrub, vine, herb"),
    ("leaf", "bare", "not one of"),
    ("self_fruitful", "maybe", "not one of"),
    ("feed_group", "roses", "not one of"),
    ("container_ok", "great", "not one of"),
    ("prune_system", "topiary", "not one of"),
    ("usda_zone_min", "14", "not a hardiness zone"),
    ("usda_zone_min", "9b", "is above 9"),
]


@pytest.mark.parametrize(("column", "value", "message"), BROKEN)
def test_a_broken_figure_is_refused_by_file_line_and_column(
    folder, column, value, message
):
    set_cell(folder, "apple", column, value)
    with pytest.raises(CatalogueError, match=message) as caught:
        load_species(folder)
    assert (caught.value.file, caught.value.line) == (SPECIES_FILE, 2)
    assert caught.value.column == column
    assert f"{SPECIES_FILE}, line 2, {column}" in str(caught.value)


@pytest.mark.parametrize(
    "column", ["common_name", "botanical_name", "kc_source", "kc_mid", "habit"]
)
def test_a_required_cell_may_not_be_empty(folder, column):
    set_cell(folder, "apple", column, "", with_origin=False)
    with pytest.raises(CatalogueError, match="is empty") as caught:
        load_species(folder)
    assert caught.value.column == column


def test_the_young_tree_is_never_hardier_than_the_mature_one(folder):
    set_cell(folder, "mango", "damage_temp_young_c", "-9")
    with pytest.raises(CatalogueError, match="is above damage_temp_young_c"):
        load_species(folder)


def test_a_species_may_not_appear_twice(folder):
    rewrite(folder / SPECIES_FILE, lambda rows: rows.append(rows[1]))
    with pytest.raises(CatalogueError, match="'apple' appears twice") as caught:
        load_species(folder)
    assert caught.value.line == 73


def test_a_figure_without_origin_is_refused(folder):
    rewrite(folder / PROVENANCE_FILE, lambda rows: rows.pop(2))
    with pytest.raises(
        CatalogueError, match=f"has no row in {PROVENANCE_FILE}"
    ) as caught:
        load_species(folder)
    assert caught.value.column == "kc_mid"


def test_an_origin_of_another_value_is_refused(folder):
    set_cell(folder, "apple", "kc_mid", "0.90", with_origin=False)
    with pytest.raises(
        CatalogueError, match=r"'0\.95', but the table says '0\.90'"
    ) as caught:
        load_species(folder)
    assert (caught.value.file, caught.value.line) == (PROVENANCE_FILE, 3)


@pytest.mark.parametrize(
    ("position", "value", "column", "message"),
    [
        (3, "rumour", "basis", "not one of read, read_secondary, proxy, memory"),
        (4, "", "source", "is empty"),
        (5, "", "address", "is empty"),
        (0, "", "key", "is empty"),
    ],
)
def test_a_broken_origin_is_refused(folder, position, value, column, message):
    def change(rows):
        rows[2][position] = value

    rewrite(folder / PROVENANCE_FILE, change)
    with pytest.raises(CatalogueError, match=message) as caught:
        load_species(folder)
    assert (caught.value.file, caught.value.line) == (PROVENANCE_FILE, 3)
    assert caught.value.column == column


def test_an_origin_of_no_figure_is_refused(folder):
    row = ["unicorn", "kc_mid", "1", "memory", "", "", ""]
    rewrite(folder / PROVENANCE_FILE, lambda rows: rows.append(row))
    with pytest.raises(CatalogueError, match="belongs to no figure"):
        load_species(folder)


def test_an_origin_may_not_appear_twice(folder):
    rewrite(folder / PROVENANCE_FILE, lambda rows: rows.append(rows[1]))
    with pytest.raises(CatalogueError, match="apple kc_ini appears twice"):
        load_species(folder)


def test_a_row_of_another_length_is_refused(folder):
    rewrite(folder / SPECIES_FILE, lambda rows: rows[3].pop())
    with pytest.raises(CatalogueError, match="line 4, whole row: has 47 cells, not 48"):
        load_species(folder)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (lambda rows: rows[0].__setitem__(3, "clan"), "family: this column is missing"),
        (lambda rows: rows[0].append("extra"), "extra: this column is not expected"),
        (lambda rows: rows.clear(), "this column is missing"),
    ],
)
def test_other_columns_are_refused(folder, change, message):
    rewrite(folder / SPECIES_FILE, change)
    with pytest.raises(CatalogueError, match=message):
        load_species(folder)


def test_an_empty_table_is_refused(folder):
    rewrite(folder / SPECIES_FILE, lambda rows: rows.__delitem__(slice(1, None)))
    rewrite(folder / PROVENANCE_FILE, lambda rows: rows.__delitem__(slice(1, None)))
    with pytest.raises(CatalogueError, match="holds no species"):
        load_species(folder)


def test_a_missing_or_unreadable_file_is_refused(folder):
    (folder / SPECIES_FILE).write_bytes(b"\xff\xfe\x00")
    with pytest.raises(CatalogueError, match="cannot be read"):
        load_species(folder)
    (folder / SPECIES_FILE).unlink()
    with pytest.raises(CatalogueError, match="cannot be read"):
        load_species(folder)


def test_an_open_quotation_mark_is_refused(folder):
    text = (folder / SPECIES_FILE).read_text(encoding="utf-8")
    (folder / SPECIES_FILE).write_text(text + '"date', encoding="utf-8")
    with pytest.raises(CatalogueError, match="unexpected end of data"):
        load_species(folder)


@given(st.binary(max_size=300))
@settings(max_examples=60)
def test_any_bytes_are_refused_with_the_catalogues_own_error(tmp_path_factory, data):
    folder = tmp_path_factory.mktemp("catalogue")
    shutil.copy(FOLDER / PROVENANCE_FILE, folder / PROVENANCE_FILE)
    (folder / SPECIES_FILE).write_bytes(data)
    with pytest.raises(CatalogueError):
        load_species(folder)


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("apple", "apple"),
        ("  APPLES ", "apple"),
        ("Malus   domestica", "apple"),
        ("asian_pear", "asian_pear"),
        ("pear", "pear"),
        ("satsuma", "mandarin_satsuma"),
        ("Lime", "lime"),
        ("Citrus \N{MULTIPLICATION SIGN} sinensis", "orange"),
        ("citrus sinensis", "orange"),
        ("Surinam cherries", "surinam_cherry"),
        ("gooseberry", "currant"),
    ],
)
def test_a_whole_name_finds_its_species_first(text, key):
    assert species_named(text).key == key
    assert find_species(text)[0].key == key


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        ("plum", ["european_plum", "japanese_plum"]),
        ("kiwi", ["kiwifruit", "hardy_kiwi"]),
        ("appel", ["apple"]),
        ("fejoa", ["feijoa"]),
        ("early red peach", ["peach"]),
        ("zzzz", []),
        ("", []),
        (" x ", []),
    ],
)
def test_half_a_name_is_only_a_suggestion(text, keys):
    assert [species.key for species in find_species(text)] == keys
    assert species_named(text) is None


def test_an_exact_name_comes_before_names_that_contain_it():
    assert [s.key for s in find_species("apple")] == ["apple", "sugar_apple"]


@given(st.text(max_size=200))
@settings(max_examples=100)
def test_any_text_can_be_looked_up(text):
    found = find_species(text)
    assert len({species.key for species in found}) == len(found)
    named = species_named(text)
    assert named is None or named == found[0]
