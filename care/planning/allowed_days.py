"""Watering on the days that the local authority leaves to it.

The rule of watering knows soil and weather alone; what an authority allows concerns
whatever pours water, so it is settled here, where kinds of work are settled against
each other. Work moves to an allowed day no later than the tree can wait, earlier if it
must, and before half of its water is used only where nothing else is left. Where no
allowed day comes in time the work keeps its day and says that the rule forbids it.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from care.facts import SiteFacts, Situation, TreeFacts, WateringRule, WaterOutlook
from care.proposals import Proposal, Reason, Scalar
from care.rules import watering

#: Kinds that pour water, and whether each may wait for a day past its window.
POURING = {"watering": False, "flushing": True}
#: Work of other kinds that pours water on a day of its own.
POURS_TOO = frozenset({("freeze", "ready_soil"), ("heat", "water_early")})
#: Watering asked for on a forbidden day: with leave of whoever made the rule.
ALLOWED, BY_LEAVE = "water", "water_by_leave"
CHECK = "check"  # a finger pours nothing
#: Before so much of the easily used water is gone a watering buys no days; ours.
LEAST_USED = 0.25
SEARCHED_DAYS = 366
DAY = timedelta(days=1)
FORBIDDEN, BY_HAND = "rule_forbids_watering", "rule_by_hand_only"
RULE_CHANGES = "watering_rule_changed"
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")

IsFree = Callable[[date], bool]


def _always(day: date) -> bool:
    del day
    return True


@dataclass(frozen=True, slots=True)
class Limits:
    """The rules that bind one tree, what they spare for it already left out."""

    rules: tuple[WateringRule, ...]
    may_use_hand: bool = False  # a rule spares the can, but this tree has drippers

    def allow(self, day: date) -> bool:
        """Whether every rule leaves a day to watering."""
        return all(rule.allows(day) for rule in self.rules)

    def on(self, day: date) -> tuple[WateringRule, ...]:
        """Return the rules in force on a day."""
        return tuple(rule for rule in self.rules if rule.governs(day))


def is_against_rules(proposal: Proposal) -> bool:
    """Whether the proposal says that a local rule forbids its day."""
    return proposal.reason.fact("rule_forbids") is not None


def limits_of(site: SiteFacts, tree: TreeFacts) -> Limits:
    """Return what binds the watering of a tree.

    What is watered by can or hose is free where a rule spares hand watering; a tree
    with drippers is not, but may be watered by hand instead.
    """
    has_drip = tree.drip_flow_l_per_min is not None
    binding = tuple(
        rule
        for rule in site.watering_rules
        if not (rule.spares_containers and tree.in_container)
        and not (rule.spares_hand_watering and not has_drip)
    )
    by_hand = bool(binding) and all(rule.spares_hand_watering for rule in binding)
    return Limits(binding, may_use_hand=by_hand)


def keep_to_rules(
    proposal: Proposal, situation: Situation, is_free: IsFree = _always
) -> Proposal:
    """Return a proposal of one tree on days the local watering rules allow.

    Parameters
    ----------
    proposal : Proposal
        Of any kind; what pours no water comes back as it is.
    situation : Situation
        The tree's morning; its outlook tells the litres of another day.
    is_free : callable
        Whether other work leaves a day to this.

    Returns
    -------
    Proposal
        Without rules, the same. Applied again nothing changes.
    """
    limits = limits_of(situation.site, situation.tree)
    if (proposal.kind, proposal.action) in POURS_TOO:
        return _warned(proposal, limits)
    water = situation.water
    kept = allowed_proposal(
        proposal,
        limits,
        situation.today,
        is_free=is_free,
        first_use=_first_useful_day(water, situation.today),
    )
    is_moved = kept.reason.fact("rule_moved_from") is not None
    is_next = (kept.kind, kept.key) == (watering.KIND, "next")
    if kept is proposal or not is_moved or not is_next or water is None:
        return kept
    return _doubted(_with_litres_of_day(kept, situation, water), proposal, water)


def _doubted(kept: Proposal, asked: Proposal, water: WaterOutlook) -> Proposal:
    """Return a watering that waits only because somebody may have watered, saying so."""
    is_silent = water.unknown_water_days > watering.UNKNOWN_AFTER_DAYS
    if not is_silent or kept.due <= asked.due:
        return kept
    facts = (*kept.reason.facts, ("rule_late_if_dry", True))
    return replace(kept, reason=replace(kept.reason, facts=facts))


def _warned(proposal: Proposal, limits: Limits) -> Proposal:
    """Return work that cannot move with a word on a day the rules forbid."""
    if limits.allow(proposal.due):
        return proposal
    return replace(proposal, cautions=_cautions(proposal, limits))


def _cautions(proposal: Proposal, limits: Limits) -> tuple[str, ...]:
    caution = BY_HAND if limits.may_use_hand else FORBIDDEN
    return tuple(dict.fromkeys((*proposal.cautions, caution)))


def allowed_proposal(
    proposal: Proposal,
    limits: Limits,
    today: date,
    *,
    is_free: IsFree = _always,
    first_use: date | None = None,
) -> Proposal:
    """Return the proposal on an allowed day, its amount as it was.

    ``first_use`` is the first day on which watering early is of any use.
    """
    if proposal.kind not in POURING or not limits.rules or proposal.action == CHECK:
        return proposal
    if proposal.reason.fact("rule_day") == proposal.due:
        return proposal  # settled before, and not put off since
    asked = _as_asked(proposal)
    start, due = max(asked.earliest, today), max(asked.due, today)
    latest = max(asked.latest, due)

    def may(day: date) -> bool:
        return limits.allow(day) and is_free(day)

    if all(limits.allow(day) for day in _span(start, latest)):
        return asked
    is_far = asked.key.startswith("later/")  # waits: what comes before it moves too
    first = start if is_far or first_use is None else max(first_use, today)
    chosen = _choose(may, start, due, latest, first=first)
    if chosen is None and (is_far or POURING[asked.kind]):
        chosen = _next_allowed(may, latest)
    if chosen is None:
        return _by_leave(asked, limits, due, latest)
    return _on_day(asked, limits, chosen, start, latest)


def _span(first: date, last: date) -> Iterator[date]:
    day = first
    while day <= last:
        yield day
        day += DAY


def _choose(
    may: IsFree, start: date, due: date, latest: date, *, first: date
) -> date | None:
    """Return the best allowed day no later than needed, or ``None``.

    The last one in its window up to the best day, else the first one after it that
    is still in time, else the last one before the window.
    """
    before = [day for day in _span(start, due) if may(day)]
    after = [day for day in _span(due + DAY, latest) if may(day)]
    early = [day for day in _span(first, start - DAY) if may(day)]
    ordered = [*before[-1:], *after[:1], *early[-1:]]
    return ordered[0] if ordered else None


def _next_allowed(may: IsFree, after: date) -> date | None:
    days = _span(after + DAY, after + timedelta(days=SEARCHED_DAYS))
    return next((day for day in days if may(day)), None)


def _first_useful_day(water: WaterOutlook | None, today: date) -> date | None:
    """Return the first day on which a watering finds anything to fill."""
    if water is None or water.due_in_days is None or water.readily_available_l <= 0:
        return None
    used = 1 - water.spare_l / water.readily_available_l
    if used >= LEAST_USED:
        return today
    left = (LEAST_USED - used) / (1 - used)
    return today + timedelta(days=math.ceil(left * water.due_in_days))


def _on_day(
    asked: Proposal, limits: Limits, day: date, start: date, latest: date
) -> Proposal:
    """Return the proposal on an allowed day, its window the allowed days around it."""
    first = last = day
    while first - DAY >= start and limits.allow(first - DAY):
        first -= DAY
    while last + DAY <= latest and limits.allow(last + DAY):
        last += DAY
    facts = _facts(asked, limits, day, latest)
    return replace(
        asked, earliest=first, due=day, latest=last, reason=_told(asked.reason, facts)
    )


def _by_leave(asked: Proposal, limits: Limits, due: date, latest: date) -> Proposal:
    """Return the proposal on its own forbidden day, saying that it is forbidden."""
    following = _next_allowed(limits.allow, latest)
    facts = (
        *_facts(asked, limits, due, latest),
        ("rule_forbids", not limits.may_use_hand),
        ("rule_by_hand", limits.may_use_hand),
        ("rule_next_allowed", following),
        ("rule_short_from", latest + DAY),
    )
    needs_leave = asked.action == ALLOWED and not limits.may_use_hand
    return replace(
        asked,
        action=BY_LEAVE if needs_leave else asked.action,
        earliest=min(asked.earliest, due),
        due=due,
        latest=latest,
        cautions=_cautions(asked, limits),
        reason=_told(asked.reason, facts),
    )


Facts = tuple[tuple[str, Scalar], ...]


def _facts(asked: Proposal, limits: Limits, day: date, latest: date) -> Facts:
    rules = limits.on(day) or limits.on(asked.due) or limits.rules
    weekdays = frozenset.intersection(*(rule.weekdays for rule in rules))
    names = ", ".join(WEEKDAYS[number] for number in sorted(weekdays))
    sources = dict.fromkeys(rule.source for rule in rules if rule.source)
    return (
        ("rule_weekdays", names or "none"),
        ("rule_source", "; ".join(sources)),
        ("rule_moved_from", None if day == asked.due else asked.due),
        ("rule_latest", latest),
        ("rule_day", day),
    )


def _told(reason: Reason, facts: Facts) -> Reason:
    changes = tuple(dict.fromkeys((*reason.would_change, RULE_CHANGES)))
    return Reason(reason.code, (*reason.facts, *facts), changes)


def _as_asked(proposal: Proposal) -> Proposal:
    """Return the proposal as it was before these rules moved it.

    What was put off since is not brought forward again.
    """
    reason = proposal.reason
    latest = reason.fact("rule_latest")
    if not isinstance(latest, date):
        return proposal
    moved_from = reason.fact("rule_moved_from")
    due = moved_from if isinstance(moved_from, date) else proposal.due
    due = max(due, proposal.earliest)
    plain = tuple(fact for fact in reason.facts if not fact[0].startswith("rule_"))
    changes = tuple(code for code in reason.would_change if code != RULE_CHANGES)
    return replace(
        proposal,
        action=ALLOWED if proposal.action == BY_LEAVE else proposal.action,
        due=due,
        latest=max(latest, due),
        cautions=tuple(c for c in proposal.cautions if c not in (FORBIDDEN, BY_HAND)),
        reason=Reason(reason.code, plain, changes),
    )


def _with_litres_of_day(
    kept: Proposal, situation: Situation, water: WaterOutlook
) -> Proposal:
    """Return a moved watering with what the soil is short of on its new day.

    Reckoned on from the best day by what the tree uses a day until then, and never
    more than the soil holds.
    """
    due_days = water.due_in_days
    if due_days is None or water.water_net_l <= 0:
        return kept
    days = (kept.due - situation.today).days
    if due_days > 0:
        rate = (water.water_net_l - min(water.missing_l, water.water_net_l)) / due_days
    else:
        rate = water.use_l
    capacity = water.store_l + water.outer_store_l
    net = min(water.water_net_l + rate * (days - due_days), capacity)
    moved = replace(
        water,
        due_in_days=days,
        earliest_in_days=days,
        latest_in_days=days,
        water_net_l=net,
        water_gross_l=net * water.water_gross_l / water.water_net_l,
    )
    found = next(
        each
        for each in watering.propose(replace(situation, water=moved))
        if each.key == "next"
    )
    told = dict(found.reason.facts)
    facts = tuple((name, told.get(name, value)) for name, value in kept.reason.facts)
    reckoned: Facts = (
        ("rule_net_due_l", round(water.water_net_l, 3)),
        ("rule_use_litres_per_day", round(rate, 3)),
        ("rule_days_moved", days - due_days),
        ("rule_capacity_l", round(capacity, 3)),
    )
    return replace(
        kept,
        amount=found.amount,
        effort_minutes=found.effort_minutes,
        reason=replace(kept.reason, facts=(*facts, *reckoned)),
    )
