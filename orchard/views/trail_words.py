"""What stands in the trail, in words."""

import re
from collections.abc import Mapping

from orchard.models import AuditEntry

NOTHING = "nothing"
_CODE = re.compile(r"[a-z0-9]+(_[a-z0-9]+)+", re.ASCII)  # a choice, as it is stored
SERVER = "The server"

#: Every ``what`` that an action notes; the entry's subject follows it.
WHAT_WORDS = {
    "orchard_founded": "Founded the orchard",
    "site_added": "Added the place",
    "site_changed": "Changed the settings of",
    "block_added": "Added the block",
    "fresh_plan_used": "Took a fresh plan of the walks of",
    "day_moved_on": "Let the demonstration live on:",
    "tree_added": "Entered the tree",
    "trees_added": "Entered a list of trees:",
    "tree_changed": "Changed the tree",
    "tree_told_of": "Told of the tree",
    "clump_changed": "Changed the hedge or shared hole",
    "planting_made": "Began the planting",
    "planting_renamed": "Renamed the planting",
    "planting_put_away": "Put away the planting",
    "planting_taken_out": "Took out again the planting",
    "trees_wanted": "Wants trees in the planting",
    "wanted_changed": "Changed the wanted tree",
    "wanted_removed": "No longer wants the tree",
    "planting_day_set": "Set the planting day of",
    "planting_day_cleared": "Took back the planting day of",
    "planting_step_unticked": "Unticked a step of the planting sheet of",
    "planting_sheet_made": "Made a planting sheet for",
    "places_kept": "Kept places for the trees of",
    "places_taken_back": "Took back places for the trees of",
    "neighbour_tree_added": "Wrote down the neighbour's tree",
    "neighbour_tree_removed": "Struck off the neighbour's tree",
    "plan_set": "Wrote how the plan lies of",
    "corner_added": "Named a corner of the plan:",
    "corner_changed": "Changed the corner of the plan",
    "corner_removed": "Took off the plan the corner",
    "feature_added": "Drew on the plan:",
    "feature_changed": "Changed on the plan:",
    "feature_removed": "Took off the plan:",
    "plant_placed": "Wrote down the place of",
    "place_cleared": "Forgot the place of",
    "plan_imported": "Took a file into the plan:",
    "plan_import_taken_back": "Took back a file of the plan:",
    "own_figure_set": "Said a figure otherwise than the catalogue:",
    "own_figure_taken_back": "Took back a figure of the orchard's own:",
    "own_kind_added": "Added a kind:",
    "own_kind_removed": "Removed the kind",
    "own_cultivar_added": "Added a cultivar:",
    "own_cultivar_removed": "Removed the cultivar",
    "irrigation_changed": "Changed the water that comes by itself to trees:",
    "weather_service_chosen": "Chose the weather service of",
    "weather_service_left": "Asks no weather service any more for",
    "weather_asked_for": "Had a weather service asked:",
    "weather_imported": "Imported weather:",
    "weather_taken_back": "Took back imported weather:",
    "normals_set": "Set the usual months of",
    "reading_typed": "Wrote down a reading for",
    "reading_taken_back": "Took back a reading for",
    "evening_logged": "Wrote down the evening of",
    "evening_taken_back": "Took back the evening of",
    "station_key_made": "Let a weather station send:",
    "station_key_revoked": "Closed the weather station's address:",
    "doubt_right": "Said that a doubted value is right:",
    "doubt_wrong": "Said that a doubted value is wrong:",
    "invite_made": "Made an invitation:",
    "invite_revoked": "Closed an invitation:",
    "member_joined": "Joined:",
    "member_left": "Left:",
    "member_removed": "Took out of the orchard:",
    "role_changed": "Changed the role of",
    "signin_link_made": "Made a sign-in link for",
    "care_taken": "Wrote down who looks after",
    "care_left": "Wrote down who no longer looks after",
    "weekdays_offered": "Said which weekdays suit:",
    "days_offered": "Said which days suit:",
    "away_said": "Said they are away:",
    "away_taken_back": "Said they are here after all:",
    "help_limited": "Said how many shifts are enough:",
    "helper_described": "Wrote down as what helps:",
    "way_in_written": "Wrote down how to get into",
    "contact_added": "Wrote down whom to call in need:",
    "contact_changed": "Changed whom to call in need:",
    "contact_removed": "Struck off whom to call in need:",
    "paper_recorded": "Recorded a signed paper:",
    "paper_removed": "Struck off a signed paper:",
    "place_claimed": "Took a place in the shift",
    "place_cover_asked": "Asked for cover in the shift",
    "place_swap": "Asked to swap a place in the shift",
    "place_swapped": "Swapped a place in the shift",
    "place_kept": "Kept a place after all in the shift",
    "place_said_no": "Said no to the shift",
    "place_cannot_come": "Cannot come to the shift",
    "place_cannot_come_late": "Cannot come, within two days of it, to the shift",
    "place_assigned": "Gave somebody a place in the shift",
    "place_unassigned": "Took somebody off the shift",
    "place_gone": "Opened a place whose holder may not hold it now in the shift",
    "place_missed": "Wrote down who was not there at the shift",
    "place_done": "Wrote down who worked on the shift",
    "place_not_confirmed": "Counted as done after a week without a word the shift",
    "helper_link_made": "Made a helper link for",
    "helper_link_revoked": "Closed the helper link for",
    "helper_link_opened": "Opened a helper link:",
    "shift_made": "Made a shift:",
    "shift_changed": "Changed the shift",
    "shift_moved": "Moved a shift to",
    "shift_cancelled": "Cancelled the shift",
    "shift_revived": "Let a shift take place after all:",
    "shift_left_out": "Gave work of a shift back to the plan:",
    "shift_begun": "Began the shift",
    "rota_proposed": "Proposed a rota for",
    "rota_cleared": "Cleared the proposed rota of",
    "rota_published": "Published the rota of",
    "shift_removed": "Removed the shift",
    "series_made": "Made a shift that repeats:",
    "series_ended": "Ended the shift that repeats:",
    "calendar_link_made": "Made a calendar link:",
    "calendar_link_closed": "Closed a calendar link:",
}

