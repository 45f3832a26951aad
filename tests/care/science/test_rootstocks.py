"""Sizes on rootstocks against what is published, and how people spell their names."""

import pytest
from hypothesis import given, strategies as st

from care.science.rootstocks import (
    ROOTSTOCKS,
    Held,
    Size,
    find_rootstock,
    grown_height_m,
    grown_spread_m,
    rootstocks_of,
)
from orchard.catalogue.species import species_catalogue
from tests.care.rules.cases import species

FT_M = 0.3048
APPLE = species("apple", mature_height_m=6.0, mature_spread_m=5.0)


@pytest.mark.parametrize(
    ("typed", "kind", "name"),
    [
        *((typed, "apple", "M.9") for typed in ("M9", "m 9", "M.9 EMLA", "EMLA 9")),
        *((typed, "apple", "MM.106") for typed in ("MM106", "M.106", "mm 106")),
        ("on M26 rootstock", "apple", "M.26"),
        ("gisela 5", "sweet_cherry", "Gisela 5"),
        ("GiSelA5", "sour_cherry", "Gisela 5"),
        ("Quince A", "pear", "Quince A"),
        ("OH\N{MULTIPLICATION SIGN}F 87", "asian_pear", "OHxF 87"),
        ("Citrange", "orange", "Citrange"),
        ("Carrizo", "lemon", "Citrange"),
        ("flying dragon", "mandarin_satsuma", "Flying Dragon"),
        ("St Julien A", "apricot", "St. Julien A"),
        ("semi dwarf", "peach", "Semi-dwarf"),
        ("Dwarf", "mango", "Dwarf"),
        ("own roots", "fig", "Own roots"),
    ],
)
def test_a_name_is_known_however_it_is_written(typed, kind, name):
    found = find_rootstock(typed, kind)
    assert found is not None
    assert found.name == name


@pytest.mark.parametrize(
    ("typed", "kind"),
    [
        *((typed, "apple") for typed in ("", "  ", "rootstock", "X99", "Quince A")),
        ("M.9", "pear"),
    ],
)
def test_what_is_not_known_here_counts_as_a_full_tree(typed, kind):
    assert find_rootstock(typed, kind) is None
    assert grown_spread_m(APPLE, "X99") == 5.0
    assert grown_height_m(APPLE, "X99") == 6.0


def test_a_kind_of_unknown_size_stays_unknown():
    kind = species("apple", mature_height_m=None, mature_spread_m=None)
    assert grown_spread_m(kind, "M.9") is None
    assert grown_height_m(kind, "M.9") is None


# University of Arizona, Master Gardener manual: apples 25 ft apart as standard trees,
# 18 ft as semi-dwarf, 12 ft as dwarf ones.
@pytest.mark.parametrize(
    ("label", "feet"), [("standard", 25), ("semi-dwarf", 18), ("dwarf", 12)]
)
def test_spacing_follows_the_size_as_in_arizona(label, feet):
    standard = species("apple", mature_spread_m=25 * FT_M)
    assert grown_spread_m(standard, label) == pytest.approx(feet * FT_M)


def test_apples_are_spaced_within_oregons_span():
    # Oregon State University EC 819: apples 5 to 40 ft apart, by their rootstock; the
    # full tree here is the 30 ft of apples.extension.org.
    full = species("apple", mature_spread_m=30 * FT_M)
    feet = [grown_spread_m(full, each.name) / FT_M for each in rootstocks_of("apple")]
    assert min(feet) >= 5
    assert max(feet) <= 40
    assert max(feet) / min(feet) > 3


# Royal Horticultural Society, Rootstocks for fruit: height of a bush [m].
@pytest.mark.parametrize(
    ("name", "low_m", "high_m"),
    [("M27", 1.2, 1.8), ("M9", 1.8, 2.4), ("M26", 2.4, 3.0)],
)
def test_heights_are_those_of_bushes_in_the_same_garden(name, low_m, high_m):
    found = find_rootstock(name, "apple")
    full_m = species_catalogue()["apple"].mature_height_m
    assert found.low * full_m == pytest.approx(low_m)
    assert found.high * full_m == pytest.approx(high_m)
    assert grown_height_m(APPLE, name) == pytest.approx(high_m)


# apples.extension.org: share of a tree on seedling roots.
@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        ("M.7", 0.60, 0.70),
        ("MM.111", 0.85, 1.0),
        ("G.214", 0.30, 0.35),
        ("G.210", 0.60, 0.65),
        ("Seedling", 1.0, 1.0),
    ],
)
def test_shares_are_those_of_extension(name, low, high):
    found = find_rootstock(name, "apple")
    assert (found.low, found.high) == (low, high)


def test_dwarf_apples_lie_within_extensions_class():
    # apples.extension.org: dwarfing stocks give 25 to 60 % of a seedling's tree.
    dwarf = [each for each in rootstocks_of("apple") if each.size is Size.DWARF]
    assert len(dwarf) > 4
    assert all(0.25 <= each.low <= each.high <= 0.60 for each in dwarf)


# University of Arizona, Master Gardener manual: M.9 yes, M.26 maybe, M.7 may, others
# no; apples.extension.org: every dwarfing one.
@pytest.mark.parametrize(
    ("name", "held"),
    [
        ("M.9", Held.YES),
        ("M.26", Held.MAYBE),
        ("M.7", Held.MAYBE),
        ("MM.106", Held.NO),
        ("MM.111", Held.NO),
        ("M.27", Held.YES),
        ("B.9", Held.YES),
    ],
)
def test_who_is_held_up_for_good(name, held):
    assert find_rootstock(name, "apple").held is held


@given(stock=st.sampled_from(ROOTSTOCKS))
def test_a_smaller_size_is_never_the_larger_tree(stock):
    assert 0 < stock.low <= stock.high <= 1
    assert all(kind in species_catalogue() for kind in stock.kinds)
    for other in ROOTSTOCKS:
        if set(other.kinds) == set(stock.kinds) and other.size.value < stock.size.value:
            assert other.low <= stock.high


def test_no_two_stocks_of_a_kind_share_a_name():
    for kind in ("apple", "pear", "sweet_cherry", "apricot", "orange"):
        for stock in rootstocks_of(kind):
            assert find_rootstock(stock.name, kind) is stock
            assert all(find_rootstock(one, kind) is stock for one in stock.aliases)


def test_sizes_have_the_trades_words():
    assert Size.VERY_DWARF.words == "very dwarf"
    assert Size.SEMI_DWARF.words == "semi-dwarf"


def test_a_width_names_who_says_so():
    assert [size.source for size in Size] == [
        "rhs_rootstocks",
        "az_rootstocks",
        "az_rootstocks",
        "",
        "az_rootstocks",
    ]
