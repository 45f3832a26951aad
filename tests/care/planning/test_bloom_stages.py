"""The stages a person may report: in order, told in words, understood by the rules."""

from datetime import date, timedelta

import pytest

from care.facts import Observation, SiteFacts, Situation, Stage, TreeFacts
from care.planning.bloom_stages import SEEN_STAGES, reportable_stages
from care.planning.species_facts import species_facts
from care.rules import RULES
from care.science.frost import bud_stages
from care.views.stage_words import PLAIN, stage_words
from orchard.catalogue.species import species_catalogue

TODAY = date(2025, 4, 20)
SITE = SiteFacts(latitude_deg=47.0, elevation_m=100.0, soil_texture="loam")
SPECIES = sorted(species_catalogue())


def told_of(species_key):
    """Return the turns of the year that somebody can report for a species."""
    words = reportable_stages(species_facts(species_key))
    return {SEEN_STAGES[word][0] for word in words if word in SEEN_STAGES}


@pytest.mark.parametrize("key", SPECIES)
def test_every_turn_of_the_year_can_be_reported(key):
    is_evergreen = species_facts(key).is_evergreen
    assert told_of(key) == set(Stage) - ({Stage.LEAF_DROP} if is_evergreen else set())


@pytest.mark.parametrize("key", SPECIES)
def test_the_published_stages_come_in_their_order_between_rest_and_harvest(key):
    words = reportable_stages(species_facts(key))
    assert len(words) == len(set(words))
    published = bud_stages(key)
    if published:
        begin = words.index(published[0])
        assert words[begin : begin + len(published)] == published
    if not species_facts(key).is_evergreen:
        assert (words[0], words[-1]) == ("dormant", "leaf_drop")
        assert words[-2] == "harvest"


def test_a_stage_without_plain_words_of_its_own_is_read_as_it_is_called():
    assert stage_words("post_bloom") == "petals fall"
    assert stage_words("tight_cluster") == "tight cluster"
    known = {word for key in SPECIES for word in reportable_stages(species_facts(key))}
    assert set(PLAIN) <= known


@pytest.mark.parametrize("key", SPECIES)
def test_no_word_that_may_be_reported_puzzles_a_rule(key):
    tree = TreeFacts(
        id=1,
        name="Tree",
        species=species_facts(key),
        block_id=1,
        planted_on=date(2018, 3, 1),
        entered_on=date(2024, 3, 1),
        crown_width_m=2.0,
    )
    for word in reportable_stages(species_facts(key)):
        seen = Observation(1, "bloom_stage", TODAY - timedelta(days=2), word=word)
        situation = Situation(
            today=TODAY, tree=tree, site=SITE, weather=None, observations=(seen,)
        )
        asked = [one for _, rule in RULES for one in rule(situation)]
        assert {one.tree_id for one in asked} <= {1}
