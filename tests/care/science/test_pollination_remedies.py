"""What to add where a partner is lacking: named first, then bloom, then chill."""

from dataclasses import replace

from care.facts import CultivarFacts
from care.science.cross_pollination import flowers_of
from care.science.pollination_remedies import AS_MANY, suggested
from tests.care.science.pollination_cases import ANNA, BRAMLEY, FUJI, GALA, plant


def apple(name, bloom=3.0, low_h=None, high_h=None, **more):
    return CultivarFacts(
        name.lower(), "apple", name, low_h, high_h, bloom=bloom, **more
    )


def names(found):
    return [cultivar.name for cultivar in found]


def test_named_partners_go_before_near_bloom_and_that_before_like_chill():
    gala = replace(GALA, chill_hours_min=500, chill_hours_max=600, partners=("Named",))
    kinds = [
        apple("Cold", low_h=1000.0, high_h=1100.0),
        apple("Near", bloom=3.5),
        apple("Like", low_h=500.0, high_h=600.0),
        apple("Named", bloom=5.0),
        GALA,
        ANNA,
    ]
    found = names(suggested(plant("ours-1", cultivar=gala), kinds))
    assert found == ["Named", "Like", "Cold", "Near"]


def test_no_more_are_told_than_help_to_choose():
    many = [apple(f"Apple {letter}") for letter in "abcdefg"]
    assert len(suggested(plant("ours-1", cultivar=GALA), many)) == AS_MANY


def test_what_is_added_to_a_triploid_pollinates_its_partner_too():
    bramley = plant("ours-1", cultivar=BRAMLEY)
    kinds = [GALA, FUJI, ANNA, apple("Mid")]
    assert names(suggested(bramley, kinds)) == ["Gala", "Mid", "Fuji"]
    assert names(suggested(bramley, kinds, [flowers_of(GALA)])) == ["Mid", "Fuji"]


def test_nothing_can_be_told_without_a_name():
    assert suggested(plant("ours-1"), [GALA, FUJI]) == ()


def test_a_cultivar_nobody_knows_much_of_gets_some_in_the_order_of_names():
    unknown = plant("ours-1", cultivar_name="Grandmother's")
    assert names(suggested(unknown, [GALA, FUJI, ANNA])) == ["Anna", "Fuji", "Gala"]
