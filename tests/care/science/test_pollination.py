"""Whether plants have the pollen they need: handbook vectors, triploids, laws.

The four check vectors are those of the sources' chapter on pollination (Penn State
Extension and UF/IFAS for the groups): one apple alone needs a partner, two of one
cultivar still do, a peach alone does not, two rabbiteye cultivars are well.
"""

from dataclasses import replace

import pytest
from hypothesis import given, strategies as st

from care.facts import CultivarFacts, Standing
from care.planning.species_facts import species_facts
from care.science.cross_pollination import Bloom, Ground, Refusal
from care.science.pollen_sources import Reach
from care.science.pollination import Verdict, pollinations
from care.science.pollination_need import Need
from tests.care.science.pollination_cases import (
    ANNA,
    BRAMLEY,
    FUJI,
    GALA,
    JONAGOLD,
    plant,
)


def verdicts(*plants):
    return [row.verdict for row in pollinations(plants)]


def one(*plants):
    return pollinations(plants)[0]


def test_one_apple_alone_needs_a_partner():
    row = one(plant("ours-1", cultivar=GALA))
    assert row.verdict is Verdict.LACKS
    assert row.partners == row.others == ()
    assert row.figure.need is Need.PARTNER
    assert row.figure.source == "isu_poll"
    assert not row.figure.is_unverified


def test_two_of_the_same_cultivar_still_do():
    rows = pollinations(
        (plant("ours-1", cultivar=GALA), plant("ours-2", cultivar=GALA, at=(3, 4)))
    )
    assert [row.verdict for row in rows] == [Verdict.LACKS] * 2
    assert rows[0].others[0].why is Refusal.SAME_CULTIVAR
    assert rows[0].others[0].distance_m == 5.0


def test_a_peach_alone_is_well():
    assert verdicts(plant("ours-1", "peach")) == [Verdict.ALONE]


def test_two_rabbiteye_cultivars_are_well():
    brightwell = plant("ours-1", "blueberry_rabbiteye", cultivar_name="Brightwell")
    climax = plant(
        "ours-2", "blueberry_rabbiteye", cultivar_name="Climax", at=(2.0, 0.0)
    )
    rows = pollinations((brightwell, climax))
    assert [row.verdict for row in rows] == [Verdict.PARTNERED] * 2
    assert rows[0].partners[0].bloom is Bloom.UNSURE


# 50 ft good, over 100 ft poor: the extension summary of pollination distances.
@pytest.mark.parametrize(
    ("distance_m", "verdict"),
    [
        (8.0, Verdict.PARTNERED),
        (15.0, Verdict.PARTNERED),
        (15.1, Verdict.FAR),
        (30.0, Verdict.FAR),
        (30.1, Verdict.LACKS),
    ],
)
def test_nearer_is_better(distance_m, verdict):
    gala = plant("ours-1", cultivar=GALA)
    row = one(gala, plant("ours-2", cultivar=FUJI, at=(distance_m, 0.0)))
    assert row.verdict is verdict
    if verdict is Verdict.LACKS:
        assert row.others[0].why is Refusal.TOO_FAR
    else:
        assert row.partners[0].distance_m == distance_m


def test_a_distance_nobody_knows_may_do():
    gala = plant("ours-1", cultivar=GALA)
    nowhere = plant("ours-2", cultivar=FUJI, at=None)
    row = one(gala, nowhere)
    assert row.verdict is Verdict.PERHAPS
    assert row.partners[0].distance_m is None
    assert verdicts(nowhere, gala)[0] is Verdict.PERHAPS
    far = plant("ours-3", cultivar=FUJI, at=(90.0, 0.0))
    assert one(gala, nowhere, far).verdict is Verdict.PERHAPS


def test_a_neighbours_tree_counts_by_the_distance_it_was_given():
    gala = plant("ours-1", cultivar=GALA)
    beyond = plant("neighbour-1", cultivar=FUJI, at=None, distance_m=12.0)
    rows = pollinations((gala, beyond))
    assert len(rows) == 1  # nobody asks what a neighbour's tree needs
    assert rows[0].partners[0].standing is Standing.NEIGHBOUR
    assert rows[0].partners[0].distance_m == 12.0
    assert one(replace(gala, place_m=None), beyond).verdict is Verdict.PARTNERED


def test_a_tree_that_stands_goes_before_one_that_is_wanted():
    row = one(
        plant("ours-1", cultivar=GALA),
        plant("wanted-1", cultivar=FUJI, at=(2.0, 0.0)),
        plant("ours-2", cultivar=FUJI, at=(9.0, 0.0)),
    )
    assert [partner.ref for partner in row.partners] == ["ours-2", "wanted-1"]


def test_bloom_more_than_a_class_apart_does_not_meet():
    row = one(plant("ours-1", cultivar=GALA), plant("ours-2", cultivar=ANNA))
    assert row.verdict is Verdict.LACKS
    assert row.others[0].why is Refusal.BLOOM_APART