#: Units stand at the end of the fields' names; the longest is tried first.
_UNITS = {
    "_g_per_ml": "g/mL",
    "_percent": "%",
    "_litres": "L",
    "_deg": "degrees",
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
    return WHAT_WORDS.get(what, f"{what.replace('_', ' ').capitalize()}:")


def who_words(entry: AuditEntry) -> str:
    """Return who did it: the name they had then, or the server."""
    return entry.person_name or SERVER


def change_lines(entry: AuditEntry) -> list[str]:
    """Return a line for each value that changed: what it was and what it is."""
    before, after = _mapping(entry.before), _mapping(entry.after)
    # A name that begins so is what the program needs to take it back.
    names = [name for name in {**before, **after} if not name.startswith("_")]
    return [_line(name, before, after) for name in names]


def _line(name: str, before: Mapping[str, object], after: Mapping[str, object]) -> str:
    label = field_words(name)
    if name not in before:
        return f"{label}: {_shown(after[name])}"
    if name not in after:
        return f"{label} was {_shown(before[name])}"
    return f"{label}: {_shown(before[name])} → {_shown(after[name])}"


def field_words(name: str) -> str:
    """Return a field's name in words, with its unit: "crown width (m)"."""
    for ending, unit in _UNITS.items():
        if name.endswith(ending):
            return f"{name.removesuffix(ending).replace('_', ' ')} ({unit})"
    return name.replace("_", " ")


def _shown(value: object) -> str:
    if value in (None, "", [], {}):
        return NOTHING
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:.6g}"
    if isinstance(value, list):
        return ", ".join(_shown(each) for each in value)
    text = str(value)
    return text.replace("_", " ") if _CODE.fullmatch(text) else text


def _mapping(value: object) -> Mapping[str, object]:
    return value if isinstance(value, Mapping) else {}
