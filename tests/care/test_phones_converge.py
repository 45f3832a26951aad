"""Three phones without a network, a network without mercy: one log, whatever happens.

Requests and answers are lost, doubled and repeated long after, phones send when they
like, the plan withdraws tasks meanwhile. Each act is done once, none is lost, and the
log is what a serial one (``serial_log.py``) would be.
"""

import json
import uuid
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from typing import Any

import pytest
from django.db import transaction
from django.test import RequestFactory
from django.utils import timezone
from hypothesis import HealthCheck, given, settings, strategies as st

from care.models import LogEntry, Sending, Task
from care.views.sendings import sendings
from orchard.models import Person
from tests.care.sending_phone import PATH
from tests.care.serial_log import Came, Line, SerialLog

PHONES = 3
#: How often each kind of luck came over the cases: none would show nothing.
SEEN: Counter[str] = Counter()


@dataclass(frozen=True)
class Act:
    """One thing done on a phone; ``about`` is the number of a task, a tree or an act."""

    what: str
    about: int
    amount: float = 0.0
    reply: str = ""
    id: str = ""
    seen: tuple[str, ...] = ()


TASKS = st.integers(0, 4)
REPLY = st.sampled_from(["same", "second", "drop"])
ACTS = st.one_of(
    st.builds(
        Act, st.just("tick"), TASKS, st.sampled_from([5.0, 9.0, 20.0]), reply=REPLY
    ),
    st.builds(Act, st.just("skip"), TASKS),
    st.builds(Act, st.just("undo"), st.integers(0, 9)),
    st.builds(Act, st.just("note"), st.integers(0, 1)),
    st.builds(
        Act,
        st.just("pick"),
        st.integers(0, 1),
        st.sampled_from([2.0, 2.1, 3.0]),
        reply=REPLY,
    ),
)
LUCK = st.sampled_from(["through", "unheard", "unanswered", "doubled", "repeated"])
MOVES = st.one_of(
    st.tuples(st.integers(0, PHONES - 1), LUCK),
    st.tuples(st.just(-1), TASKS),  # the plan withdraws a task, or asks for it again
)
HANDS = st.lists(st.lists(ACTS, max_size=5), min_size=PHONES, max_size=PHONES)


