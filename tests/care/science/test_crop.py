"""One year's fruit: bloom seen or guessed, ripening, bearing, thinning distances."""

import csv
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import MonthDay, Observation, Span, Stage, StageDay
from care.science.crop import (
    PER_CLUSTER,
    RIPENING_DAYS,
    SPACING_MM,
    THINNED_AT_ELSE_MM,
    THINNED_AT_MM,
    bloom_of,
    bloom_window,
    crops_near,
    guessed_bloom,
    harvest_months,
    is_bearing,
    is_known_cultivar,
    ripening_days,
)
from tests.care.rules.cases import (
    MILD,
    SHORT,
    WARM,
    WARM_SOUTH,
    morning,
    orange,
    species,
    tree,
)

TODAY = date(2014, 6, 1)
INCH_MM = 25.4
DATA = Path(__file__).parent / "data" / "ripening_days.csv"
LINES = DATA.read_text(encoding="utf-8").splitlines()
CULTIVARS = list(csv.DictReader(line for line in LINES if line[0] != "#"))


def seen(word, on):
    return Observation(1, "bloom_stage", on, word=word)


@given(crop=st.integers(1990, 2060), start=st.integers(1, 12), length=st.integers(0, 3))
@settings(max_examples=60)
def test_a_guessed_bloom_mirrors_by_half_a_year(crop, start, length):
    kind = species(bloom=Span(start, (start + length - 1) % 12 + 1))
    north = guessed_bloom(crop, kind, WARM)
    south = guessed_bloom(crop, kind, WARM_SOUTH)
    assert abs((south - north).days - 182.6) <= 4  # months differ in length


def test_a_late_frost_holds_bare_trees_back_and_no_evergreens():
    peach = species("peach", bloom=Span(2, 4))
    assert guessed_bloom(2014, peach, WARM) == date(2014, 3, 17)
    # Central Pennsylvania: peaches bloom in the second half of April (from memory)
    assert guessed_bloom(2014, peach, SHORT) == date(2014, 4, 21)
    assert guessed_bloom(2014, orange(bloom=Span(2, 4)), SHORT) == date(2014, 3, 17)
    late = replace(SHORT, last_frost=MonthDay(6, 10))
    assert guessed_bloom(2014, peach, late) == date(2014, 4, 30)


def test_no_single_crop_without_months_or_with_bloom_all_year():
    assert bloom_window(2014, species(bloom=None), MILD) is None
    assert guessed_bloom(2014, species(bloom=Span(1, 12)), MILD) is None
    assert bloom_of(morning(TODAY, tree(species(bloom=None))), 2014) is None


def test_the_first_bloom_that_was_seen_counts():
    readings = (
        seen("first_pink", date(2014, 4, 1)),
        seen("full_bloom", date(2014, 4, 12)),
        seen("post_bloom", date(2014, 4, 22)),
    )
    bloom = bloom_of(morning(TODAY, observations=readings), 2014)
    assert (bloom.full_on, bloom.is_seen) == (date(2014, 4, 12), True)
    fall = bloom_of(morning(TODAY, observations=readings[2:]), 2014)
    assert fall.full_on == date(2014, 4, 15)


def test_last_years_bloom_says_nothing_of_this_years_crop():
    readings = (seen("full_bloom", date(2013, 4, 12)),)
    bloom = bloom_of(morning(TODAY, observations=readings), 2014)
    assert not bloom.is_seen
    assert bloom.full_on.year == 2014


def test_a_modelled_bloom_goes_before_the_months_and_after_what_was_seen():
    model = StageDay(Stage.FULL_BLOOM, 2014, date(2014, 4, 9), "heat")
    found = bloom_of(morning(TODAY, stages=(model,)), 2014)
    assert (found.full_on, found.is_seen) == (date(2014, 4, 9), False)
    readings = (seen("full_bloom", date(2014, 4, 12)),)
    found = bloom_of(morning(TODAY, stages=(model,), observations=readings), 2014)
    assert (found.full_on, found.is_seen) == (date(2014, 4, 12), True)


def test_crops_of_the_years_around_are_looked_at():
    assert crops_near(morning(TODAY)) == (2012, 2013, 2014, 2015)


@pytest.mark.parametrize(
    ("harvest", "ripe_on", "start", "end"),
    [
        (Span(7, 11), date(2014, 9, 17), date(2014, 7, 1), date(2014, 11, 30)),
        # Oranges of the spring of 2014 hang until June 2015
        (Span(11, 6), date(2014, 12, 26), date(2014, 11, 1), date(2015, 6, 30)),
        (Span(2, 6), date(2014, 5, 20), date(2014, 2, 1), date(2014, 6, 30)),
        (Span(2, 3), date(2014, 11, 20), date(2015, 2, 1), date(2015, 3, 31)),
    ],
)
def test_the_nearest_harvest_months_are_the_crops(harvest, ripe_on, start, end):
    window = harvest_months(species(harvest=harvest), WARM, ripe_on)
    assert (window.start, window.end) == (start, end)


