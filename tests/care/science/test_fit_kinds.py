"""All factors of a kind together: the limiting one, the order, what is not known."""

import pytest
from hypothesis import given, settings, strategies as st

from care.facts.fit import Factor, Topic, Verdict
from care.science.fit_kinds import FitPlace, fit_kinds, in_order
from care.science.fit_verdicts import at_worst, joined, rank
from tests.care.science.fit_cases import SITE, cultivar, kind, years

KINDS = [
    (kind("apple"), None),
    (kind("apple"), cultivar(chill_hours_min=100.0)),
    (kind("date"), None),
    (kind("lemon", leaf="evergreen", damage_temp_mature_c=-2.2), None),
    (kind("olive", leaf="evergreen", damage_temp_mature_c=-6.5), None),
    (kind("cherry", chill_hours_min=1500.0, chill_hours_max=1500.0), None),
]
PLACE = FitPlace(SITE, years())


def fits(kinds=KINDS, place=PLACE):
    return fit_kinds(kinds, {}, place)


@settings(max_examples=15)
@given(st.permutations(KINDS))
def test_order_does_not_hang_on_the_order_given(kinds):
    assert [fit.key for fit in fits(kinds)] == [fit.key for fit in fits()]


def test_best_first_and_alike_by_name():
    verdicts = [fit.ground.verdict for fit in fits()]
    order = [Verdict.GOOD, Verdict.FAIR, Verdict.POOR, Verdict.NO]
    assert verdicts == sorted(verdicts, key=order.index)
    names = [fit.name for fit in fits() if fit.key in ("apple", "date")]
    assert names == ["Apple", "Date"]
    assert "Apple Early" in [fit.name for fit in fits()]


def test_the_worst_factor_limits():
    by_key = {fit.key: fit for fit in fits()}
    assert by_key["cherry"].ground.limiting.topic is Topic.CHILL
    assert by_key["lemon"].ground.limiting.topic is Topic.COLD
    assert by_key["lemon"].ground.verdict is Verdict.NO
    assert by_key["lemon"].pot.verdict is not Verdict.NO
    assert by_key["apple"].ground.limiting is None
    in_pots = in_order(fits(), in_pot=True)
    assert in_pots[-1].key == "cherry"
    assert by_key["apple"].place(in_pot=True) is by_key["apple"].pot


def test_without_weather_nothing_is_called_fitting():
    found = fits(place=FitPlace(SITE, None))
    assert {fit.ground.verdict for fit in found} == {Verdict.UNKNOWN}
    poor = fits([(kind(container_ok="poor"), None)], FitPlace(SITE, None))[0]
    assert poor.pot.verdict is Verdict.POOR
    assert poor.pot.limiting.topic is Topic.POT
    assert poor.ground.limiting.code == "cold_no_weather"


def test_frost_at_bloom_of_a_pot_is_carried_away_from():
    known = years()
    known.tmin_c[:, 100:200] = -5.0
    found = fits([(kind("medlar"), None)], FitPlace(SITE, known))[0]
    assert found.ground.factor(Topic.BLOOM_FROST).verdict is Verdict.POOR
    in_pot = found.pot.factor(Topic.BLOOM_FROST)
    assert (in_pot.verdict, in_pot.fixes) == (Verdict.FAIR, ("pot_at_bloom",))


def test_rain_and_room_reach_the_kinds():
    place = FitPlace(SITE, years(), rain_mm=[100.0] * 12, room_m=1.0)
    found = fits([(kind("peach"), None)], place)[0]
    assert found.ground.factor(Topic.SPACE).verdict is Verdict.POOR
    assert found.pot.factor(Topic.SPACE) is None
    assert found.cautions


def factor(verdict, margin=None, topic=Topic.SOIL):
    return Factor(topic, verdict, "x", margin=margin)


def test_of_factors_alike_the_nearest_to_its_limit_is_named():
    near, far = factor(Verdict.FAIR, -0.2), factor(Verdict.FAIR, 0.4)
    assert joined([far, near]).limiting is near
    assert joined([factor(Verdict.FAIR), near]).limiting is near
    assert joined([]).verdict is Verdict.UNKNOWN


def test_the_nearest_limit_ranks():
    near, far = (
        joined([factor(Verdict.GOOD, margin), factor(Verdict.GOOD)])
        for margin in (0.1, 0.8)
    )
    assert rank(far) < rank(near) < rank(joined([factor(Verdict.NO, 1.0)]))
    assert rank(joined([factor(Verdict.GOOD)]))[1] == 0


@pytest.mark.parametrize("verdict", list(Verdict))
def test_softening_never_worsens(verdict):
    softened = at_worst(verdict, Verdict.FAIR)
    kept = verdict in (Verdict.GOOD, Verdict.FAIR, Verdict.UNKNOWN)
    assert softened is (verdict if kept else Verdict.FAIR)
    assert at_worst(Verdict.UNKNOWN, Verdict.GOOD) is Verdict.UNKNOWN


def test_a_factor_tells_its_numbers():
    assert Factor(Topic.SOIL, Verdict.GOOD, "x", (("ph", 6.5),)).number("ph") == 6.5
    assert factor(Verdict.GOOD).number("ph") is None
