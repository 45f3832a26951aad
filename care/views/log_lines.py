"""Log entries in words."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from uuid import UUID

from django.utils.translation import ngettext

from care.actions.no_water import NO_WATER, NONE_SINCE
from care.actions.one_go import trees_of_goes
from care.actions.photos import PHOTO
from care.actions.watered import FILLED
from care.forms.work import skip_reason_words
from care.models import LogEntry
from care.planning.forgotten import (
    FORGET_BLOOM,
    FORGET_DEMAND,
    FORGET_GROWTH,
    FORGET_POCKET,
)
from care.planning.learned_minutes import WALK_MINUTES
from care.views.days import count_days, day_words
from care.views.log_people import doers, taken_back_words
from care.views.photo_lines import PhotoLine, entry_photos
from care.views.stage_words import stage_words
from care.views.walk_words import minutes_words
from care.views.wording import amount_words, title_of
from orchard.models import Stay
from orchard.units import UnitSystem

What = LogEntry.What
DAYS = "d"

DONE_TITLES = {
    ("watering", "water"): "Watered {}",
    ("watering", "water_by_leave"): "Watered {}",
    ("watering", "check"): "Felt the soil of {}",
    ("feeding", "feed"): "Fed {}",
    ("feeding", "check"): "Settled the feeding of {}",
    ("feeding", "rest"): "Left {} unfed",
    ("flushing", "flush"): "Washed salts out of the pot of {}",
    ("soil", "test_soil"): "Tested the soil of {}",
    ("soil", "acidify"): "Gave sulfur to {}",
    ("soil", "check"): "Read about the soil of {}",
    ("mulching", "top_up"): "Mulched {}",
    ("mulching", "clear_trunk"): "Cleared the trunk of {}",
    ("mulching", "check"): "Looked at the mulch of {}",
    ("pruning", "prune"): "Pruned {}",
    ("pruning", "check"): "Settled the pruning of {}",
    ("training", "train"): "Trained {}",
    ("suckers", "pull_suckers"): "Looked for suckers on {}",
    ("suckers", "pull_sprouts"): "Pulled the water sprouts of {}",
    ("suckers", "choose_pups"): "Thinned the stems of {}",
    ("sanitation", "clean_up"): "Cleared dried fruit and cankers from {}",
    ("sanitation", "look_for_blight"): "Looked {} over for fire blight",
    ("cold", "move_in"): "Brought {} in",
    ("cold", "move_out"): "Took {} out",
    ("cold", "cover"): "Covered {}",
    ("cold", "check"): "Readied {} for the cold",
    ("cold", "group"): "Huddled the pot of {}",
    ("freeze", "pick_ripe"): "Picked {} before the freeze",
    ("freeze", "ready_soil"): "Watered the soil of {} before the frost",
    ("freeze", "uncover"): "Uncovered {}",
    ("freeze", "look_at_damage"): "Looked how far {} froze back",
    ("heat", "shade_pots"): "Shaded the pot of {}",
    ("heat", "water_early"): "Readied {} for the heat",
    ("heat", "guard_bark"): "Guarded the bark of {}",
    ("weeding", "weed"): "Weeded round {}",
    ("weeding", "edge"): "Cut the edge round {}",
    ("weeding", "fit_guard"): "Guarded the trunk of {}",
    ("weeding", "look_guard"): "Looked at the trunk guard of {}",
    ("thinning", "thin"): "Thinned the fruit of {}",
    ("thinning", "remove_fruit"): "Took the fruit off {}",
    ("harvest", "look"): "Looked whether {} was ripe",
    ("harvest", "pick"): "Picked {}",
    ("harvest", "hold"): "Left the fruit of {} for now",
    ("planting", "ground"): "Looked into soil and rules for {}",
    ("planting", "locate"): "Asked where pipes and cables lie for {}",
    ("planting", "drainage"): "Tested the drainage for {}",
    ("planting", "plant"): "Planted {}",
    ("planting", "to_ground"): "Planted {} out of its pot",
    ("planting", "to_pot"): "Dug {} up and potted it",
    ("grafting", "graft"): "Grafted {}",
    ("grafting", "end_graft"): "A graft on {} ended",
    ("establishing", "settled"): "Saw how {} had settled",
    ("establishing", "unstake"): "Took the stake off {}",
    ("establishing", "growth"): "Looked whether {} grew",
    ("establishing", "review"): "Let {} stand on its own roots",
    ("establishing", "widen"): "Widened the watered ring of {}",
    ("potting", "pot_up"): "Potted {} on",
    ("potting", "repot"): "Repotted {}",
    ("potting", "root_prune"): "Repotted {} and trimmed its roots",
    ("potting", "look_at_roots"): "Looked at the roots of {}",
    ("inspection", "look_over"): "Looked over {}",
}
# Entries without a task name no action.
KIND_TITLES = {
    "watering": "Watered {}",
    "feeding": "Fed {}",
    "mulching": "Mulched {}",
    "pruning": "Pruned {}",
    "spray": "Sprayed {}",
    "manure": "Spread raw manure under {}",
}
#: What can be measured -> its title and the unit it is stored in.
MEASURES = {
    "mulch_depth_mm": ("Measured the mulch of {}", "mm"),
    "trunk_gap_mm": ("Measured bare ground round the trunk of {}", "mm"),
    "shoot_growth_mm": ("Measured this year's shoots of {}", "mm"),
    "drained_after_l": ("Watered the pot of {} until some ran out", "L"),
    "not_drained_l": ("Watered the pot of {} and none ran out", "L"),
    "drainage_hours": ("A test hole at {} drained", "h"),
    WALK_MINUTES: ("Timed the walk", "min"),
}
FORGOTTEN = {
    FORGET_DEMAND: "Forgot what was learned of the thirst of {}",
    FORGET_BLOOM: "Forgot what was learned of the bloom of {}",
    FORGET_GROWTH: "Forgot what was learned of the growth of {}",
    FORGET_POCKET: "Forgot what was learned of the cold at {}",
}
#: What the log page offers to show, by the kind stored.
LOG_KINDS = {
    "watering": "Watering",
    "feeding": "Feeding",
    "flushing": "Washing of pots",
    "soil": "Soil",
    "mulching": "Mulching",
    "pruning": "Pruning",
    "training": "Training",
    "suckers": "Suckers",
    "sanitation": "Rot and canker",
    "cold": "Cold",
    "freeze": "Before and after a freeze",
    "heat": "Heat",
    "weeding": "Weeding",
    "thinning": "Thinning",
    "harvest": "Harvest",
    "planting": "Planting",
    "establishing": "Newly planted",
    "potting": "Potting",
    "grafting": "Grafting",
    "inspection": "Looking over",
    "move": "Moves of pots",
    "spray": "Sprays",
    "manure": "Raw manure",
    "soil_feel": "Soil felt",
    WALK_MINUTES: "Times of walks",
    PHOTO: "Photos",
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
    trees: int = 1  # that were written of in one go
    photos: tuple[PhotoLine, ...] = ()


def log_lines(
    entries: Iterable[LogEntry], today: date, units: UnitSystem
) -> list[LogLine]:
    """Return entries in words, each with how many trees its go was written of."""
    entries = list(entries)
    goes = trees_of_goes(entries)
    return [
        replace(log_line(entry, today, units), trees=goes.get(entry.pk, 1))
        for entry in entries
    ]


def log_line(entry: LogEntry, today: date, units: UnitSystem) -> LogLine:
    """Return one entry in words; its tree and people must be at hand."""
    return LogLine(
        public_id=entry.public_id,
        title=_title(entry),
        amount=_amount(entry, units),
        detail=_detail(entry, today),
        note=entry.note,
        is_voided=entry.voided_at is not None,
        can_undo=_can_undo(entry),
        tree_id=entry.tree.public_id if entry.tree else None,
        tree_name=entry.tree.name if entry.tree else "",
        on=entry.on,
        photos=entry_photos(entry, today),
    )


def _can_undo(entry: LogEntry) -> bool:
    """Whether it can be taken back; an old move kept nothing of where a pot stood."""
    is_old_move = entry.what == What.MOVED and entry.before is None
    return entry.voided_at is None and not is_old_move


def _amount(entry: LogEntry, units: UnitSystem) -> str:
    if not entry.amount:
        return ""
    if entry.unit == DAYS:
        return f"{count_days(round(entry.amount))} to wait"
    _, unit = MEASURES.get(entry.kind, ("", entry.unit))
    words = amount_words(entry.amount, unit, entry.kind, units)
    return words.removeprefix("up to ")


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
    if entry.word == NONE_SINCE:
        return "No more water for {} since then"
    if entry.word == FILLED:
        return "Rain or somebody filled the soil of {}"
    if (entry.key, entry.action) == ("next/gap", "check"):
        return "Looked at the trunk of {}"
    usual = KIND_TITLES.get(entry.kind, f"{entry.kind.capitalize()}: {{}}")
    return DONE_TITLES.get((entry.kind, entry.action), usual)


def _observed(entry: LogEntry, name: str) -> str:
    if entry.kind == "soil_feel":
        return f"Soil of {name} felt {entry.word}"
    if entry.kind == "bloom_stage":
        return f"{name}: {stage_words(entry.word)}"
    if entry.kind in FORGOTTEN:
        return FORGOTTEN[entry.kind].format(name)
    title, _ = MEASURES.get(entry.kind, ("Looked at {}", ""))
    return title.format(name)


def _other(entry: LogEntry, name: str) -> str:
    if entry.what == What.HARVESTED:
        return f"Picked from {name}"
    if entry.what == What.MOVED:
        place = dict(Stay.Place.choices).get(entry.word, entry.word)
        return f"Moved {name}: {str(place).lower()}"
    if entry.what == What.LOST:
        return f"{name} {entry.kind}"
    if entry.kind == PHOTO:
        number = len(entry_photos(entry, entry.on))
        return ngettext(
            "Photo of {name}", "{number} photos of {name}", max(1, number)
        ).format(name=name, number=number)
    return f"Note on {name}"


def _detail(entry: LogEntry, today: date) -> str:
    parts = [f"{doers(entry)}, {day_words(entry.on, today)}"]
    if entry.product:
        parts.insert(0, entry.product)
    if entry.minutes_spent:
        parts.append(minutes_words(entry.minutes_spent))
    if entry.reason:
        parts.insert(0, skip_reason_words(entry.kind, entry.reason))
    parts.append(taken_back_words(entry))
    return " · ".join(part for part in parts if part)
