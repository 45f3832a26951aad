"""Mulching: top up a thinned ring, keep it off the trunk."""

from datetime import date, timedelta

from care.facts import Answer, Mulch, Situation
from care.proposals import Proposal, Reason, Scalar
from care.science.mulch import (
    CARRY_OVER,
    CITRUS_LIMIT_MM,
    DEPTH_LIMIT_MM,
    FLOOR_DEPTH_MM,
    PUBLISHED_GAPS_MM,
    TARGET_DEPTH_MM,
    Layer,
    bags,
    bales,
    days_to_floor,
    mulch_volume_l,
    ring_area_m2,
    tree_ring_m,
    trunk_diameter_m,
    trunk_gap_mm,
)

KIND = "mulching"
TOP_UP = "next/top_up"
GAP = "next/gap"

LOOK_AGAIN_DAYS = 182  # common practice, no source: spring and autumn
SKIPPED_DAYS = 28
LOOK_WINDOW_DAYS = 28
CLEAR_WINDOW_DAYS = 14
FIRST_RING_DAYS = 56
DEPTH_SLACK_MM = 12.0  # half an inch, as nobody spreads mulch closer; no source
EFFORT_FIXED_MINUTES = 8
EFFORT_MINUTES_PER_L = 0.06  # 15-25 minutes for a 6 ft ring of 190 L (from memory)
HEAVY_LITRES = 200.0


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return the next top-up and the next look at the trunk.

    None for pots, and none before a tree is planted.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    tree, today = situation.tree, situation.today
    if tree.in_container or (tree.planted_on is not None and tree.planted_on > today):
        return ()
    found = (_top_up(situation), _gap(situation))
    return tuple(proposal for proposal in found if proposal is not None)


def _is_citrus(situation: Situation) -> bool:
    return situation.tree.species.feed_group == "citrus"


def _top_up(situation: Situation) -> Proposal | None:
    layer = _layer(situation)
    if layer is not None:
        return _refill(situation, layer)
    if situation.tree.mulched_before is Answer.NO and not _has_mulch(situation):
        return _first_ring(situation)
    return _measure(situation)


def _has_mulch(situation: Situation) -> bool:
    return situation.tree.mulch is not None or situation.tree.floor == "mulch"


def _material(situation: Situation) -> str:
    mulch = situation.tree.mulch
    return "unknown" if mulch is None else mulch.material


def _layer(situation: Situation) -> Layer | None:
    """Return the layer as last known: recorded, then measured or topped up."""
    mulch = situation.tree.mulch
    layer = None if mulch is None else _recorded(mulch)
    material = _material(situation)
    for on, measured_mm, added_mm in _changes(situation):
        if layer is not None and on < layer.on:
            continue
        if measured_mm is not None:
            layer = Layer(material, measured_mm, on)
        elif layer is not None:
            added = _missing_mm(layer, on) if added_mm is None else added_mm
            layer = layer.topped_up(added, on)
        elif added_mm is not None:
            layer = Layer(material, added_mm, on)
    return layer


def _recorded(mulch: Mulch) -> Layer:
    return Layer(mulch.material, mulch.depth_mm, mulch.laid_on)


def _changes(
    situation: Situation,
) -> list[tuple[date, float | None, float | None]]:
    """Return what changed the layer, by day: (day, measured, added) in mm."""
    changes: list[tuple[date, float | None, float | None]] = [
        (reading.on, reading.value, None)
        for reading in situation.observed("mulch_depth_mm")
        if reading.value is not None
    ]
    changes += [
        (work.on, None, work.amount)
        for work in situation.logged(KIND)
        if work.key == TOP_UP and work.what == "done"
    ]
    # On one day the reading comes first: people measure, then add.
    return sorted(changes, key=lambda change: (change[0], change[1] is None))


def _missing_mm(layer: Layer, day: date) -> float:
    return max(0.0, TARGET_DEPTH_MM - layer.depth_on_mm(day))


def _not_before(situation: Situation, key: str) -> date:
    """Return the first day on which a task may be due: entry, or after a skip."""
    skips = [w.on for w in situation.logged(KIND) if w.key == key and w.what != "done"]
    waits = [on + timedelta(days=SKIPPED_DAYS) for on in skips]
    return max([situation.tree.entered_on, *waits])


