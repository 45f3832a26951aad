"""Log entries in words."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from uuid import UUID

from django.utils.translation import gettext, gettext_noop, pgettext

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
from care.views.log_late import late_words
from care.views.log_people import doers, taken_back_words
from care.views.photo_lines import PhotoLine, photos_of_entries
from care.views.stage_words import stage_words
from care.views.walk_words import minutes_words
from care.views.wording import amount_words, title_of
from orchard.models import Stay
from orchard.units import UnitSystem, format_quantity

What = LogEntry.What
DAYS = "d"

DONE_TITLES = {
    ("watering", "water"): gettext_noop("Watered {}"),
    ("watering", "water_by_leave"): gettext_noop("Watered {}"),
    ("watering", "check"): gettext_noop("Felt the soil of {}"),
    ("feeding", "feed"): gettext_noop("Fed {}"),
    ("feeding", "check"): gettext_noop("Settled the feeding of {}"),
    ("feeding", "rest"): gettext_noop("Left {} unfed"),
    ("flushing", "flush"): gettext_noop("Washed salts out of the pot of {}"),
    ("soil", "test_soil"): gettext_noop("Tested the soil of {}"),
    ("soil", "acidify"): gettext_noop("Gave sulfur to {}"),
    ("soil", "check"): gettext_noop("Read about the soil of {}"),
    ("mulching", "top_up"): gettext_noop("Mulched {}"),
    ("mulching", "clear_trunk"): gettext_noop("Cleared the trunk of {}"),
    ("mulching", "check"): gettext_noop("Looked at the mulch of {}"),
    ("pruning", "prune"): gettext_noop("Pruned {}"),
    ("pruning", "check"): gettext_noop("Settled the pruning of {}"),
    ("training", "train"): gettext_noop("Trained {}"),
    ("suckers", "pull_suckers"): gettext_noop("Looked for suckers on {}"),
    ("suckers", "pull_sprouts"): gettext_noop("Pulled the water sprouts of {}"),
    ("suckers", "choose_pups"): gettext_noop("Thinned the stems of {}"),
    ("sanitation", "clean_up"): gettext_noop("Cleared dried fruit and cankers from {}"),
    ("sanitation", "look_for_blight"): gettext_noop("Looked {} over for fire blight"),
    ("cold", "move_in"): gettext_noop("Brought {} in"),
    ("cold", "move_out"): gettext_noop("Took {} out"),
    ("cold", "cover"): gettext_noop("Covered {}"),
    ("cold", "check"): gettext_noop("Readied {} for the cold"),
    ("cold", "group"): gettext_noop("Huddled the pot of {}"),
    ("freeze", "pick_ripe"): gettext_noop("Picked {} before the freeze"),
    ("freeze", "ready_soil"): gettext_noop("Watered the soil of {} before the frost"),
    ("freeze", "uncover"): gettext_noop("Uncovered {}"),
    ("freeze", "look_at_damage"): gettext_noop("Looked how far {} froze back"),
    ("heat", "shade_pots"): gettext_noop("Shaded the pot of {}"),
    ("heat", "water_early"): gettext_noop("Readied {} for the heat"),
    ("heat", "guard_bark"): gettext_noop("Guarded the bark of {}"),
    ("weeding", "weed"): gettext_noop("Weeded round {}"),
    ("weeding", "edge"): gettext_noop("Cut the edge round {}"),
    ("weeding", "fit_guard"): gettext_noop("Guarded the trunk of {}"),
    ("weeding", "look_guard"): gettext_noop("Looked at the trunk guard of {}"),
    ("thinning", "thin"): gettext_noop("Thinned the fruit of {}"),
    ("thinning", "remove_fruit"): gettext_noop("Took the fruit off {}"),
    ("harvest", "look"): gettext_noop("Looked whether {} was ripe"),
    ("harvest", "pick"): gettext_noop("Picked {}"),
    ("harvest", "hold"): gettext_noop("Left the fruit of {} for now"),
    ("planting", "ground"): gettext_noop("Looked into soil and rules for {}"),
    ("planting", "locate"): gettext_noop("Asked where pipes and cables lie for {}"),
    ("planting", "drainage"): gettext_noop("Tested the drainage for {}"),
    ("planting", "plant"): gettext_noop("Planted {}"),
    ("planting", "to_ground"): gettext_noop("Planted {} out of its pot"),
    ("planting", "to_pot"): gettext_noop("Dug {} up and potted it"),
    ("grafting", "graft"): gettext_noop("Grafted {}"),
    ("grafting", "end_graft"): gettext_noop("A graft on {} ended"),
    ("establishing", "settled"): gettext_noop("Saw how {} had settled"),
    ("establishing", "unstake"): gettext_noop("Took the stake off {}"),
    ("establishing", "growth"): gettext_noop("Looked whether {} grew"),
    ("establishing", "review"): gettext_noop("Let {} stand on its own roots"),
    ("establishing", "widen"): gettext_noop("Widened the watered ring of {}"),
    ("potting", "pot_up"): gettext_noop("Potted {} on"),
    ("potting", "repot"): gettext_noop("Repotted {}"),
    ("potting", "root_prune"): gettext_noop("Repotted {} and trimmed its roots"),
    ("potting", "look_at_roots"): gettext_noop("Looked at the roots of {}"),
    ("inspection", "look_over"): gettext_noop("Looked over {}"),
}
# Entries without a task name no action.
KIND_TITLES = {
    "watering": gettext_noop("Watered {}"),
    "feeding": gettext_noop("Fed {}"),
    "mulching": gettext_noop("Mulched {}"),
    "pruning": gettext_noop("Pruned {}"),
    "spray": gettext_noop("Sprayed {}"),
    "manure": gettext_noop("Spread raw manure under {}"),
}
#: What can be measured -> its title and the unit it is stored in.
ENDED = {
    "lost": gettext_noop("{name} lost"),
    "removed": gettext_noop("{name} removed"),
}
FELT = {
    "wet": gettext_noop("Soil of {name} felt wet"),
    "right": gettext_noop("Soil of {name} felt right"),
    "dry": gettext_noop("Soil of {name} felt dry"),
}
LOOKED_AT = gettext_noop("Looked at {}")
MEASURES = {
    "mulch_depth_mm": (gettext_noop("Measured the mulch of {}"), "mm"),
    "trunk_gap_mm": (gettext_noop("Measured bare ground round the trunk of {}"), "mm"),
    "shoot_growth_mm": (gettext_noop("Measured this year's shoots of {}"), "mm"),
    "drained_after_l": (gettext_noop("Watered the pot of {} until some ran out"), "L"),
    "not_drained_l": (gettext_noop("Watered the pot of {} and none ran out"), "L"),
    "drainage_hours": (gettext_noop("A test hole at {} drained"), "h"),
    WALK_MINUTES: (gettext_noop("Timed the walk"), "min"),
}
FORGOTTEN = {
    FORGET_DEMAND: gettext_noop("Forgot what was learned of the thirst of {}"),
    FORGET_BLOOM: gettext_noop("Forgot what was learned of the bloom of {}"),
    FORGET_GROWTH: gettext_noop("Forgot what was learned of the growth of {}"),
    FORGET_POCKET: gettext_noop("Forgot what was learned of the cold at {}"),
}
#: What the log page offers to show, by the kind stored.
LOG_KINDS = {
    "watering": gettext_noop("Watering"),
    "feeding": gettext_noop("Feeding"),
    "flushing": gettext_noop("Washing of pots"),
    "soil": gettext_noop("Soil"),
    "mulching": gettext_noop("Mulching"),
    "pruning": gettext_noop("Pruning"),
    "training": gettext_noop("Training"),
    "suckers": "Suckers",
    "sanitation": gettext_noop("Rot and canker"),
    "cold": gettext_noop("Cold"),
    "freeze": gettext_noop("Before and after a freeze"),
    "heat": gettext_noop("Heat"),
    "weeding": gettext_noop("Weeding"),
    "thinning": gettext_noop("Thinning"),
    "harvest": gettext_noop("Harvest"),
    "planting": gettext_noop("Planting"),
    "establishing": gettext_noop("Newly planted"),
    "potting": gettext_noop("Potting"),
    "grafting": gettext_noop("Grafting"),
    "inspection": gettext_noop("Looking over"),
    "move": gettext_noop("Moves of pots"),
    "spray": gettext_noop("Sprays"),
    "manure": gettext_noop("Raw manure"),
    "soil_feel": gettext_noop("Soil felt"),
    WALK_MINUTES: gettext_noop("Times of walks"),
    PHOTO: gettext_noop("Photos"),
    "note": gettext_noop("Notes"),
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
    """Return entries in words, each with its photos and the trees of its go."""
    entries = list(entries)
    goes = trees_of_goes(entries)
    photos = photos_of_entries(entries, today)
    return [
        replace(
            log_line(entry, today, units),
            trees=goes.get(entry.pk, 1),
            photos=photos.get(entry.pk, ()),
        )
        for entry in entries
    ]


def log_kinds() -> list[tuple[str, str]]:
    """Return the sorts of entries to choose from, with their names."""
    suckers = pgettext("kind of work", "Suckers")
    return [
        (kind, suckers if kind == "suckers" else gettext(name))
        for kind, name in LOG_KINDS.items()
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
    )


def _can_undo(entry: LogEntry) -> bool:
    """Whether it can be taken back; an old move kept nothing of where a pot stood."""
    is_old_move = entry.what == What.MOVED and entry.before is None
    return entry.voided_at is None and not is_old_move


def _amount(entry: LogEntry, units: UnitSystem) -> str:
    if not entry.amount:
        return ""
    if entry.unit == DAYS:
        return gettext("{days} to wait").format(days=count_days(round(entry.amount)))
    _, unit = MEASURES.get(entry.kind, ("", entry.unit))
    if unit == "share":
        return format_quantity(entry.amount, unit, units)
    return amount_words(entry.amount, unit, entry.kind, units)


def _title(entry: LogEntry) -> str:
    name = entry.tree.name if entry.tree else gettext("the whole site")
    if entry.what == What.DONE:
        return _done(entry).format(name)
    if entry.what == What.SKIPPED:
        work = title_of(entry.kind, entry.action, name)
        return gettext("Left out: {work}").format(work=work[0].lower() + work[1:])
    if entry.what == What.OBSERVED:
        return _observed(entry, name)
    return _other(entry, name)


def _done(entry: LogEntry) -> str:
    if entry.word == NO_WATER:
        return gettext("No water for {}")
    if entry.word == NONE_SINCE:
        return gettext("No more water for {} since then")
    if entry.word == FILLED:
        return gettext("Rain or somebody filled the soil of {}")
    if (entry.key, entry.action) == ("next/gap", "check"):
        return gettext("Looked at the trunk of {}")
    known = DONE_TITLES.get((entry.kind, entry.action)) or KIND_TITLES.get(entry.kind)
    return gettext(known) if known else f"{entry.kind.capitalize()}: {{}}"


def _observed(entry: LogEntry, name: str) -> str:
    if entry.kind == "soil_feel":
        felt = FELT.get(entry.word)
        if felt is None:
            return gettext("Soil of {name} felt: {word}").format(
                name=name, word=entry.word
            )
        return gettext(felt).format(name=name)
    if entry.kind == "bloom_stage":
        return f"{name}: {stage_words(entry.word)}"
    if entry.kind in FORGOTTEN:
        return gettext(FORGOTTEN[entry.kind]).format(name)
    title, _ = MEASURES.get(entry.kind, (LOOKED_AT, ""))
    return gettext(title).format(name)


def _other(entry: LogEntry, name: str) -> str:
    if entry.what == What.HARVESTED:
        return gettext("Picked from {name}").format(name=name)
    if entry.what == What.MOVED:
        place = dict(Stay.Place.choices).get(entry.word, entry.word)
        return gettext("Moved {name}: {place}").format(
            name=name, place=str(place).lower()
        )
    if entry.what == What.LOST:
        words = ENDED.get(entry.kind)
        return gettext(words).format(name=name) if words else f"{name} {entry.kind}"
    if entry.kind == PHOTO:
        return gettext("Photographed {name}").format(name=name)
    return gettext("Note on {name}").format(name=name)


def _detail(entry: LogEntry, today: date) -> str:
    parts = [f"{doers(entry)}, {day_words(entry.on, today)}"]
    if entry.product:
        parts.insert(0, entry.product)
    if entry.minutes_spent:
        parts.append(minutes_words(entry.minutes_spent))
    if entry.reason:
        parts.insert(0, skip_reason_words(entry.kind, entry.reason))
    parts += [late_words(entry), taken_back_words(entry)]
    return " · ".join(part for part in parts if part)
