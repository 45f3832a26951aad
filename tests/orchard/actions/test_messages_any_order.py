"""Whatever is written, chosen and broken in any order: each once, by one way, in time.

Read off what left by rules written down here a second time.
"""

from collections import Counter
from contextlib import contextmanager
from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from allauth.account.models import EmailAddress
from django.db import transaction
from hypothesis import HealthCheck, given, settings, strategies as st

from orchard.actions import message_channels, message_digest
from orchard.actions.message_channels import Channel, send_due
from orchard.actions.message_ways import choose_ways, stop_mails
from orchard.actions.messages import Told, write_message
from orchard.models import MessageWays, PushSubscription

ZONE = ZoneInfo("America/Los_Angeles")
#: The evening before clocks go forward there (8 March 2026).
START = datetime(2026, 3, 7, 20, 0, tzinfo=UTC)
#: Each case asks the database a hundred times.
FEWER = 3
HOURS = st.sampled_from([None, time(6), time(18), time(22), time(2, 30)])
STEPS = st.lists(
    st.one_of(
        st.tuples(st.just("write"), st.booleans(), st.integers(1, 60)),
        st.tuples(st.just("wait"), st.integers(1, 700)),
        st.tuples(
            st.just("choose"),
            st.sampled_from(["push", "mail", "digest", "none"]),
            HOURS,
            HOURS,
        ),
        st.tuples(st.just("break"), st.sampled_from(["email", "push", ""])),
        st.tuples(st.just("stop"), st.booleans()),
    ),
    max_size=14,
)


class World:
    """One reader, a clock, and what came by which way, with its hour and choice."""

    def __init__(self, person, orchard):
        self.person, self.orchard, self.now = person, orchard, START
        self.broken, self.came, self.written = "", [], {}

    def take(self, road, messages):
        if road == self.broken:
            raise ConnectionRefusedError
        ways = MessageWays.objects.filter(person=self.person).first() or MessageWays()
        for message in messages:
            self.came.append((message.key, road, self.now, message.is_urgent, ways))

    def write(self, is_urgent, hours):
        key = str(len(self.written))
        self.written[key] = until = self.now + timedelta(hours=hours)
        write_message(
            person=self.person,
            orchard=self.orchard,
            what=Told.SHIFT_CHANGED,
            key=key,
            why="A test.",
            title=key,
            lines=[],
            due_at=self.now,
            until=until,
            is_urgent=is_urgent,
        )

    def wait(self, minutes):
        self.now += timedelta(minutes=minutes)

    def choose(self, way, starts, ends):
        is_half = starts is None or ends is None
        choose_ways(
            person=self.person,
            way=way,
            digest_at=time(18),
            quiet_from=None if is_half else starts,
            quiet_until=None if is_half else ends,
            urgent_in_quiet=True,
        )

    def stop(self, is_stopped):
        stop_mails(person=self.person, is_stopped=is_stopped)

    def send(self):
        send_due(now=lambda: self.now, channel_name="email")


def is_quiet(now, ways):
    """Whether a wall clock says so; clocks change at 2:00 alone."""
    starts, ends = ways.quiet_from, ways.quiet_until
    if starts is None or starts == ends:
        return False
    clock = now.astimezone(ZONE).time()
    within = (clock >= starts, clock < ends)
    return all(within) if starts < ends else any(within)


@pytest.fixture
def world(cast, site, monkeypatch):
    EmailAddress.objects.create(
        user=cast.grower, email="g@example.org", verified=True, primary=True
    )
    PushSubscription.objects.create(
        person=cast.grower, endpoint="https://push.example.org/1", made_at=START
    )
    worlds = []

    def take(road):
        return lambda message, now: worlds[-1].take(road, [message])

    for road in ("email", "push"):
        monkeypatch.setitem(message_channels.CHANNELS, road, Channel(road, take(road)))
    monkeypatch.setattr(
        message_digest,
        "mail_digest",
        lambda person, messages: worlds[-1].take("email", messages),
    )

    @contextmanager
    def begin():
        with transaction.atomic():
            worlds.append(World(cast.grower, site.orchard))
            yield worlds[-1]
            transaction.set_rollback(True)

    return begin


@settings(
    max_examples=settings().max_examples // FEWER,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(steps=STEPS)
def test_each_comes_once_by_one_way_and_in_its_time(steps, world):
    with world() as one:
        for what, *values in steps:
            if what == "break":
                (one.broken,) = values
            else:
                getattr(one, what)(*values)
            one.send()
        check(one)
        one.broken = ""
        one.choose("mail", None, None)
        waiting = {key for key, until in one.written.items() if until > one.now} - {
            key for key, *_ in one.came
        }
        for _ in range(12):  # longer than any wait after failures
            one.send()
            one.wait(60)
        assert waiting - late(one) <= {key for key, *_ in one.came}
        check(one)


def late(one):
    """Return what became of no use while its next try was waited for."""
    return {key for key, until in one.written.items() if until <= one.now}


def check(one):
    times = Counter(key for key, *_ in one.came)
    assert set(times.values()) <= {1}
    for key, road, now, is_urgent, ways in one.came:
        assert now <= one.written[key]
        assert ways.way != "none"
        if road == "email":
            assert not ways.is_mail_stopped
        is_digest_hour = ways.way == "digest" and road == "email"
        if is_quiet(now, ways) and not is_digest_hour:
            assert is_urgent
