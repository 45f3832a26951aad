"""Partners by the catalogue's own figures: the vectors of the sources, well-known pairs.

Pairs are those that the catalogue's rows name with their sources: Hayward and Matua
(University of California, Auburn), Kerman and Peters (University of California),
Bartlett not with Seckel (from memory), the triploids' "two others" (from memory).
"""

import pytest

from care.facts import LayoutFacts
from care.planning.kinds import Kinds
from care.planning.partners import Refusal, Verdict, partners_of
from care.planning.species_facts import species_facts
from orchard.catalogue.of_orchard import bare_catalogue
from tests.care.science.pollination_cases import plant

CATALOGUE = bare_catalogue()
KINDS = Kinds(tuple(map(species_facts, CATALOGUE.species)), CATALOGUE)


def trees(*kinds):
    """Return trees of (kind, cultivar), three metres apart in a row."""
    return tuple(
        plant(
            f"ours-{number}",
            key,
            KINDS.cultivar(key, name),
            (3.0 * number, 0.0),
            cultivar_name=name,
        )
        for number, (key, name) in enumerate(kinds)
    )


def rows(*kinds):
    return partners_of(LayoutFacts(46.0, 0.0, trees(*kinds), ()), KINDS)


def of(key, *names):
    return [(key, name) for name in names]


@pytest.mark.parametrize(
    ("kinds", "verdict"),
    [
        # The four vectors of the sources' chapter on pollination.
        (of("apple", "Gala"), Verdict.LACKS),
        (of("apple", "Gala", "Gala"), Verdict.LACKS),
        (of("peach", "Redhaven"), Verdict.ALONE),
        (of("blueberry_rabbiteye", "Brightwell", "Climax"), Verdict.PARTNERED),
        # Named pairs, and what the catalogue calls self-fruitful.
        (of("apple", "Anna", "dorsett golden"), Verdict.PARTNERED),
        (of("kiwifruit", "Hayward", "Matua"), Verdict.PARTNERED),
        (of("kiwifruit", "Hayward", "Hayward"), Verdict.LACKS),
        (of("pistachio", "Kerman", "Peters"), Verdict.PARTNERED),
        (of("avocado", "Hass", "Fuerte"), Verdict.HELPED),
        (of("pecan", "Western", "Wichita"), Verdict.HELPED),
        (of("pecan", "Wichita", "Burkett"), Verdict.SETS_ALONE),
        (of("japanese_plum", "Methley"), Verdict.ALONE),
        (of("european_plum", "Stanley"), Verdict.ALONE),
        (of("pear", "Bartlett", "Bosc"), Verdict.HELPED),
        (of("pear", "Bartlett", "Seckel"), Verdict.SETS_ALONE),
        # Triploids of the catalogue.
        (of("apple", "Bramley's Seedling", "Gala"), Verdict.LACKS_SECOND),
        (of("apple", "Bramley's Seedling", "Gala", "Fuji"), Verdict.PARTNERED),
        (of("apple", "Bramley's Seedling", "Gala", "Jonagold"), Verdict.LACKS_SECOND),
        (of("apple", "Gala", "Jonagold"), Verdict.LACKS),
    ],
)
def test_the_first_of_some_trees_fares_as_is_well_known(kinds, verdict):
    assert rows(*kinds)[0].verdict is verdict


def test_early_and_late_apples_do_not_meet():
    anna, _ = rows(("apple", "Anna"), ("apple", "Granny Smith"))
    assert anna.pollination.others[0].why is Refusal.BLOOM_APART
    named = {"Dorsett Golden", "TropicSweet", "Ein Shemer"}
    assert set(anna.suggestions[:3]) == named


def test_european_and_japanese_plums_do_not_count_for_each_other():
    first, _ = rows(("japanese_plum", "Byrongold"), ("european_plum", "Stanley"))
    assert first.verdict is Verdict.LACKS
    assert first.pollination.others[0].why is Refusal.KINDS_DO_NOT_CROSS


@pytest.mark.parametrize("cultivar", ["Gala", "Anna", "Bramley's Seedling", "Fuji"])
def test_whatever_is_suggested_would_do(cultivar):
    (row,) = rows(("apple", cultivar))
    assert row.suggestions
    for name in row.suggestions:
        after = rows(("apple", cultivar), ("apple", name))[0]
        assert after.verdict in {Verdict.PARTNERED, Verdict.LACKS_SECOND}


def test_every_kind_alone_gets_a_verdict():
    for species in KINDS.all_species:
        (row,) = rows((species.key, "Some cultivar"))
        assert row.verdict in Verdict
        assert row.partner == ""
