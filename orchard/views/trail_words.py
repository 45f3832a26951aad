"""What stands in the trail, in words."""

import re
from collections.abc import Mapping

from django.utils.translation import gettext, gettext_noop

from orchard.actions.offers import WEEKDAY_NAMES, WISH_WORDS
from orchard.catalogue.common_names import kind_name
from orchard.languages import decimal_sign, localised
from orchard.models import AuditEntry
from orchard.views.trail_fields import FIELDS, VALUES

NOTHING = gettext_noop("nothing")
WISHES = frozenset(WISH_WORDS.values())
_CODE = re.compile(r"[a-z0-9]+(_[a-z0-9]+)+", re.ASCII)  # a choice, as it is stored
SERVER = gettext_noop("The server")

#: Every ``what`` that an action notes; the entry's subject follows it.
WHAT_WORDS = {
    "orchard_founded": gettext_noop("Founded the orchard"),
    "site_added": gettext_noop("Added the place"),
    "site_changed": gettext_noop("Changed the settings of"),
    "block_added": gettext_noop("Added the block"),
    "fresh_plan_used": gettext_noop("Took a fresh plan of the walks of"),
    "day_moved_on": gettext_noop("Let the demonstration live on:"),
    "tree_added": gettext_noop("Entered the tree"),
    "trees_added": gettext_noop("Entered a list of trees:"),
    "tree_changed": gettext_noop("Changed the tree"),
    "tree_told_of": gettext_noop("Told of the tree"),
    "clump_changed": gettext_noop("Changed the hedge or shared hole"),
    "planting_made": gettext_noop("Began the planting"),
    "planting_renamed": gettext_noop("Renamed the planting"),
    "planting_put_away": gettext_noop("Put away the planting"),
    "planting_taken_out": gettext_noop("Took out again the planting"),
    "trees_wanted": gettext_noop("Wants trees in the planting"),
    "wanted_changed": gettext_noop("Changed the wanted tree"),
    "wanted_removed": gettext_noop("No longer wants the tree"),
    "planting_day_set": gettext_noop("Set the planting day of"),
    "planting_day_cleared": gettext_noop("Took back the planting day of"),
    "planting_step_unticked": gettext_noop("Unticked a step of the planting sheet of"),
    "planting_sheet_made": gettext_noop("Made a planting sheet for"),
    "places_kept": gettext_noop("Kept places for the trees of"),
    "places_taken_back": gettext_noop("Took back places for the trees of"),
    "neighbour_tree_added": gettext_noop("Wrote down the neighbour's tree"),
    "neighbour_tree_removed": gettext_noop("Struck off the neighbour's tree"),
    "plan_set": gettext_noop("Wrote how the plan lies of"),
    "corner_added": gettext_noop("Named a corner of the plan:"),
    "corner_changed": gettext_noop("Changed the corner of the plan"),
    "corner_removed": gettext_noop("Took off the plan the corner"),
    "feature_added": gettext_noop("Drew on the plan:"),
    "feature_changed": gettext_noop("Changed on the plan:"),
    "feature_removed": gettext_noop("Took off the plan:"),
    "plant_placed": gettext_noop("Wrote down the place of"),
    "place_cleared": gettext_noop("Forgot the place of"),
    "plan_imported": gettext_noop("Took a file into the plan:"),
    "plan_import_taken_back": gettext_noop("Took back a file of the plan:"),
    "own_figure_set": gettext_noop("Said a figure otherwise than the catalogue:"),
    "own_figure_taken_back": gettext_noop("Took back a figure of the orchard's own:"),
    "own_kind_added": gettext_noop("Added a kind:"),
    "own_kind_removed": gettext_noop("Removed the kind"),
    "own_cultivar_added": gettext_noop("Added a cultivar:"),
    "own_cultivar_removed": gettext_noop("Removed the cultivar"),
    "irrigation_changed": gettext_noop(
        "Changed the water that comes by itself to trees:"
    ),
    "weather_service_chosen": gettext_noop("Chose the weather service of"),
    "weather_service_left": gettext_noop("Asks no weather service any more for"),
    "weather_asked_for": gettext_noop("Had a weather service asked:"),
    "weather_imported": gettext_noop("Imported weather:"),
    "weather_taken_back": gettext_noop("Took back imported weather:"),
    "normals_set": gettext_noop("Set the usual months of"),
    "reading_typed": gettext_noop("Wrote down a reading for"),
    "reading_taken_back": gettext_noop("Took back a reading for"),
    "evening_logged": gettext_noop("Wrote down the evening of"),
    "evening_taken_back": gettext_noop("Took back the evening of"),
    "station_key_made": gettext_noop("Let a weather station send:"),
    "station_key_revoked": gettext_noop("Closed the weather station's address:"),
    "doubt_right": gettext_noop("Said that a doubted value is right:"),
    "doubt_wrong": gettext_noop("Said that a doubted value is wrong:"),
    "invite_made": gettext_noop("Made an invitation:"),
    "invite_revoked": gettext_noop("Closed an invitation:"),
    "member_joined": gettext_noop("Joined:"),
    "member_left": gettext_noop("Left:"),
    "member_removed": gettext_noop("Took out of the orchard:"),
    "role_changed": gettext_noop("Changed the role of"),
    "signin_link_made": gettext_noop("Made a sign-in link for"),
    "care_taken": gettext_noop("Wrote down who looks after"),
    "care_left": gettext_noop("Wrote down who no longer looks after"),
    "weekdays_offered": gettext_noop("Said which weekdays suit:"),
    "days_offered": gettext_noop("Said which days suit:"),
    "away_said": gettext_noop("Said they are away:"),
    "away_taken_back": gettext_noop("Said they are here after all:"),
    "help_limited": gettext_noop("Said how many shifts are enough:"),
    "helper_described": gettext_noop("Wrote down as what helps:"),
    "way_in_written": gettext_noop("Wrote down how to get into"),
    "contact_added": gettext_noop("Wrote down whom to call in need:"),
    "contact_changed": gettext_noop("Changed whom to call in need:"),
    "contact_removed": gettext_noop("Struck off whom to call in need:"),
    "paper_recorded": gettext_noop("Recorded a signed paper:"),
    "paper_removed": gettext_noop("Struck off a signed paper:"),
    "place_claimed": gettext_noop("Took a place in the shift"),
    "place_cover_asked": gettext_noop("Asked for cover in the shift"),
    "place_swap": gettext_noop("Asked to swap a place in the shift"),
    "place_swapped": gettext_noop("Swapped a place in the shift"),
    "place_kept": gettext_noop("Kept a place after all in the shift"),
    "place_said_no": gettext_noop("Said no to the shift"),
    "place_cannot_come": gettext_noop("Cannot come to the shift"),
    "place_cannot_come_late": gettext_noop(
        "Cannot come, within two days of it, to the shift"
    ),
    "place_assigned": gettext_noop("Gave somebody a place in the shift"),
    "place_unassigned": gettext_noop("Took somebody off the shift"),
    "place_gone": gettext_noop(
        "Opened a place whose holder may not hold it now in the shift"
    ),
    "place_missed": gettext_noop("Wrote down who was not there at the shift"),
    "place_done": gettext_noop("Wrote down who worked on the shift"),
    "place_not_confirmed": gettext_noop(
        "Counted as done after a week without a word the shift"
    ),
    "helper_link_made": gettext_noop("Made a helper link for"),
    "helper_link_revoked": gettext_noop("Closed the helper link for"),
    "helper_link_opened": gettext_noop("Opened a helper link:"),
    "shift_made": gettext_noop("Made a shift:"),
    "shift_changed": gettext_noop("Changed the shift"),
    "shift_moved": gettext_noop("Moved a shift to"),
    "shift_cancelled": gettext_noop("Cancelled the shift"),
    "shift_revived": gettext_noop("Let a shift take place after all:"),
    "shift_left_out": gettext_noop("Gave work of a shift back to the plan:"),
    "shift_begun": gettext_noop("Began the shift"),
    "rota_proposed": gettext_noop("Proposed a rota for"),
    "rota_cleared": gettext_noop("Cleared the proposed rota of"),
    "rota_published": gettext_noop("Published the rota of"),
    "shift_removed": gettext_noop("Removed the shift"),
    "series_made": gettext_noop("Made a shift that repeats:"),
    "series_ended": gettext_noop("Ended the shift that repeats:"),
    "calendar_link_made": gettext_noop("Made a calendar link:"),
    "calendar_link_closed": gettext_noop("Closed a calendar link:"),
}

