"""Who pollinates whom, said so that somebody knows what to do."""

import pytest

from care.facts import CultivarFacts, LayoutFacts
from care.planning.partners import partners_of
from care.views.partner_words import (
    kind_words,
    other_words,
    partner_words,
    reach_words,
)
from orchard.units import UnitSystem
from tests.care.planning.test_partners import Known
from tests.care.science.pollination_cases import ANNA, BRAMLEY, FUJI, GALA, plant

METRIC, US = UnitSystem.METRIC, UnitSystem.US


def rows(*plants):
    return partners_of(LayoutFacts(46.0, 0.0, plants, ()), Known())


def said(*plants, units=METRIC):
    return partner_words(rows(*plants)[0], units)


def at(x_m, ref="ours-2", cultivar=FUJI, **more):
    return plant(ref, cultivar=cultivar, at=(x_m, 0.0), **more)


GALA_TREE = plant("ours-1", cultivar=GALA)


@pytest.mark.parametrize(
    ("others", "words"),
    [
        (
            (at(8.0, name="Fuji by the gate"),),
            "Pollen from Fuji by the gate, 8 m away, which blooms at the same time.",
        ),
        (
            (at(8.0, name="Old tree", cultivar=None, cultivar_name="Liberty"),),
            "Pollen from Old tree (Liberty), 8 m away, if they bloom together (see "
            "whether they do).",
        ),
        (
            (at(22.0, "wanted-1", name="Fuji"),),
            "Pollen from Fuji, 22 m away, once it is planted, which blooms at the same "
            "time. That is far: it will set less.",
        ),
        (
            (at(8.0, "neighbour-1", name="apple"),),
            "Pollen from apple (Fuji), a neighbour's tree, 8 m away, which blooms at "
            "the same time.",
        ),
        ((), "Needs a partner within 30 m: add Fuji, or graft one onto it."),
    ],
)
def test_one_apple(others, words):
    assert said(GALA_TREE, *others) == words


def test_a_guessed_distance_is_said_to_be_one():
    beyond = plant("neighbour-1", cultivar=FUJI, at=None, distance_m=12.0, name="Old")
    assert "Old (Fuji), a neighbour's tree, 12 m from the nearest of yours" in said(
        GALA_TREE, beyond
    )


def test_amounts_are_in_the_readers_units():
    assert "26 ft away" in said(GALA_TREE, at(8.0), units=US)
    assert reach_words(rows(GALA_TREE)[0], US) == (
        "A partner within 49 ft is good, within 98 ft poor."
    )


def test_what_nobody_measured_or_named_is_asked_for():
    unplaced = plant("ours-2", cultivar=FUJI, at=None, name="Fuji")
    assert said(GALA_TREE, unplaced).endswith(
        "perhaps: nobody measured how far they stand from each other."
    )
    nameless = plant("ours-1", name="Apple")
    assert "Name its own first" in said(nameless)
    assert kind_words(nameless) == "apple, cultivar not named".replace(
        "apple", nameless.species.name
    )
    (other,) = rows(nameless, at(4.0, name="Fuji"))[0].pollination.others
    assert other_words(other, METRIC) == (
        "Fuji, 4 m away: one of the two has no cultivar's name; name it to know."
    )


def test_wind_reaches_nobody_knows_how_far():
    chestnut = plant("ours-1", "chestnut", cultivar_name="Colossal")
    far = plant("ours-2", "chestnut", cultivar_name="Nevada", at=(60.0, 0.0))
    assert said(chestnut, far).endswith("how far the wind carries enough is not known.")
    assert "Wind carries its pollen" in reach_words(rows(chestnut, far)[0], METRIC)
    hazel = plant("ours-1", "hazelnut", cultivar_name="Eta")
    assert reach_words(rows(hazel)[0], METRIC).endswith("counts within 15 m.")


def test_a_triploid_names_both_its_partners_or_asks_for_the_second():
    bramley = plant("ours-1", cultivar=BRAMLEY)
    gala = at(3.0, cultivar=GALA, name="Gala")
    assert said(bramley, gala) == (
        "Pollen from Gala, 3 m away, which blooms at the same time, but gives no good "
        "pollen back. It needs two partners that suit each other: add Fuji, or graft "
        "one onto it."
    )
    both = said(bramley, gala, at(5.0, "ours-3", name="Fuji"))
    assert both.startswith("Pollen from Gala, 3 m away")
    assert " and Fuji, 5 m away" in both


def test_kinds_with_two_sexes_ask_for_a_male():
    female = plant("ours-1", "kiwifruit", sex="female")
    male = plant("ours-0", "kiwifruit", sex="male", name="Old male")
    assert said(female) == "Needs pollen from a male plant: add one."
    assert said(male) == "A male: it gives pollen and bears no fruit."
    many = [plant(f"ours-{n}", "kiwifruit", sex="female") for n in range(1, 11)]
    assert said(*many, male).endswith("serves 10 females; one serves about eight.")


def test_what_sets_alone_says_what_would_add_to_it():
    pear = plant("ours-1", "pear", cultivar_name="Hood")
    assert said(pear) == "Sets fruit alone; more with a partner within 30 m."
    asian = plant("ours-2", "asian_pear", cultivar_name="Hosui", name="Asian pear")
    assert "in years when both bloom together" in said(pear, asian)
    unplaced = plant("ours-2", "pear", cultivar_name="Orient", at=None)
    assert "perhaps: nobody measured" in said(pear, unplaced)


def test_kinds_that_want_a_brush_say_so():
    cherimoya = plant("ours-1", "cherimoya", cultivar_name="Fino")
    assert said(cherimoya).endswith("put on by hand, with a small brush, sets more.")


def test_a_graft_is_said_to_be_one():
    named = CultivarFacts("x", "apple", "Mid", bloom=3.0, partners=("Gala",))
    family = plant("ours-1", cultivar=GALA, name="Gala", grafts=(("Mid", named),))
    assert said(family) == "Pollen from Mid grafted onto Gala, named as its partner."
    assert "at another time" in other_words(
        rows(GALA_TREE, at(3.0, cultivar=ANNA))[0].pollination.others[0], METRIC
    )
