"""Who pollinates whom at a site: what is lacking and what would help, as codes."""

from dataclasses import asdict

from care.facts import CultivarFacts, LayoutFacts, SpeciesFacts
from care.planning.partners import partners_of
from care.science.pollination import Verdict
from tests.care.science.pollination_cases import ANNA, BRAMLEY, FUJI, GALA, plant


class Known:
    """Kinds of which a few apples are known."""

    all_species: tuple[SpeciesFacts, ...] = ()

    def cultivars_of(self, species_key: str) -> tuple[CultivarFacts, ...]:
        return (GALA, FUJI, ANNA, BRAMLEY) if species_key == "apple" else ()


def rows(*plants):
    layout = LayoutFacts(46.0, 0.0, plants, ())
    return partners_of(layout, Known())


def test_one_alone_is_told_what_to_add_or_graft():
    (row,) = rows(plant("ours-1", cultivar=GALA))
    assert row.verdict is Verdict.LACKS
    assert row.needs == ("add_cultivar", "graft")
    assert row.suggestions == ("Fuji",)
    assert row.sources == ("isu_poll", "pollination_distances")
    assert asdict(row)["plant"] == "ours-1"


def test_two_that_suit_are_told_of_each_other():
    row, _ = rows(
        plant("ours-1", cultivar=GALA),
        plant("ours-2", cultivar=FUJI, at=(8.0, 0.0), name="Fuji by the gate"),
    )
    assert (row.partner, row.partner_name) == ("ours-2", "Fuji by the gate")
    assert (row.distance_m, row.needs, row.suggestions) == (8.0, (), ())


def test_names_and_sexes_nobody_said_are_asked_for():
    bare, named = rows(plant("ours-1"), plant("ours-2", cultivar=GALA))
    assert bare.needs == ("name_cultivar", "add_cultivar", "name_partners")
    assert named.needs == ("add_cultivar", "graft", "name_partners")
    kiwi, unsaid = rows(
        plant("ours-1", "kiwifruit", sex="female"), plant("ours-2", "kiwifruit")
    )
    assert kiwi.needs == ("add_male", "say_sex_of_others")
    assert unsaid.needs == ("say_sex",)


def test_a_distance_nobody_measured_is_asked_for():
    row, _ = rows(
        plant("ours-1", cultivar=GALA), plant("ours-2", cultivar=FUJI, at=None)
    )
    assert row.needs == ("measure_distance",)


def test_a_triploid_is_told_of_a_second_partner_that_suits_its_first():
    row, _ = rows(
        plant("ours-1", cultivar=BRAMLEY),
        plant(
            "ours-2",
            "pear",
            cultivar_name="Hood",
            grafts=(("Gala", GALA),),
            graft_species_keys=("apple",),
        ),
    )
    assert row.verdict is Verdict.LACKS_SECOND
    assert row.needs == ("second_partner", "graft")
    assert row.suggestions == ("Fuji",)


def test_what_sets_alone_is_told_what_would_help():
    (row,) = rows(plant("ours-1", "pear", cultivar_name="Hood"))
    assert (row.verdict, row.needs) == (Verdict.SETS_ALONE, ())
    row, _ = rows(
        plant("ours-1", "pear", cultivar_name="Hood"),
        plant("ours-2", "pear", cultivar_name="Kieffer", at=None),
    )
    assert (row.verdict, row.needs) == (Verdict.SETS_ALONE, ("measure_distance",))