def test_a_graft_on_the_tree_is_a_partner_at_no_distance():
    family = plant("ours-1", cultivar=GALA, grafts=(("Fuji", FUJI),), at=None)
    row = one(family)
    assert row.verdict is Verdict.PARTNERED
    assert row.partners[0].is_graft
    assert row.partners[0].distance_m == 0.0
    same = replace(family, grafts=(("Gala", GALA),))
    assert one(same).verdict is Verdict.LACKS


def test_a_graft_of_another_kind_is_none():
    plum = plant(
        "ours-1",
        "japanese_plum",
        cultivar_name="Burbank",
        grafts=(("Moorpark", None),),
        graft_species_keys=("apricot",),
    )
    assert one(plum).verdict is Verdict.LACKS
    assert one(replace(plum, graft_species_keys=())).verdict is Verdict.PARTNERED


# Pollen-sterile: "need two others" (the sources' chapter, from memory).
@pytest.mark.parametrize(
    ("others", "of_bramley", "of_gala"),
    [
        ((), Verdict.LACKS, None),
        ((GALA,), Verdict.LACKS_SECOND, Verdict.LACKS),
        ((GALA, FUJI), Verdict.PARTNERED, Verdict.PARTNERED),
        ((GALA, GALA), Verdict.LACKS_SECOND, Verdict.LACKS),
        ((GALA, JONAGOLD), Verdict.LACKS_SECOND, Verdict.LACKS),
        ((GALA, ANNA), Verdict.LACKS_SECOND, Verdict.LACKS),
        ((JONAGOLD,), Verdict.LACKS, None),
    ],
)
def test_a_triploid_needs_two_that_need_each_other(others, of_bramley, of_gala):
    trees = [plant("ours-0", cultivar=BRAMLEY)]
    trees += [
        plant(f"ours-{1 + index}", cultivar=each, at=(3.0 * index, 4.0))
        for index, each in enumerate(others)
    ]
    rows = pollinations(trees)
    assert rows[0].verdict is of_bramley
    if of_gala is not None:
        assert rows[1].verdict is of_gala
    assert rows[0].is_pollen_sterile


def test_the_two_of_a_triploid_stand_within_reach_of_each_other():
    bramley = plant("ours-1", cultivar=BRAMLEY)
    west = plant("ours-2", cultivar=GALA, at=(-20.0, 0.0))
    east = plant("ours-3", cultivar=FUJI, at=(20.0, 0.0))
    assert one(bramley, west, east).verdict is Verdict.LACKS_SECOND
    nearer = plant("ours-4", cultivar=FUJI, at=(2.0, 0.0))
    row = one(bramley, west, east, nearer)
    assert row.verdict is Verdict.FAR
    assert {partner.ref for partner in row.partners[:2]} == {"ours-2", "ours-4"}
    theirs = [
        replace(
            each, ref=each.ref.replace("ours", "neighbour"), standing=Standing.NEIGHBOUR
        )
        for each in (west, east)
    ]
    assert one(bramley, *theirs).verdict is Verdict.FAR
    unplaced = replace(theirs[0], place_m=None)
    assert one(bramley, unplaced, theirs[1]).verdict is Verdict.PERHAPS


def test_a_triploid_that_sets_alone_is_helped_by_one():
    pear = CultivarFacts("pear_x", "pear", "Merton", is_pollen_sterile=True)
    rows = verdicts(
        plant("ours-1", "pear", pear), plant("ours-2", "pear", cultivar_name="Hood")
    )
    assert rows == [Verdict.HELPED, Verdict.SETS_ALONE]


def test_sterile_pollen_serves_its_own_flowers_no_better():
    hale = CultivarFacts("peach_hale", "peach", "Hale", is_pollen_sterile=True)
    assert one(plant("ours-1", "peach", hale)).verdict is Verdict.LACKS


def test_the_cultivars_figure_goes_before_its_kinds():
    alone = CultivarFacts(
        "plum_m",
        "japanese_plum",
        "Methley",
        self_fruitful="yes",
        unverified=frozenset({"self_fruitful"}),
        sources=(("self_fruitful", "mem_ext_plum"),),
    )
    row = one(plant("ours-1", "japanese_plum", alone))
    assert row.verdict is Verdict.ALONE
    assert row.figure.is_of_cultivar
    assert row.figure.is_unverified
    assert row.figure.source == "mem_ext_plum"


def test_a_kind_nobody_knows_about_is_not_judged():
    unknown = replace(species_facts("apple"), self_fruitful="")
    assert verdicts(plant("ours-1", species=unknown)) == [Verdict.NOT_KNOWN]


HAYWARD = CultivarFacts(
    "kiwi_h", "kiwifruit", "Hayward", sex="female", partners=("Matua",)
)


