"""Log entries in words."""

from dataclasses import dataclass
from datetime import date
from uuid import UUID

from care.actions.no_water import NO_WATER
from care.forms.work import skip_reason_words
from care.models import LogEntry
from care.views.days import day_words
from care.views.wording import amount_words, title_of
from orchard.models import Stay
from orchard.units import UnitSystem

What = LogEntry.What

DONE_TITLES = {
    ("watering", "water"): "Watered {}",
    ("watering", "check"): "Felt the soil of {}",
    ("feeding", "feed"): "Fed {}",
    ("mulching", "top_up"): "Mulched {}",
    ("mulching", "clear_trunk"): "Cleared the trunk of {}",
    ("mulching", "check"): "Looked at the mulch of {}",
    ("pruning", "prune"): "Pruned {}",
    ("cold", "move_in"): "Brought {} in",
    ("cold", "move_out"): "Took {} out",
    ("cold", "cover"): "Covered {}",
    ("cold", "check"): "Readied {} for the cold",
    ("heat", "shade_pots"): "Shaded the pot of {}",
    ("heat", "water_early"): "Readied {} for the heat",
    ("weeding", "weed"): "Weeded round {}",
    ("thinning", "thin"): "Thinned the fruit of {}",
    ("thinning", "remove_fruit"): "Took the fruit off {}",
    ("harvest", "look"): "Looked whether {} was ripe",
    ("harvest", "pick"): "Picked {}",
}
# Entries without a task name no action.
KIND_TITLES = {
    "watering": "Watered {}",
    "feeding": "Fed {}",
    "mulching": "Mulched {}",
    "pruning": "Pruned {}",
}
MEASURES = {
    "mulch_depth_mm": "Measured the mulch of {}",
    "trunk_gap_mm": "Measured bare ground round the trunk of {}",
    "shoot_growth_mm": "Measured this year's shoots of {}",
}
#: What the log page offers to show, by the kind stored.
LOG_KINDS = {
    "watering": "Watering",
    "feeding": "Feeding",
    "mulching": "Mulching",
    "pruning": "Pruning",
    "cold": "Cold",
    "heat": "Heat",
    "weeding": "Weeding",
    "thinning": "Thinning",
    "harvest": "Harvest",
    "move": "Moves of pots",
    "soil_feel": "Soil felt",
    "note": "Notes",
}


@dataclass(frozen=True, slots=True)
class LogLine:
    """One thing that happened, as a line."""

    public_id: UUID
    title: str
    amount: str
    detail: str
    note: str
    is_voided: bool
    can_undo: bool
    tree_id: UUID | None
    tree_name: str
    on: date


def log_line(entry: LogEntry, today: date, units: UnitSystem) -> LogLine:
    """Return one entry in words; its tree and person must be at hand."""
    unit = "mm" if entry.kind in MEASURES else entry.unit
    amount = amount_words(entry.amount, unit, entry.kind, units)
    return LogLine(
        public_id=entry.public_id,
        title=_title(entry),
        amount=amount.removeprefix("up to ") if entry.amount else "",
        detail=_detail(entry, today),
        note=entry.note,
        is_voided=entry.voided_at is not None,
        can_undo=entry.voided_at is None and entry.what != What.MOVED,
        tree_id=entry.tree.public_id if entry.tree else None,
        tree_name=entry.tree.name if entry.tree else "",
        on=entry.on,
    )


def _title(entry: LogEntry) -> str:
    name = entry.tree.name if entry.tree else "the whole site"
    if entry.what == What.DONE:
        return _done(entry).format(name)
    if entry.what == What.SKIPPED:
        work = title_of(entry.kind, entry.action, name)
        return f"Left out: {work[0].lower()}{work[1:]}"
    if entry.what == What.OBSERVED:
        return _observed(entry, name)
    return _other(entry, name)


def _done(entry: LogEntry) -> str:
    if entry.word == NO_WATER:
        return "No water for {}"
    if (entry.key, entry.action) == ("next/gap", "check"):
        return "Looked at the trunk of {}"
    usual = KIND_TITLES.get(entry.kind, f"{entry.kind.capitalize()}: {{}}")
    return DONE_TITLES.get((entry.kind, entry.action), usual)


def _observed(entry: LogEntry, name: str) -> str:
    if entry.kind == "soil_feel":
        return f"Soil of {name} felt {entry.word}"
    if entry.kind == "bloom_stage":
        return f"{name}: {entry.word.replace('_', ' ')}"
    return MEASURES.get(entry.kind, "Looked at {}").format(name)


def _other(entry: LogEntry, name: str) -> str:
    if entry.what == What.HARVESTED:
        return f"Picked from {name}"
    if entry.what == What.MOVED:
        place = dict(Stay.Place.choices).get(entry.word, entry.word)
        return f"Moved {name}: {str(place).lower()}"
    if entry.what == What.LOST:
        return f"{name} {entry.kind}"
    return f"Note on {name}"


def _detail(entry: LogEntry, today: date) -> str:
    who = entry.person.shown_name if entry.person else "somebody"
    parts = [f"{who}, {day_words(entry.on, today)}"]
    if entry.reason:
        parts.insert(0, skip_reason_words(entry.kind, entry.reason))
    if entry.voided_at:
        by = entry.voided_by.shown_name if entry.voided_by else "somebody"
        parts.append(f"taken back by {by}")
    return " · ".join(parts)
