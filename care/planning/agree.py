"""Settle what the rules of one tree ask for against each other.

Each rule knows only its own kind of work. Here the kinds give way to one another:
cold beats everything tonight, nothing heavy is watered before it is carried, no feed
goes to roots just cut nor is washed out again, frozen wood and waiting days are waited
out, cuts wait for the end of bloom, and water is poured on the days that the local
authority allows. But for that, work is put off and never brought forward; its reason
says from when and by what. Only a feeding put off past its last good day is left out,
since growth so late would freeze.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from care.facts import Hold, Situation, Stage
from care.planning.allowed_days import is_against_rules
from care.proposals import Proposal, Reason
from care.science.salt_flush import AFTER_FEEDING_DAYS
from care.science.season import Window, season_of

CUTTING = frozenset({"pruning", "training"})
#: Kinds that others give way to, in this order; all the rest come after them.
FIRST = ("cold", "freeze", "heat", "potting", "feeding", "flushing")
NOT_ON_A_COLD_NIGHT = frozenset({*CUTTING, "feeding", "potting", "planting"})
NOT_ON_A_HOT_DAY = frozenset({*CUTTING, "feeding", "potting", "planting"})
CARRYING = frozenset({"move_in", "move_out", "group"})
ROOT_WORK = frozenset({"pot_up", "repot", "root_prune"})
ROOT_WEEK = timedelta(days=7)  # between cut roots and feed; common practice, no source
DAY = timedelta(days=1)
# Fire blight enters open flowers and fresh cuts of pome fruit alike; these days around
# full bloom are common practice, no source.
BLIGHT_GROUP = "pome"
BEFORE_BLOOM = timedelta(days=7)
AFTER_BLOOM = timedelta(days=14)
#: Kinds whose last day is a limit and not a wish.
ENDING = frozenset({"feeding"})
#: What a caution says where watering cannot wait for the carrying.
MOVE_FIRST = "move_before_watering"


IsFree = Callable[[date], bool]
Keep = Callable[[Proposal, IsFree], Proposal]


@dataclass(frozen=True, slots=True)
class Block:
    """Days on which some kinds of work have to wait, the last of them excluded."""

    cause: str
    kinds: frozenset[str]
    start: date
    until: date
    actions: frozenset[str] = frozenset()  # empty: all of the kinds
    must_hold: bool = True  # otherwise only where the window allows to wait

    def concerns(self, proposal: Proposal) -> bool:
        """Whether the proposal is of the work that has to wait."""
        is_of_actions = not self.actions or proposal.action in self.actions
        return proposal.kind in self.kinds and is_of_actions

    def __contains__(self, day: date) -> bool:
        return self.start <= day < self.until


def agree(
    proposals: Sequence[Proposal],
    today: date,
    *,
    holds: Iterable[Hold] = (),
    bloom: Window | None = None,
    roots_cut: Iterable[date] = (),
    keep: Keep | None = None,
) -> list[Proposal]:
    """Return one tree's proposals with those put off that others forbid.

    Parameters
    ----------
    proposals : sequence of Proposal
        Of one tree.
    today : datetime.date
        On which late work would be done.
    holds : iterable of Hold
        Waiting days before its fruit may be picked.
    bloom : Window or None
        In which it may not be cut; ``None`` where cuts in bloom do no harm or its days
        are not known.
    roots_cut : iterable of date
        Days on which its roots were cut, as logged.
    keep : callable, optional
        Moves a settled proposal, whatever its kind, to days that local rules allow and
        that are free of other work.

    Returns
    -------
    list of Proposal
        In the same order, but for feedings put off past their last day. Applied again
        nothing changes.
    """
    blocks = [*_of_holds(holds), *_of_bloom(bloom)]
    blocks += [_no_feed_near(day) for day in roots_cut]
    settled: dict[int, Proposal] = {}
    for place in sorted(range(len(proposals)), key=lambda n: _rank(proposals[n])):
        concerned = [block for block in blocks if block.concerns(proposals[place])]
        proposal = _settle(proposals[place], concerned, today)
        if _is_too_late(proposal, proposals[place]):
            continue
        if keep is not None:
            proposal = _by_local_rules(proposal, proposals[place], concerned, keep)
        blocks += _blocks_of(proposal)
        settled[place] = proposal
    return [settled[place] for place in sorted(settled)]


def _by_local_rules(
    proposal: Proposal, asked: Proposal, concerned: Sequence[Block], keep: Keep
) -> Proposal:
    """Return the proposal as ``keep`` moves it.

    Rather on the one allowed day on which a pot is carried, and carried first, than
    on a forbidden one.
    """
    holding = [block for block in concerned if block.must_hold]

    def is_free(day: date) -> bool:
        return not any(day in block for block in holding)

    moved = keep(proposal, is_free)
    if is_against_rules(moved):
        other = keep(asked, is_free)
        moved = moved if is_against_rules(other) else other
    for block in concerned:
        if not block.must_hold and moved.due in block and moved.due != proposal.due:
            moved = _kept(moved, block)
    return moved


def _is_too_late(settled: Proposal, asked: Proposal) -> bool:
    return settled.kind in ENDING and settled.due > max(asked.latest, asked.due)


def bloom_without_cuts(situation: Situation) -> Window | None:
    """Return the days of bloom in which a tree is not cut, or ``None``.

    Pome fruit only, and only where its bloom was seen or modelled: the catalogue's
    months are too wide to forbid cuts in.
    """
    if situation.tree.species.feed_group != BLIGHT_GROUP:
        return None
    season = season_of(situation.today, southern=situation.site.is_southern)
    full = situation.stage_day(Stage.FULL_BLOOM, season)
    if full is None or full.basis == "months":
        return None
    fall = situation.stage_day(Stage.PETAL_FALL, season)
    end = full.on + AFTER_BLOOM if fall is None else max(fall.on, full.on)
    return Window(full.on - BEFORE_BLOOM, end)


def days_of_cut_roots(situation: Situation) -> tuple[date, ...]:
    """Return when a pot was potted on or its roots were cut; looks carry no amount."""
    return tuple(
        work.on
        for work in situation.logged("potting")
        if work.what == "done" and work.amount is not None
    )


def _rank(proposal: Proposal) -> int:
    return FIRST.index(proposal.kind) if proposal.kind in FIRST else len(FIRST)


def _settle(proposal: Proposal, blocks: Sequence[Block], today: date) -> Proposal:
    """Return the proposal on the first days that nothing forbids."""
    day, block = _first_free(max(proposal.due, today), blocks)
    if block is None:
        earliest, _ = _first_free(max(proposal.earliest, today), blocks)
        is_held = earliest > max(proposal.earliest, today)
        return replace(proposal, earliest=earliest) if is_held else proposal
    if not block.must_hold and day > proposal.latest:
        return _kept(proposal, block)
    return _put_off(proposal, day, block.cause)


def _first_free(day: date, blocks: Sequence[Block]) -> tuple[date, Block | None]:
    """Return the first day from ``day`` on in no block, and the last that was met."""
    met = None
    while found := next((block for block in blocks if day in block), None):
        day, met = found.until, found
    return day, met


def _put_off(proposal: Proposal, until: date, cause: str) -> Proposal:
    kept = tuple(
        fact
        for fact in proposal.reason.facts
        if fact[0] not in ("postponed_by", "postponed_from")
    )
    first_due = proposal.reason.fact("postponed_from") or proposal.due
    facts = (*kept, ("postponed_by", cause), ("postponed_from", first_due))
    return replace(
        proposal,
        earliest=max(proposal.earliest, until),
        due=until,
        latest=max(proposal.latest, until),
        reason=Reason(proposal.reason.code, facts, proposal.reason.would_change),
    )


def _kept(proposal: Proposal, block: Block) -> Proposal:
    """Return thirsty work that cannot wait, told to carry the pot first if it must."""
    if block.cause != "carrying" or MOVE_FIRST in proposal.cautions:
        return proposal
    return replace(proposal, cautions=(*proposal.cautions, MOVE_FIRST))


def _blocks_of(proposal: Proposal) -> list[Block]:
    """Return what a proposal, itself settled, forbids others; projections nothing."""
    if not proposal.is_firm and proposal.action != "look_at_damage":
        return []
    return [
        *_of_cold_night(proposal),
        *_of_carrying(proposal),
        *_of_frozen_wood(proposal),
        *_of_heat(proposal),
        *_of_root_work(proposal),
        *_of_feeding(proposal),
        *_of_washing(proposal),
    ]


def _of_cold_night(proposal: Proposal) -> list[Block]:
    cold_on = proposal.reason.fact("cold_on")
    is_tonight = proposal.kind == "cold" and proposal.is_urgent
    if not is_tonight or not isinstance(cold_on, date):
        return []
    last = max(cold_on, proposal.due)
    return [Block("cold", NOT_ON_A_COLD_NIGHT, proposal.due, last + DAY)]


def _of_carrying(proposal: Proposal) -> list[Block]:
    """Return no watering on the day a pot is carried nor the day before."""
    if proposal.action not in CARRYING:
        return []
    return [
        Block(
            "carrying",
            frozenset({"watering"}),
            proposal.due - DAY,
            proposal.due + DAY,
            must_hold=False,
        )
    ]


def _of_frozen_wood(proposal: Proposal) -> list[Block]:
    until = proposal.reason.fact("no_pruning_until")
    if proposal.action != "look_at_damage" or not isinstance(until, date):
        return []
    return [Block("frozen_wood", CUTTING, date.min, until)]


def _of_heat(proposal: Proposal) -> list[Block]:
    if proposal.kind != "heat" or not proposal.is_urgent:
        return []
    return [Block("heat", NOT_ON_A_HOT_DAY, proposal.earliest, proposal.due + DAY)]


def _of_root_work(proposal: Proposal) -> list[Block]:
    if proposal.kind != "potting" or proposal.action not in ROOT_WORK:
        return []
    return [_no_feed_near(proposal.due)]


def _of_feeding(proposal: Proposal) -> list[Block]:
    """Return no washing of a pot until it has had what is given it."""
    if proposal.action != "feed":
        return []
    until = proposal.due + timedelta(days=AFTER_FEEDING_DAYS)
    return [Block("fed", frozenset({"flushing"}), proposal.due, until)]


def _of_washing(proposal: Proposal) -> list[Block]:
    """Return no watering on the day a pot is washed: that is a watering."""
    if proposal.kind != "flushing":
        return []
    day = proposal.due
    wet = frozenset({"watering"})
    return [Block("washed", wet, day, day + DAY, must_hold=False)]


def _no_feed_near(day: date) -> Block:
    week = (day - ROOT_WEEK + DAY, day + ROOT_WEEK)
    return Block("root_work", frozenset({"feeding"}), *week)


def _of_holds(holds: Iterable[Hold]) -> list[Block]:
    return [
        Block(
            "waiting_days",
            frozenset({"harvest"}),
            hold.on,
            hold.until + DAY,
            frozenset({"pick"}),
        )
        for hold in holds
    ]


def _of_bloom(bloom: Window | None) -> list[Block]:
    if bloom is None:
        return []
    actions = frozenset({"prune", "train"})
    return [Block("bloom", CUTTING, bloom.start, bloom.end + DAY, actions)]