def _refill(situation: Situation, layer: Layer) -> Proposal:
    left = days_to_floor(layer.material, layer.depth_mm)
    first = _not_before(situation, TOP_UP)
    earliest, due, latest = (
        max(first, layer.on + timedelta(days=round(days)))
        for days in (left.soonest, left.expected, left.latest)
    )
    latest = max(latest, due + timedelta(days=LOOK_WINDOW_DAYS))
    laid_when = max(due, situation.today)
    depth_mm = layer.depth_on_mm(laid_when)
    return _lay(
        situation,
        "mulch_thin",
        (earliest, due, latest),
        depth_mm,
        (("last_depth_mm", round(layer.depth_mm)), ("last_depth_on", layer.on)),
    )


def _first_ring(situation: Situation) -> Proposal:
    first = _not_before(situation, TOP_UP)
    window = (
        first,
        first + timedelta(days=FIRST_RING_DAYS // 2),
        first + timedelta(days=FIRST_RING_DAYS),
    )
    return _lay(situation, "mulch_first", window, 0.0, ())


def _lay(
    situation: Situation,
    code: str,
    window: tuple[date, date, date],
    depth_mm: float,
    more: tuple[tuple[str, Scalar], ...],
) -> Proposal:
    """Return the work of filling the ring to its depth."""
    gap_mm = trunk_gap_mm(situation.tree.species)
    trunk_m = trunk_diameter_m(situation.tree)
    inner_m = trunk_m / 2 + gap_mm / 1000
    diameter_m = _diameter_m(situation, window[1], inner_m)
    area_m2 = ring_area_m2(diameter_m, trunk_m, gap_mm / 1000)
    add_mm = max(0.0, TARGET_DEPTH_MM - depth_mm)
    litres = round(mulch_volume_l(area_m2, add_mm))
    material = _material(situation)
    facts: tuple[tuple[str, Scalar], ...] = (
        ("depth_mm", round(depth_mm)),
        ("target_depth_mm", TARGET_DEPTH_MM),
        ("add_mm", round(add_mm)),
        ("floor_depth_mm", FLOOR_DEPTH_MM),
        ("ring_diameter_m", round(diameter_m, 2)),
        ("ring_area_m2", round(area_m2, 2)),
        ("trunk_gap_mm", gap_mm),
        ("material", material),
        ("volume_l", litres),
        ("bags", bags(litres)),
        ("bales", bales(litres) if material == "pine_straw" else None),
        *_school_facts(situation),
    )
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=TOP_UP,
        action="top_up",
        earliest=window[0],
        due=window[1],
        latest=window[2],
        reason=Reason(code, facts + more, ("mulch_measured", "mulch_laid")),
        amount=float(litres),
        unit="L",
        sources=_sources(situation),
        cautions=_cautions(situation, litres),
        effort_minutes=round(EFFORT_FIXED_MINUTES + EFFORT_MINUTES_PER_L * litres),
    )


def _school_facts(situation: Situation) -> tuple[tuple[str, Scalar], ...]:
    """Return where published advice on the gap parts, so that it can be shown."""
    return (
        ("gap_least_mm", PUBLISHED_GAPS_MM[0]),
        ("gap_most_mm", PUBLISHED_GAPS_MM[1]),
        ("is_citrus", _is_citrus(situation)),
    )


def _sources(situation: Situation) -> tuple[str, ...]:
    if _is_citrus(situation):
        return ("uf_ifas_mulch", "fyn_workbook", "ucmg_citrus_mulch")
    return ("uf_ifas_mulch", "fyn_workbook")


def _cautions(situation: Situation, litres: float) -> tuple[str, ...]:
    applies = {
        "weedkiller_in_mulch": _material(situation) in CARRY_OVER,
        "weed_seed_in_mulch": _material(situation) in ("clippings", "straw"),
        "keep_off_trunk": True,
        "damp_mulch_dust": True,
        "carry_small_loads": litres >= HEAVY_LITRES,
    }
    return tuple(code for code, is_so in applies.items() if is_so)


def _diameter_m(situation: Situation, day: date, inner_m: float) -> float:
    """Return the ring as recorded, or a sensible one where that leaves no room."""
    tree = situation.tree
    radius_m = None if tree.mulch is None else tree.mulch.ring_radius_m
    if radius_m is not None and radius_m > inner_m:
        return 2 * radius_m
    return tree_ring_m(tree, day)


