"""Fair shares of a season's places: by what people offered, within their limits."""

from datetime import date, timedelta
from fractions import Fraction

from hypothesis import given, strategies as st

from care.planning.offers import MemberOffers
from care.planning.shift_shares import fair_shares, offered_shifts

MONDAY = date(2025, 6, 30)


def member(person_id, days, **facts):
    offered = {MONDAY + timedelta(days=number): 0 for number in days}
    return MemberOffers(person_id, f"{person_id}", offered, frozenset(), **facts)


def test_limits_of_week_and_season_bound_what_counts_as_offered():
    assert offered_shifts(member(1, range(14))) == 14
    assert offered_shifts(member(1, range(14), most_a_week=1)) == 2
    assert offered_shifts(member(1, range(14), most_a_week=3, most_a_season=5)) == 5


def test_a_share_is_in_proportion_and_learners_have_none():
    members = [
        member(1, [5, 12]),
        member(2, [5]),
        member(3, []),
        member(4, [5], is_learner=True),
        member(5, [5], is_under_18=True),
    ]
    assert fair_shares(members, 12) == {1: Fraction(8), 2: Fraction(4)}
    assert fair_shares([], 12) == {}
    assert fair_shares(members, 0) == {}


@given(
    offered=st.lists(st.sets(st.integers(0, 27), max_size=10), min_size=1, max_size=8),
    places=st.integers(0, 60),
)
def test_shares_add_up_to_the_places(offered, places):
    members = [member(number, days) for number, days in enumerate(offered)]
    shares = fair_shares(members, places)
    assert sum(shares.values()) == (places if any(offered) else 0)
