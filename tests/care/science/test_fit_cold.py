"""The coldest nights against what a kind bears in the ground and in a pot."""

import numpy as np
import pytest
from hypothesis import given, strategies as st

from care.facts.fit import Verdict
from care.science.cold_limits import TENDER_POT_C
from care.science.extreme_cold import estimate_zone
from care.science.fit_cold import ground_factors, pot_factors, pot_limit_c, zone_rank
from care.science.fit_years import YEAR_DAYS
from tests.care.science.fit_cases import kind, years

ORDER = [Verdict.GOOD, Verdict.FAIR, Verdict.POOR, Verdict.NO]
THIRTY = [-3.0] * 30


def ground(facts, known):
    zone = None if known is None else estimate_zone(known.minima_c)
    return ground_factors([facts], known, zone)[0]


def bearing(limit_c, **values):
    return kind(damage_temp_mature_c=limit_c, **values)


@pytest.mark.parametrize(
    ("hurt", "verdict"),
    [(0, "good"), (1, "fair"), (3, "fair"), (4, "poor"), (14, "poor"), (15, "no")],
)
def test_share_of_years_with_damage(hurt, verdict):
    known = years(minima=[-8.0] * hurt + [-3.0] * (30 - hurt))
    found = ground(bearing(-5.0), known)
    assert found.verdict == verdict
    assert found.number("share") == pytest.approx(hurt / 30)


def test_a_night_in_tenths_meets_a_limit_in_fahrenheit():
    # 28 degF is -2.222 but is written -2.2
    found = ground(bearing(-20 / 9), years(minima=[-2.2] * 30))
    assert found.verdict is Verdict.NO


def test_few_years_are_no_proof():
    assert ground(bearing(-5.0), years(minima=[-4.0] * 30)).verdict is Verdict.GOOD
    assert ground(bearing(-5.0), years(minima=[-4.0] * 3)).verdict is Verdict.FAIR


@given(
    minima=st.lists(st.floats(-30, 10), min_size=1, max_size=8),
    colder=st.floats(0, 15),
    bears=st.floats(-30, 5),
    young=st.floats(0, 8),
    doubted=st.sets(st.sampled_from(["damage_temp_mature_c", "damage_temp_young_c"])),
)
def test_a_colder_record_never_improves_the_verdict(
    minima, colder, bears, young, doubted
):
    facts = bearing(
        bears, damage_temp_young_c=bears + young, unverified=frozenset(doubted)
    )
    before, after = (
        ground(facts, years(minima=np.array(minima) - less)) for less in (0.0, colder)
    )
    assert ORDER.index(after.verdict) >= ORDER.index(before.verdict)
    pots = [
        pot_factors([facts], years(minima=np.array(minima) - less))[0]
        for less in (0.0, colder)
    ]
    assert ORDER.index(pots[1].verdict) >= ORDER.index(pots[0].verdict)


def test_doubt_warns_and_excludes_nothing():
    mark = frozenset({"damage_temp_mature_c"})
    cold = years(minima=[-25.0] * 30)
    assert ground(bearing(-20.0), cold).verdict is Verdict.NO
    doubted = ground(bearing(-20.0, unverified=mark), cold)
    assert (doubted.verdict, doubted.is_unverified) == (Verdict.POOR, True)
    # On the warm side: as alarms do, an unverified figure is taken 2 degrees warmer
    near = years(minima=[-19.0] * 30)
    assert ground(bearing(-20.0), near).verdict is Verdict.GOOD
    assert ground(bearing(-20.0, unverified=mark), near).verdict is Verdict.POOR


@pytest.mark.parametrize(
    ("hurt", "night_c", "unverified", "verdict"),
    # A light or medium cover is worth up to 8 degF, 4.4 degC
    [
        (0, -9.0, (), "good"),
        (2, -9.0, (), "good"),
        (6, -9.0, (), "fair"),
        (20, -9.0, (), "fair"),
        (20, -9.5, (), "poor"),
        (20, -9.5, ("damage_temp_young_c",), "fair"),
    ],
)
def test_young_trees_need_covers(hurt, night_c, unverified, verdict):
    facts = bearing(-20.0, damage_temp_young_c=-5.0, unverified=frozenset(unverified))
    found = ground(facts, years(minima=[night_c] * hurt + [-1.0] * (30 - hurt)))
    assert found.verdict == verdict
    assert (found.code == "cold_young") is (verdict != "good")
    if verdict == "poor":
        assert found.fixes == ("pot_indoors",)