def test_a_female_kiwi_needs_a_male():
    female = plant("ours-1", "kiwifruit", HAYWARD)
    male = plant("ours-2", "kiwifruit", sex="male", at=(5.0, 0.0))
    unsaid = plant("ours-3", "kiwifruit", at=(5.0, 0.0))
    both = plant("ours-4", "kiwifruit", sex="both", at=(5.0, 0.0))
    assert verdicts(female, male) == [Verdict.PARTNERED, Verdict.GIVES_POLLEN]
    assert one(female, male).partners[0].ground is Ground.SEXES
    row = one(female, plant("ours-5", "kiwifruit", HAYWARD))
    assert (row.verdict, row.others[0].why) == (Verdict.LACKS, Refusal.FEMALE)
    assert verdicts(female, unsaid) == [Verdict.LACKS, Verdict.SEX_NOT_KNOWN]
    assert verdicts(female, both) == [Verdict.PARTNERED, Verdict.ALONE]


def test_a_male_serves_eight_females():
    male = plant("ours-0", "kiwifruit", sex="male")
    females = [plant(f"ours-{n}", "kiwifruit", HAYWARD) for n in range(1, 9)]
    rows = pollinations((male, *females))
    assert [row.females_at_its_male for row in rows] == [0, *[8] * 8]
    assert not any(row.has_crowded_male for row in rows)
    ninth = plant("ours-9", "kiwifruit", HAYWARD)
    assert all(
        row.has_crowded_male for row in pollinations((male, *females, ninth))[1:]
    )


def test_a_kiwi_that_sets_alone_needs_no_male():
    issai = CultivarFacts("kiwi_i", "hardy_kiwi", "Issai", self_fruitful="yes")
    female = plant("ours-2", "hardy_kiwi", sex="female")
    assert verdicts(plant("ours-1", "hardy_kiwi", issai), female) == [
        Verdict.ALONE,
        Verdict.PARTNERED,
    ]


def test_a_female_mulberry_sets_without_pollen():
    assert verdicts(plant("ours-1", "mulberry", sex="female")) == [Verdict.SETS_ALONE]
    assert verdicts(plant("ours-1", "papaya", sex="female")) == [Verdict.LACKS]


def test_wind_carries_pollen_we_do_not_know_how_far():
    chestnut = plant("ours-1", "chestnut", cultivar_name="Colossal")
    near = plant("ours-2", "chestnut", cultivar_name="Nevada", at=(14.0, 0.0))
    far = replace(near, place_m=(60.0, 0.0))
    assert one(chestnut, near).verdict is Verdict.PARTNERED
    row = one(chestnut, far)
    assert (row.verdict, row.partners[0].reach) == (Verdict.PERHAPS, Reach.PERHAPS)
    assert row.rule.farthest_m is None


# A hazel's partner no farther than 50 ft (Ask Extension, question 344029, 2016).
def test_a_hazels_partner_stands_near():
    hazel = plant("ours-1", "hazelnut", cultivar_name="Jefferson")
    eta = plant("ours-2", "hazelnut", cultivar_name="Eta", at=(15.0, 0.0))
    assert one(hazel, eta).verdict is Verdict.PARTNERED
    assert one(hazel, replace(eta, place_m=(16.0, 0.0))).verdict is Verdict.LACKS


# Two elder cultivars within 60 ft (Cornell).
def test_elders_stand_a_little_farther_apart():
    york = plant("ours-1", "elderberry", cultivar_name="York")
    nova = plant("ours-2", "elderberry", cultivar_name="Nova", at=(18.0, 0.0))
    assert one(york, nova).verdict is Verdict.PARTNERED


CULTIVARS = (GALA, FUJI, ANNA, BRAMLEY, JONAGOLD, None)
places = st.tuples(st.sampled_from((0.0, 9.0, 25.0, 50.0)), st.just(0.0)) | st.none()
apples = st.lists(
    st.tuples(
        st.sampled_from(CULTIVARS),
        places,
        st.sampled_from(("ours", "wanted", "neighbour")),
        st.sampled_from(((), (("Fuji", FUJI),))),
    ),
    min_size=1,
    max_size=6,
)
BEST_LAST = [
    Verdict.LACKS,
    Verdict.LACKS_SECOND,
    Verdict.PERHAPS,
    Verdict.FAR,
    Verdict.PARTNERED,
]


def planted(some):
    return [
        plant(f"{standing}-{number}", cultivar=cultivar, at=at, grafts=grafts)
        for number, (cultivar, at, standing, grafts) in enumerate(some)
    ]


@given(apples)
def test_one_more_tree_never_makes_it_worse(some):
    plants = planted(some)
    before = {row.ref: row.verdict for row in pollinations(plants[:-1])}
    for row in pollinations(plants):
        if row.ref in before:
            assert BEST_LAST.index(row.verdict) >= BEST_LAST.index(before[row.ref])


@given(apples, st.randoms(use_true_random=False))
def test_the_order_of_trees_does_not_matter(some, random):
    plants = planted(some)
    shuffled = random.sample(plants, len(plants))
    rows = {row.ref: row for row in pollinations(plants)}
    assert {row.ref: row for row in pollinations(shuffled)} == rows
