"""Match proposals to the stored tasks: create, move, withdraw, revive.

What a person did, wrote or pinned is never edited and never deleted.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from care.facts import WorkDone
from care.models import Task
from care.proposals import Proposal
from orchard.models import Site

Identity = tuple[int, str, str]

# After a person skips work that the state of the tree asks for, how long we believe
# them before asking again. Common practice, no source.
SKIP_HOLDS = {
    "watering": timedelta(days=2),
    "mulching": timedelta(days=60),
    "cold": timedelta(days=1),
}
WRITTEN = (
    "action",
    "earliest",
    "due",
    "latest",
    "likely_from",
    "likely_to",
    "amount",
    "unit",
    "reason",
    "sources",
    "cautions",
    "effort_minutes",
    "is_firm",
    "is_urgent",
    "status",
)


#: Moves what was put off to a day that the local rules allow.
Allow = Callable[[Proposal], Proposal]


def _as_it_is(proposal: Proposal) -> Proposal:
    return proposal


@dataclass(slots=True)
class Matched:
    """Tasks after matching; ``current`` are the open ones, new ones included."""

    created: list[Task] = field(default_factory=list)
    changed: list[Task] = field(default_factory=list)
    current: list[Task] = field(default_factory=list)


def wanted(
    proposals: Iterable[Proposal],
    work: Iterable[WorkDone],
    closed: Iterable[Identity],
    today: date,
    allow: Allow = _as_it_is,
) -> dict[Identity, Proposal]:
    """Return the proposals worth storing, by identity.

    Left out are far projections of state-driven kinds (they are recomputed when
    asked for), calendar-driven work already closed by a person, and work skipped or
    done too recently to ask again. The first proposal of an identity wins. ``allow``
    moves what a skip put off to a day that the local rules allow.
    """
    finished = set(closed)
    held = _held_until(work)
    kept: dict[Identity, Proposal] = {}
    for proposal in proposals:
        identity = (proposal.tree_id, proposal.kind, proposal.key)
        is_state_driven = proposal.key.split("/")[0] == "next"
        if proposal.key.startswith("later/"):
            continue
        if not is_state_driven and identity in finished:
            continue
        until = held.get(identity)
        if until is not None and until > today:
            if proposal.is_urgent:
                continue
            proposal = allow(push(proposal, until))  # noqa: PLW2901 (the same, later)
        kept.setdefault(identity, proposal)
    return kept


def _held_until(work: Iterable[WorkDone]) -> dict[Identity, date]:
    """Return until when a person's word on state-driven work is believed."""
    held: dict[Identity, date] = {}
    for item in work:
        identity = (item.tree_id, item.kind, item.key)
        if item.what == "skipped" and item.kind in SKIP_HOLDS:
            until = item.on + SKIP_HOLDS[item.kind]
        elif item.kind == "cold":
            until = item.on + timedelta(days=1)  # done for tonight
        else:
            continue
        held[identity] = max(until, held.get(identity, until))
    return held


def push(proposal: Proposal, until: date) -> Proposal:
    """Return the proposal with no day of its window before ``until``."""
    return replace(
        proposal,
        earliest=max(proposal.earliest, until),
        due=max(proposal.due, until),
        latest=max(proposal.latest, until),
    )


def match(
    site: Site,
    proposals: Mapping[Identity, Proposal],
    stored: Iterable[Task],
    allow: Allow = _as_it_is,
) -> Matched:
    """Match by identity; ``stored`` are the site's open and withdrawn tasks.

    ``allow`` moves what a person put off to a day that the local rules allow.
    """
    result = Matched()
    seen: set[Identity] = set()
    for task in stored:
        identity = (task.tree_id, task.kind, task.key)
        seen.add(identity)
        proposal = proposals.get(identity)
        is_changed = _write(task, proposal, allow) if proposal else _withdraw(task)
        if is_changed:
            result.changed.append(task)
        if task.status == Task.Status.OPEN:
            result.current.append(task)
    for identity, proposal in proposals.items():
        if identity not in seen:
            task = Task(
                site=site,
                tree_id=proposal.tree_id,
                kind=proposal.kind,
                key=proposal.key,
            )
            _write(task, proposal, allow)
            result.created.append(task)
            result.current.append(task)
    return result


def _withdraw(task: Task) -> bool:
    if task.status == Task.Status.WITHDRAWN:
        return False
    task.status = Task.Status.WITHDRAWN
    task.round = None
    return True


def _write(task: Task, proposal: Proposal, allow: Allow) -> bool:
    """Write a proposal into a task; whether anything differs from before."""
    held = proposal
    if task.not_before is not None:
        held = allow(push(proposal, task.not_before))
    likely = held.likely or (None, None, None)
    fresh = {
        "action": held.action,
        "earliest": held.earliest,
        "due": held.due,
        "latest": held.latest,
        "likely_from": likely[0],
        "likely_to": likely[2],
        "amount": held.amount,
        "unit": held.unit,
        "reason": reason_values(held),
        "sources": list(held.sources),
        "cautions": list(held.cautions),
        "effort_minutes": held.effort_minutes,
        "is_firm": held.is_firm,
        "is_urgent": held.is_urgent,
        "status": Task.Status.OPEN,
    }
    is_changed = any(getattr(task, name) != value for name, value in fresh.items())
    for name, value in fresh.items():
        setattr(task, name, value)
    return is_changed


def reason_values(proposal: Proposal) -> dict[str, object]:
    """Return a reason as JSON values: code, facts in order, what would change it."""
    return {
        "code": proposal.reason.code,
        "facts": [
            [name, value.isoformat() if isinstance(value, date) else value]
            for name, value in proposal.reason.facts
        ],
        "would_change": list(proposal.reason.would_change),
    }
