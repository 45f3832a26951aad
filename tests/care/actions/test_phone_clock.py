"""When something happened, by a phone whose clock may be wrong."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, strategies as st

from care.actions.phone_clock import BELIEVED, MOST_OFF_S, phone_time

NOW = datetime(2026, 6, 1, 12, tzinfo=UTC)
HOUR = timedelta(hours=1)
SPAN = st.timedeltas(timedelta(days=-40_000), timedelta(days=40_000))


def test_a_right_clock_is_believed():
    near = phone_time(
        happened_at=NOW - 3 * HOUR, sent_at=NOW - timedelta(minutes=5), now=NOW
    )
    assert (near.happened_at, near.off_s) == (NOW - 3 * HOUR, None)


@pytest.mark.parametrize("ahead_h", [3, -3, 24 * 365 * 56, -24 * 365 * 56])
def test_a_wrong_clock_is_put_right(ahead_h):
    ahead = ahead_h * HOUR
    found = phone_time(happened_at=NOW + ahead - 5 * HOUR, sent_at=NOW + ahead, now=NOW)
    assert (found.happened_at, found.off_s) == (NOW - 5 * HOUR, ahead_h * 3600)


def test_a_clock_that_was_set_meanwhile_is_not_believed():
    """It happened in 1970, as the phone had it, and is sent in 2026."""
    unset = datetime(1970, 1, 1, tzinfo=UTC)
    found = phone_time(happened_at=unset, sent_at=NOW, now=NOW)
    assert found.happened_at == NOW
    assert found.off_s == round((unset - NOW).total_seconds())


@given(happened=SPAN, sent=SPAN)
def test_it_is_never_in_the_future_nor_longer_ago_than_believed(happened, sent):
    found = phone_time(happened_at=NOW + happened, sent_at=NOW + sent, now=NOW)
    assert NOW - BELIEVED <= found.happened_at <= NOW
    assert abs(found.off_s or 0) <= MOST_OFF_S