#: Units stand at the end of the fields' names; the longest is tried first.
_UNITS = {
    "_g_per_ml": "g/mL",
    "_percent": "%",
    "_litres": "L",
    "_deg": gettext_noop("degrees"),
    "_mm": "mm",
    "_kpa": "kPa",
    "_ms": "m/s",
    "_mj": "MJ/m²",
    "_cm": "cm",
    "_c": "°C",
    "_l": "L",
    "_s": "s",
    "_m": "m",
}


def what_words(what: str) -> str:
    """Return what was done, in words; a new kind shows at least its name."""
    known = WHAT_WORDS.get(what)
    return gettext(known) if known else f"{what.replace('_', ' ').capitalize()}:"


def who_words(entry: AuditEntry) -> str:
    """Return who did it: the name they had then, or the server."""
    return entry.person_name or gettext(SERVER)


def change_lines(entry: AuditEntry) -> list[str]:
    """Return a line for each value that changed: what it was and what it is."""
    before, after = _mapping(entry.before), _mapping(entry.after)
    # A name that begins so is what the program needs to take it back.
    names = [name for name in {**before, **after} if not name.startswith("_")]
    return [_line(name, before, after) for name in names]


def _line(name: str, before: Mapping[str, object], after: Mapping[str, object]) -> str:
    label = field_words(name)
    show = _kind if name == "species_key" else _shown
    if name not in before:
        return f"{label}: {show(after[name])}"
    if name not in after:
        return gettext("{label} was {value}").format(
            label=label, value=show(before[name])
        )
    return f"{label}: {show(before[name])} → {show(after[name])}"


def _kind(key: object) -> str:
    """Return what a kind is called; its key in the language of the tables."""
    return kind_name(str(key), _shown(key))


def field_words(name: str) -> str:
    """Return a field's name in words, with its unit: "crown width (m)"."""
    for ending, unit in _UNITS.items():
        if name.endswith(ending):
            return f"{_named(name.removesuffix(ending))} ({gettext(unit)})"
    return _named(name)


def _named(name: str) -> str:
    if name in WEEKDAY_NAMES:
        return gettext(name)
    plain = name.replace("_", " ")
    return str(FIELDS.get(plain, plain))


def _shown(value: object) -> str:
    if value in (None, "", [], {}):
        return gettext(NOTHING)
    if isinstance(value, bool):
        return gettext("yes") if value else gettext("no")
    if isinstance(value, float):
        return localised(f"{value:.6g}")
    if isinstance(value, list):
        are_numbers = any(isinstance(each, float) for each in value)
        between = "; " if are_numbers and decimal_sign() == "," else ", "
        return between.join(_shown(each) for each in value)
    text = str(value)
    if text in WISHES:
        return gettext(text)
    plain = text.replace("_", " ") if _CODE.fullmatch(text) else text
    return str(VALUES.get(plain, plain))


def _mapping(value: object) -> Mapping[str, object]:
    return value if isinstance(value, Mapping) else {}