def test_ways_out_by_how_much_is_missing():
    for missing, fixes in (
        (1.0, ("cover", "warm_wall", "pot_indoors")),
        (3.0, ("cover", "pot_indoors")),
        (9.0, ("pot_indoors",)),
    ):
        assert ground(bearing(-3.0 + missing), years(minima=THIRTY)).fixes == fixes
    stays = bearing(-2.0, container_ok="poor")
    assert ground(stays, years(minima=THIRTY)).fixes == ("cover", "warm_wall")


def test_zones_hint_where_no_temperature_is_known():
    silent = bearing(None, usda_zone_min="10")
    cold, mild = years(minima=[-15.0] * 30), years(minima=[3.0] * 30)
    hint = ground(silent, cold)
    assert (hint.verdict, hint.code) == (Verdict.POOR, "cold_by_zone")
    assert hint.is_unverified
    assert ground(silent, mild).verdict is Verdict.UNKNOWN
    assert ground(bearing(None, usda_zone_min=""), cold).code == "cold_no_figure"
    assert ground(bearing(-5.0), None).code == "cold_no_weather"
    assert ground_factors([bearing(-5.0)], cold, None)[0].number("zone") is None


def test_zones_stand_in_order():
    zones = ["8a", "8", "8b", "9", "9a", "10"]
    assert [zone_rank(zone) for zone in zones] == [8, 8, 8.5, 9, 9, 10]
    assert zone_rank("9", is_warm_end=True) == zone_rank("9b", is_warm_end=True) == 9.5
    assert zone_rank("9a", is_warm_end=True) == 9


def nights(cold_places, cold_c=-10.0):
    known = years(minima=[cold_c] * 4)
    known.tmin_c[:, cold_places] = cold_c
    return known


def test_a_pot_comes_in_by_its_own_figure_never_the_grounds():
    known = years(minima=[-6.0] * 30)
    hardy_below = bearing(-40.0, move_in_temp_c=-5.0)
    found = pot_factors([hardy_below], known)[0]
    assert found.number("bears_pot_c") == -5.0
    assert (found.verdict, found.fixes) == (Verdict.FAIR, ("pot_shed",))
    tender_below = bearing(0.0, move_in_temp_c=-8.0)
    assert pot_factors([tender_below], known)[0].verdict is Verdict.GOOD


def test_pots_without_a_figure():
    tropical = kind("x", feed_group="tropical", move_in_temp_c=None)
    assert pot_limit_c(tropical) == TENDER_POT_C
    found = pot_factors([tropical], years(minima=[-1.0] * 30))[0]
    assert (found.is_unverified, found.sources) == (True, ("common_practice",))
    silent = pot_factors([kind(move_in_temp_c=None)], years())[0]
    assert silent.code == "cold_no_figure"
    assert pot_factors([kind()], None)[0].code == "cold_no_weather"


def test_when_a_pot_comes_in():
    # From 1 November on: the nights of 20 November to 8 February
    found = pot_factors([kind(move_in_temp_c=-7.0)], nights(range(19, 100)))[0]
    assert (found.number("first_month"), found.number("last_month")) == (11, 2)
    assert found.number("nights") == 81
    evergreen = kind(move_in_temp_c=-7.0, leaf="evergreen")
    most = pot_factors([evergreen], nights(range(0, YEAR_DAYS, 2)))[0]
    assert most.verdict is Verdict.FAIR
    most = pot_factors([evergreen], nights(range(200)))[0]
    assert (most.verdict, most.fixes) == (Verdict.POOR, ("pot_indoors",))
    never = pot_factors([kind(move_in_temp_c=-7.0)], years(minima=[5.0] * 30))[0]
    assert never.code == "pot_stays_out"
    assert never.number("first_month") is None
