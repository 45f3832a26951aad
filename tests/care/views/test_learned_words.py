"""What was learned is told with its value, answers, bounds and what it changes."""

from dataclasses import replace
from datetime import date

from care.facts import ColdPocket
from care.planning.learned import Learned, LearnedDemand, LearnedGrowth, Picked
from care.planning.learned_bloom import LearnedBloom
from care.views.learned_words import learned_rows
from orchard.units import UnitSystem

TODAY = date(2025, 7, 2)
NOTHING = Learned(None, None, None, None, None)
THIRST = LearnedDemand(
    factor=0.85,
    applied=0.85,
    spread=0.2,
    answers=6,
    since=date(2025, 6, 4),
    is_trusted=True,
)
BLOOM = LearnedBloom(
    degree_hours=6200.4,
    usual_hours=5900.0,
    blooms=2,
    since=date(2024, 4, 12),
    is_own=True,
)
GROWTH = LearnedGrowth(
    shoot_mm=300.0,
    low_mm=203.0,
    high_mm=381.0,
    verdict="in_band",
    share=0.5,
    on=date(2025, 6, 4),
)


def rows(units=UnitSystem.METRIC, *, in_container=False, **known):
    return learned_rows(
        replace(NOTHING, **known), TODAY, units, in_container=in_container
    )


def test_nothing_learned_is_nothing_said():
    assert rows() == ()


def test_thirst_names_answers_bounds_and_what_it_changes():
    (row,) = rows(demand=THIRST)
    assert row.title == "Thirst: 0.85 times what its crown says"
    assert row.words == (
        "Learned from 6 answers: 0.85 ± 0.20 times what its crown says, said since 4 June."
    )
    assert row.bounds == "The plan follows from 0.70 to 1.40 times and takes 0.85 now."
    assert (row.forget, row.ask) == ("demand_reset", "")
    (one,) = rows(demand=replace(THIRST, answers=1, since=None))
    assert "from one answer: 0.85 ± 0.20 times what its crown says." in one.words


def test_answers_that_do_not_fit_ask_for_measures_and_stop_teaching():
    far = replace(THIRST, factor=1.9, applied=1.4, is_trusted=False)
    (row,) = rows(demand=far)
    assert "takes 1.40 now" in row.bounds
    assert "learning stops here" in row.ask
    assert "flow of hose or drippers" in row.ask
    (pot,) = rows(demand=far, in_container=True)
    assert "the pot's size" in pot.ask


def test_bloom_stands_beside_what_the_plan_takes_without_it():
    (row,) = rows(bloom=BLOOM)
    assert row.title == "Bloom: as 2 blooms taught"
    assert (
        "Learned from 2 blooms of its own since 12 April 2024: 6,200 degree hours of "
        "spring warmth until full bloom; without them the plan takes 5,900."
        in row.words
    )
    assert "60 days" in row.bounds
    assert row.forget == "bloom_reset"
    (kin,) = rows(bloom=replace(BLOOM, blooms=1, is_own=False, usual_hours=None))
    assert "one bloom of others of its kind" in kin.words
    assert "the plan knew no figure" in kin.words
    assert kin.forget == ""  # those are forgotten where they were seen


def test_growth_tells_the_band_and_the_feed_in_the_readers_units():
    (row,) = rows(growth=GROWTH)
    assert "Shoots of 30 cm" in row.words or "Shoots of 300 mm" in row.words
    assert row.changes == "They ask for half of the feed."
    assert row.forget == "growth_reset"
    (us,) = rows(UnitSystem.US, growth=replace(GROWTH, verdict="long", share=0.0))
    # 300 mm are 11.8 in (NIST SP 811)
    assert "12 in" in us.words or "11.8 in" in us.words
    assert us.changes == "They ask for no feed."


def test_the_cold_of_the_place_is_a_step_and_not_a_temperature():
    pocket = ColdPocket(offset_c=1.5, nights=7)
    (row,) = rows(pocket=pocket)
    assert "7 cold nights with a thermometer here: 1.5 °C colder" in row.words
    assert "never more than 6.0 °C" in row.bounds
    (us,) = rows(UnitSystem.US, pocket=pocket)
    assert "2.7 °F colder" in us.words  # 1.5 degC times 1.8, without the 32


def test_harvest_tells_two_seasons_and_forgets_nothing():
    (row,) = rows(picked=Picked(12.0, 20.0, 3))
    assert row.words == "Picked 12 kg this season and 20 kg the last."
    assert row.forget == ""
