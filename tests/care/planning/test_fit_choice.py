"""Choosing among kinds: by name, habit and months, and what fills an empty month."""

import pytest

from care.facts import LayoutFacts, PlantFacts, Span, Standing
from care.facts.fit import KindFit, PlaceFit, Verdict
from care.planning.fit_choice import Wish, chosen, fruits_alone, ripe_months
from care.planning.fit_site import SiteFit
from care.planning.kinds import Kinds
from care.planning.ripening import ripening
from orchard.catalogue.of_orchard import bare_catalogue
from tests.care.science.fit_cases import SITE, SOUTH, cultivar, kind

CATALOGUE = bare_catalogue()


def tried(facts, own=None, ground=Verdict.GOOD, pot=Verdict.FAIR):
    return KindFit(facts, own, PlaceFit(ground, None, ()), PlaceFit(pot, None, ()))


APPLE = tried(kind("apple", self_fruitful="no", mature_height_m=6.0))
ANNA = tried(
    kind("apple", self_fruitful="no", mature_height_m=6.0),
    cultivar("Anna", self_fruitful="yes", harvest=Span(6, 7)),
)
LEMON = tried(kind("lemon", leaf="evergreen", self_fruitful="yes", mature_height_m=4.0))
PECAN = tried(
    kind("pecan", self_fruitful="partial", container_ok="poor", harvest=Span(11, 1))
)
ALL = [APPLE, ANNA, LEMON, PECAN]


@pytest.mark.parametrize(
    ("wish", "keys"),
    [
        (Wish(), ["apple", "apple_anna", "lemon", "pecan"]),
        (Wish(self_fruitful=True), ["apple_anna", "lemon"]),
        (Wish(evergreen=True), ["lemon"]),
        (Wish(small=True), ["lemon"]),
        (Wish(takes_pot=True), ["apple", "apple_anna", "lemon"]),
        (Wish(months=frozenset({12})), ["pecan"]),
        (Wish(months=frozenset({7, 1})), ["apple_anna", "pecan"]),
        (Wish(words=" ANNA "), ["apple_anna"]),
        (Wish(words="lemmon"), ["lemon"]),
        (Wish(words="zzzz"), []),
    ],
)
def test_wishes(wish, keys):
    found = chosen(ALL, wish, CATALOGUE.names, southern=False)
    assert [fit.key for fit in found] == keys


def test_months_are_local_and_a_cultivars_own():
    assert ripe_months(ANNA, southern=False) == {6, 7}
    assert ripe_months(ANNA, southern=True) == {12, 1}
    assert ripe_months(APPLE, southern=False) == {8, 9, 10}
    assert ripe_months(tried(kind(harvest=None)), southern=False) == frozenset()
    assert fruits_alone(tried(kind(self_fruitful=""))) == ""


def plant(facts, standing, name=""):
    return PlantFacts(f"{standing}-1", standing, "A", facts, cultivar_name=name)


def site_fit(site, *plants):
    layout = LayoutFacts(site.latitude_deg, 0.0, plants, ())
    return SiteFit(site, tuple(ALL), None, None, Kinds((), CATALOGUE), layout)


def test_what_ripens_when_and_what_would_fill_the_year():
    found = ripening(
        site_fit(
            SITE,
            plant(APPLE.species, Standing.OURS, "Gala"),
            plant(APPLE.species, Standing.WANTED),
            plant(LEMON.species, Standing.NEIGHBOUR),
        )
    )
    assert [one.month for one in found] == list(range(1, 13))
    august, july, january = found[7], found[6], found[0]
    assert (august.grows, august.wanted) == (("Apple Gala",), ("Apple",))
    assert august.would_fill == ()
    assert july.is_empty
    assert [each.fit.key for each in july.would_fill] == ["apple_anna"]
    assert [each.fit.key for each in january.would_fill] == ["pecan"]
    assert not found[3].would_fill


def test_the_year_runs_half_a_year_later_in_the_south():
    found = ripening(site_fit(SOUTH, plant(APPLE.species, Standing.OURS)))
    assert [one.month for one in found if one.grows] == [2, 3, 4]


def test_what_fits_in_a_pot_alone_comes_after_what_fits_the_ground():
    ground = tried(kind("fig"), ground=Verdict.FAIR)
    pot = tried(kind("lime"), ground=Verdict.NO, pot=Verdict.GOOD)
    no = tried(kind("cacao"), ground=Verdict.NO, pot=Verdict.POOR)
    layout = LayoutFacts(47.0, 0.0, (), ())
    found = ripening(
        SiteFit(SITE, (no, pot, ground), None, None, Kinds((), CATALOGUE), layout)
    )
    fill = found[8].would_fill
    assert [(each.fit.key, each.in_pot) for each in fill] == [
        ("fig", False),
        ("lime", True),
    ]