def _measure(situation: Situation) -> Proposal:
    """Return a look at how deep the mulch is, where nobody has said."""
    first = _not_before(situation, TOP_UP)
    looks = [
        work.on + timedelta(days=LOOK_AGAIN_DAYS)
        for work in situation.logged(KIND)
        if work.key == TOP_UP and work.what == "done"
    ]
    due = max([first, *looks])
    return _look(
        situation,
        TOP_UP,
        due,
        Reason(
            "mulch_ask_depth",
            (("entered_on", situation.tree.entered_on),),
            ("mulch_measured", "past_answered"),
        ),
    )


def _look(situation: Situation, key: str, due: date, reason: Reason) -> Proposal:
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=key,
        action="check",
        earliest=due,
        due=due,
        latest=due + timedelta(days=LOOK_WINDOW_DAYS),
        reason=reason,
        sources=("uf_ifas_mulch",),
        effort_minutes=2,
    )


def _gap(situation: Situation) -> Proposal | None:
    """Return the next look at the trunk, or clearing it where mulch touches it."""
    layer = _layer(situation)
    if layer is None and not _has_mulch(situation):
        return None
    limit_mm = trunk_gap_mm(situation.tree.species)
    seen = _last_gap(situation)
    if seen is not None and seen[1] is not None and seen[1] < limit_mm:
        return _clear(situation, "mulch_near_trunk", seen[0], seen[1], limit_mm)
    deep_mm = CITRUS_LIMIT_MM if _is_citrus(situation) else DEPTH_LIMIT_MM
    if layer is not None and _deepest_mm(situation, layer) > deep_mm + DEPTH_SLACK_MM:
        depth_mm = layer.depth_on_mm(situation.today)
        return _clear(situation, "mulch_too_deep", layer.on, depth_mm, deep_mm)
    due = _not_before(situation, GAP)
    if seen is not None:
        due = max(due, seen[0] + timedelta(days=LOOK_AGAIN_DAYS))
    elif layer is not None:
        due = max(due, layer.on)
    facts: tuple[tuple[str, Scalar], ...] = (
        ("limit_gap_mm", limit_mm),
        ("last_look_on", None if seen is None else seen[0]),
        *_school_facts(situation),
    )
    return _look(
        situation, GAP, due, Reason("mulch_look_at_trunk", facts, ("gap_measured",))
    )


def _deepest_mm(situation: Situation, layer: Layer) -> float:
    """Return today's depth, or 0 once somebody has seen to it since."""
    cleared = [
        work.on
        for work in situation.logged(KIND)
        if work.key == GAP and work.on >= layer.on
    ]
    return 0.0 if cleared else layer.depth_on_mm(situation.today)


def _last_gap(situation: Situation) -> tuple[date, float | None] | None:
    """Return when the trunk was last seen to, and its gap in mm if measured.

    Clearing it counts as enough room, unmeasured.
    """
    mulch = situation.tree.mulch
    seen: list[tuple[date, float | None]] = []
    if mulch is not None and mulch.trunk_gap_mm is not None:
        seen.append((mulch.laid_on, mulch.trunk_gap_mm))
    seen += [
        (reading.on, reading.value)
        for reading in situation.observed("trunk_gap_mm")
        if reading.value is not None
    ]
    seen += [
        (work.on, None)
        for work in situation.logged(KIND)
        if work.key == GAP and work.what == "done"
    ]
    # On one day the clearing comes last: people look, then act.
    return max(seen, key=lambda look: (look[0], look[1] is None), default=None)


def _clear(
    situation: Situation, code: str, seen_on: date, found_mm: float, limit_mm: float
) -> Proposal:
    due = max(seen_on, _not_before(situation, GAP))
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=GAP,
        action="clear_trunk",
        earliest=due,
        due=due,
        latest=due + timedelta(days=CLEAR_WINDOW_DAYS),
        reason=Reason(
            code,
            (
                ("found_mm", round(found_mm)),
                ("limit_mm", limit_mm),
                ("seen_on", seen_on),
            ),
            ("gap_measured", "mulch_measured"),
        ),
        sources=("uf_ifas_mulch",),
        cautions=("damp_mulch_dust",),
        effort_minutes=5,
    )