def test_harvest_months_must_be_known():
    with pytest.raises(ValueError, match="no harvest months"):
        harvest_months(species(harvest=None), WARM, TODAY)


# Extension tables: Gala 110-120, Golden Delicious 135-150, Fuji 170-185 days; peach
# 70-150, sweet cherry 60-80 (from memory).
@pytest.mark.parametrize(
    ("key", "usual", "days"),
    [
        ("apple", 140, (110, 140, 185)),
        ("peach", 110, (70, 110, 150)),
        ("sweet_cherry", 65, (60, 65, 80)),
        ("sweet_cherry", 50, (50, 50, 80)),
        ("fig", 100, (85, 100, 115)),
    ],
)
def test_days_to_harvest_span_early_and_late_kinds(key, usual, days):
    assert ripening_days(species(key, days_bloom_to_harvest=usual)) == days


@pytest.mark.parametrize("row", CULTIVARS, ids=lambda row: row["cultivar"])
def test_early_and_late_cultivars_ripen_inside_the_span_of_their_kind(row):
    least, most = RIPENING_DAYS[row["species"]]
    assert least <= float(row["days_from"]) <= float(row["days_to"]) <= most


@pytest.mark.parametrize("row", CULTIVARS, ids=lambda row: row["cultivar"])
def test_a_cultivar_by_name_has_its_own_days(row):
    kind = species(row["species"], days_bloom_to_harvest=140)
    least, most = int(row["days_from"]), int(row["days_to"])
    for name in (row["cultivar"], f" '{row['cultivar'].upper()}' "):
        low, usual, high = ripening_days(kind, name)
        # Give or take ten days, as the tables say
        assert (low, high) == (least - 10, most + 10)
        assert least <= usual <= most
        assert is_known_cultivar(kind, name)
    assert not is_known_cultivar(species("pear"), row["cultivar"])


def test_a_cultivar_nobody_tabled_ripens_as_its_kind():
    kind = species(days_bloom_to_harvest=140)
    assert ripening_days(kind, "Egremont Russet") == ripening_days(kind)


def test_the_span_is_no_wider_than_its_cultivars():
    days = [float(row[end]) for row in CULTIVARS for end in ("days_from", "days_to")]
    assert RIPENING_DAYS["apple"] == (min(days), max(days))
    # From memory: mango 100-150, peach 70-150, cherry 60-80, plum 90-150 days
    assert RIPENING_DAYS["mango"] == (100, 150)
    assert RIPENING_DAYS["peach"] == (70, 150)
    assert RIPENING_DAYS["sweet_cherry"] == (60, 80)
    assert RIPENING_DAYS["european_plum"] == (90, 150)


def test_no_days_without_a_figure():
    assert ripening_days(species()) is None


@pytest.mark.parametrize(
    ("planted_on", "first", "bears"),
    [
        (date(2010, 6, 1), 4.0, True),
        (date(2010, 7, 1), 4.0, False),
        (date(2014, 3, 1), None, True),
        (None, 4.0, True),
    ],
)
def test_bearing_age(planted_on, first, bears):
    kind = species(years_to_first_crop=first)
    assert is_bearing(tree(kind, planted_on=planted_on), TODAY) is bears


# NC State Extension: 4-8 in for apple, peach and pear; UC Master Gardeners: 3-5 in
# (Santa Clara) or 6 in (Sacramento) for peach, 2-4 in for apricot and plum, one apple
# or one to two pears a cluster.
@pytest.mark.parametrize(
    ("key", "least_in", "most_in"),
    [("apple", 4, 8), ("pear", 4, 8), ("peach", 3, 8), ("apricot", 2, 4)],
)
def test_published_distances_between_fruit(key, least_in, most_in):
    usual, least, most = SPACING_MM[key]
    assert least == pytest.approx(least_in * INCH_MM, abs=4)
    assert most == pytest.approx(most_in * INCH_MM, abs=4)
    assert least < usual < most


def test_published_width_of_fruit_to_thin():
    # NC State Extension: a nickel, 21.2 mm; UC Master Gardeners: 1/2 to 1 in for apple
    # and pear (Santa Clara), 3/4 in for peach
    assert {0.5 * INCH_MM < mm < INCH_MM for mm in THINNED_AT_MM.values()} == {True}
    assert THINNED_AT_MM["apple"] == pytest.approx(21.2, abs=0.5)
    assert pytest.approx(0.75 * INCH_MM, abs=0.5) == THINNED_AT_ELSE_MM


def test_published_fruit_on_a_cluster():
    assert (PER_CLUSTER["apple"], PER_CLUSTER["pear"]) == (1, 2)


def test_a_bloom_window_may_wrap_over_new_year():
    loquat = species("loquat", bloom=Span(10, 2))
    window = bloom_window(2014, loquat, WARM)
    assert window.end - window.start < timedelta(days=152)
    assert (window.start, window.end) == (date(2014, 10, 1), date(2015, 2, 28))