@dataclass
class World:
    """Two trees, five tasks (two of them feedings of one tree), three people."""

    people: list[Person]
    trees: list[Any]
    tasks: list[Task]
    log: SerialLog
    written: dict[str, str] = field(default_factory=dict)  # what is sent -> its entry
    taken: list[tuple[int, Act]] = field(default_factory=list)
    answers: dict[str, dict[str, Any]] = field(default_factory=dict)
    bodies: dict[str, dict[str, Any]] = field(default_factory=dict)

    def fields(self, phone: int, act: Act) -> dict[str, Any]:
        if act.what in ("tick", "skip"):
            about = {"task": str(self.tasks[act.about].public_id)}
        elif act.what == "undo":
            about = {"entry": self.target(phone, act)}
        else:
            about = {"tree": str(self.trees[act.about].public_id)}
        by_what: dict[str, dict[str, Any]] = {
            "tick": {"amount": act.amount},
            "skip": {"reason": "other"},
            "note": {"note": "Wasps"},
            "pick": {"mass": act.amount},
        }
        more = by_what.get(act.what, {})
        reply: dict[str, Any] = (
            {"same_job": act.reply, "seen": list(act.seen)} if act.seen else {}
        )
        return {**about, **more, **reply}

    def target(self, phone: int, act: Act) -> str:
        """Return which earlier act this one takes back: one's own, or anybody's."""
        own = [one.id for whose, one in self.taken if whose == phone]
        known = own if own and act.about % 2 else list(self.answers)
        return known[-1 - act.about // 2 % len(known)] if known else UNKNOWN

    def deliver(self, phone: int, act: Act) -> tuple[int, dict[str, Any]]:
        """Let the server have it; check its answer against the serial log's."""
        here = timezone.now().isoformat()
        what = {
            "tick": "task_done",
            "skip": "task_skip",
            "undo": "entry_undo",
            "note": "tree_note",
            "pick": "tree_harvest",
        }[act.what]
        request = RequestFactory().post(
            PATH,
            {
                "id": act.id,
                "what": what,
                "happened_at": HAPPENED,
                "sent_at": here,
                **self.bodies.setdefault(act.id, self.fields(phone, act)),
            },
        )
        request.user = self.people[phone]
        vars(request)["_dont_enforce_csrf_checks"] = True
        answer = sendings(request, site="test-site")
        told = json.loads(answer.content)
        assert told["id"] == act.id
        self.check(phone, act, answer.status_code, told)
        return answer.status_code, told

    def check(self, phone: int, act: Act, status: int, told: dict[str, Any]) -> None:
        if act.id in self.answers:
            assert (status, told) == (200, {**self.answers[act.id], "state": "again"})
            SEEN["again"] += 1
            return
        came = self.serially(phone, act)
        SEEN[came.state] += 1
        assert told["state"] == came.state
        assert status == {"asks": 409, "gone": 404}.get(came.state, 200)
        if status == 200:
            self.answers[act.id] = told
            self.taken.append((phone, act))
            self.log.sent[act.id] = came.line
            if act.id in self.log.lines:
                self.written[act.id] = told["entry"]

    def serially(self, phone: int, act: Act) -> Came:
        who, log = self.people[phone].username, self.log
        reply = (act.reply, [self.line(one) for one in act.seen]) if act.seen else None
        match act.what:
            case "tick":
                amount = act.amount if self.tasks[act.about].unit else None
                return log.tick(act.id, who, f"t{act.about}", amount, reply)
            case "skip":
                return log.skip(act.id, who, f"t{act.about}")
            case "undo":
                return log.undo(who, self.bodies[act.id]["entry"])
            case "note":
                return log.note(act.id, who, f"tree{act.about}")
        return log.pick(act.id, who, f"tree{act.about}", act.amount, reply)

    def line(self, entry: str) -> Line:
        (sent,) = [sent for sent, one in self.written.items() if one == entry]
        return self.log.lines[sent]

    def plan_moves(self, number: int) -> None:
        """The plan withdraws a task that is open, and asks again for a withdrawn one."""
        status = self.log.plan_moves(f"t{number}")
        Task.objects.filter(pk=self.tasks[number].pk).update(status=status)

    def compare(self) -> None:
        """Nothing is lost, nothing doubled, and all stands as the serial log has it."""
        assert {
            f"t{number}": Task.objects.get(pk=task.pk).status
            for number, task in enumerate(self.tasks)
        } == self.log.status
        assert {str(one) for one in Sending.objects.values_list("pk", flat=True)} == (
            set(self.answers)
        )
        entries = {
            str(one.public_id): one
            for one in LogEntry.objects.select_related("person").prefetch_related(
                "also_by"
            )
        }
        assert set(entries) == set(self.written.values())
        assert len(set(self.written.values())) == len(self.written)
        for sent, line in self.log.lines.items():
            entry = entries[self.written[sent]]
            assert entry.person is not None
            assert (entry.what, entry.person.username) == (line.what, line.who)
            assert entry.amount == line.amount
            assert {one.username for one in entry.also_by.all()} == line.also
            assert (entry.voided_at is not None) == line.is_void


HAPPENED = timezone.now().isoformat()
UNKNOWN = str(uuid.UUID(int=7))


@dataclass
class Hand:
    """One phone with what it has still to send, in order."""

    number: int
    waiting: list[Act]

    def send(self, world: World, luck: str) -> None:
        if luck == "repeated":  # something taken long ago comes once more
            for phone, act in world.taken[-2:]:
                world.deliver(phone, act)
            return
        if not self.waiting or luck == "unheard":
            return
        act = self.waiting[0]
        status, told = world.deliver(self.number, act)
        if luck == "doubled" and status == 200:
            world.deliver(self.number, act)
        if luck == "unanswered":
            return
        self.waiting.pop(0)
        if told["state"] == "asks" and act.reply != "drop":
            seen = tuple(told["same_job"]["seen"])
            self.waiting.insert(0, replace(act, id=str(uuid.uuid4()), seen=seen))


@contextmanager
def apart() -> Iterator[None]:
    with transaction.atomic():
        yield
        transaction.set_rollback(True)


@pytest.fixture
def make_world(cast, make_tree, make_task):
    trees = [make_tree("Plum"), make_tree("Pear")]
    fed = {"kind": "feeding", "action": "feed", "unit": "g", "amount": 200.0}
    tasks = [
        make_task(trees[0]),
        make_task(trees[1]),
        make_task(trees[0], kind="weeding", action="weed", unit="", amount=None),
        make_task(trees[0], key="2025/1", **fed),
        make_task(trees[0], key="2025/2", **fed),
    ]
    names = {f"t{number}": None for number in range(3)}
    people = [cast.owner, cast.coordinator, cast.grower]

    def make():
        log = SerialLog({**names, "t3": "Plum", "t4": "Plum"})
        return World(people, trees, tasks, log)

    return make


#: Fewer cases may miss one of the kinds by chance.
ENOUGH_TO_SEE_ALL = 1_000
EVERY_KIND = (
    *("through", "unheard", "unanswered", "doubled", "repeated"),
    *("kept", "again", "joined", "late", "asks", "gone"),
)
SLOW = (HealthCheck.function_scoped_fixture, HealthCheck.too_slow)


def phones_with(hands: list[list[Act]]) -> list[Hand]:
    return [
        Hand(number, [replace(act, id=str(uuid.uuid4())) for act in acts])
        for number, acts in enumerate(hands)
    ]


def test_three_phones_and_a_bad_network_make_one_log(make_world):
    @settings(suppress_health_check=SLOW)
    @given(hands=HANDS, moves=st.lists(MOVES, max_size=30))
    def whatever_happens(hands, moves):
        with apart():
            world = make_world()
            phones = phones_with(hands)
            for phone, move in moves:
                if phone < 0:
                    world.plan_moves(move)
                else:
                    SEEN[move] += 1
                    phones[phone].send(world, move)
            for one in phones:  # the network is back for good
                while one.waiting:
                    one.send(world, "through")
            world.compare()

    SEEN.clear()
    whatever_happens()
    if settings().max_examples >= ENOUGH_TO_SEE_ALL:
        assert min(SEEN[one] for one in EVERY_KIND) > 0, SEEN


#: Ticks, skips and notes by anybody; no undo, and nothing that is asked about.
PLAIN = st.one_of(
    st.builds(Act, st.just("tick"), st.integers(0, 2), st.just(9.0)),
    st.builds(Act, st.just("skip"), st.integers(0, 2)),
    st.builds(Act, st.just("note"), st.integers(0, 1)),
)


@settings(suppress_health_check=SLOW)
@given(
    hands=st.lists(st.lists(PLAIN, max_size=5), min_size=PHONES, max_size=PHONES),
    order=st.lists(st.integers(0, PHONES - 1), max_size=15),
)
def test_whoever_sends_first_the_same_is_done_by_the_same_people(
    make_world, hands, order
):
    with apart():
        world, phones = make_world(), phones_with(hands)
        for phone in [*order, *(n for n in range(PHONES) for _ in hands[n])]:
            phones[phone].send(world, "through")
        world.compare()
        for number, task in enumerate(world.tasks[:3]):
            doers = {
                world.people[phone].username
                for phone, acts in enumerate(hands)
                if any((act.what, act.about) == ("tick", number) for act in acts)
            }
            skipped = any(
                (act.what, act.about) == ("skip", number)
                for acts in hands
                for act in acts
            )
            task.refresh_from_db()
            assert task.status == (
                "done" if doers else "skipped" if skipped else "open"
            )
            assert doers == named_in(task)
        notes = [act for acts in hands for act in acts if act.what == "note"]
        assert LogEntry.objects.filter(what="note").count() == len(notes)


def named_in(task: Task) -> set[str]:
    """Return everybody whom the one entry that did a task names."""
    done = LogEntry.objects.filter(task=task, what="done", voided_at=None).first()
    if done is None or done.person is None:
        return set()
    return {done.person.username, *done.also_by.values_list("username", flat=True)}
