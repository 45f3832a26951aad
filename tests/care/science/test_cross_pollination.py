"""Whose pollen is good for whom: names, sexes, flower types, kinds that cross."""

from dataclasses import replace

import pytest
from hypothesis import given, strategies as st

from care.facts import CultivarFacts, Span
from care.science.cross_pollination import (
    Bloom,
    Flowers,
    Ground,
    Match,
    Refusal,
    flowers_of,
    judge,
    plain_name,
)
from tests.care.science.pollination_cases import ANNA, BRAMLEY, FUJI, GALA


def bare(key, name="", sex="", months=None, cultivar=None):
    return Flowers(key, name, sex, cultivar, months)


def test_names_are_read_whatever_their_case_and_accents():
    assert plain_name("  Doyenné  du Comice ") == "doyenne du comice"
    found = judge(bare("pear", "Doyenné du Comice"), bare("pear", "doyenne du comice"))
    assert found is Refusal.SAME_CULTIVAR


def test_a_cultivar_without_a_name_cannot_be_counted_on():
    assert judge(bare("apple", "Gala"), bare("apple")) is Refusal.UNNAMED
    assert judge(bare("apple"), bare("apple", "Gala")) is Refusal.UNNAMED


def test_seedlings_of_one_name_differ():
    seedling = bare("pawpaw", "Seedling")
    assert isinstance(judge(seedling, seedling), Match)


def test_a_named_partner_counts_from_either_side():
    read = replace(GALA, partners=("Anna",), sources=(("partners", "highlands"),))
    remembered = replace(read, unverified=frozenset({"partners"}))
    gala, anna = flowers_of(read), flowers_of(ANNA)
    assert judge(gala, anna) == Match(Bloom.MEETS, Ground.NAMED, "highlands")
    assert judge(anna, gala) == judge(gala, anna)
    assert judge(flowers_of(remembered), anna) == Match(
        Bloom.MEETS, Ground.NAMED, "memory"
    )


def test_one_named_as_no_partner_is_none_from_either_side():
    # Bartlett and Seckel, as the catalogue notes of Bartlett.
    bartlett = CultivarFacts("b", "pear", "Bartlett", not_partners=("Seckel",))
    seckel = bare("pear", "seckel")
    assert judge(flowers_of(bartlett), seckel) is Refusal.NAMED_AGAINST
    assert judge(seckel, flowers_of(bartlett)) is Refusal.NAMED_AGAINST


# Avocados A and B, pecans I and II (Texas A&M, Nesbitt: plant both types).
@pytest.mark.parametrize(
    ("key", "one", "other"), [("avocado", "A", "B"), ("pecan", "I", "II")]
)
def test_flower_types_help_each_other_and_not_themselves(key, one, other):
    first = CultivarFacts("1", key, "First", flower_type=one)
    like = CultivarFacts("2", key, "Like", flower_type=one)
    unlike = CultivarFacts("3", key, "Unlike", flower_type=other)
    a, b, c = (flowers_of(each) for each in (first, like, unlike))
    assert judge(a, b) is Refusal.SAME_FLOWER_TYPE
    assert isinstance(judge(a, c), Match)
    assert isinstance(judge(a, bare(key, "Unknown")), Match)


def test_sterile_pollen_and_female_flowers_give_nothing():
    assert judge(flowers_of(GALA), flowers_of(BRAMLEY)) is Refusal.POLLEN_STERILE
    assert isinstance(judge(flowers_of(BRAMLEY), flowers_of(GALA)), Match)
    kiwi = bare("kiwifruit", sex="female")
    assert judge(kiwi, bare("kiwifruit", sex="female")) is Refusal.FEMALE
    assert judge(kiwi, bare("kiwifruit")) is Refusal.SEX_NOT_KNOWN
    muscadine = bare("muscadine", "Scuppernong", "female")
    assert judge(muscadine, bare("muscadine", "Carlos")) is Refusal.SEX_NOT_KNOWN
    own = CultivarFacts("c", "muscadine", "Carlos", self_fruitful="yes")
    assert isinstance(judge(muscadine, flowers_of(own)), Match)


def test_males_and_females_need_no_names_but_bloom_together():
    early = CultivarFacts("e", "kiwifruit", "Early", bloom=1.0, sex="male")
    late = CultivarFacts("l", "kiwifruit", "Late", bloom=4.0, sex="female")
    assert judge(flowers_of(late), flowers_of(early)) is Refusal.BLOOM_APART
    named = replace(late, partners=("Early",))
    assert judge(flowers_of(named), flowers_of(early)).ground is Ground.NAMED
    assert judge(flowers_of(late), bare("kiwifruit", sex="male")).bloom is Bloom.UNSURE


# Oregon State University Extension: Asian and European pears are compatible where
# bloom meets. European and Japanese plums do not cross (from memory).
def test_some_kinds_cross_and_others_do_not():
    pear, asian = bare("pear", "Comice"), bare("asian_pear", "Chojuro")
    assert judge(pear, asian) == Match(Bloom.UNSURE, Ground.KINDS, "osu_pears")
    plum = bare("european_plum", "Stanley")
    assert judge(plum, bare("japanese_plum", "Methley")) is Refusal.KINDS_DO_NOT_CROSS
    assert judge(plum, bare("fig", "Celeste")) is Refusal.STRANGER
    sterile = replace(BRAMLEY, species_key="asian_pear")
    assert judge(pear, flowers_of(sterile)) is Refusal.POLLEN_STERILE


def test_kinds_that_share_no_month_of_bloom_do_not_meet():
    pear = bare("pear", months=Span(4, 5))
    assert judge(pear, bare("asian_pear", months=Span(2, 3))) is Refusal.BLOOM_APART
    assert isinstance(judge(pear, bare("asian_pear", months=Span(5, 5))), Match)
    winter = bare("pear", months=Span(11, 1))
    assert isinstance(judge(winter, bare("asian_pear", months=Span(1, 2))), Match)


several = st.sampled_from(
    [flowers_of(each) for each in (GALA, FUJI, ANNA)]
    + [
        bare("apple"),
        bare("apple", "Liberty"),
        bare("pear", "Hood"),
        bare("asian_pear", "Hosui"),
        bare("fig", "Celeste"),
    ]
)


@given(several, several)
def test_those_with_good_pollen_judge_each_other_alike(one, other):
    assert judge(one, other) == judge(other, one)
