"""Why a task exists, from its stored reason: a sentence, numbers, what would change it."""

from collections.abc import Callable
from datetime import date

from django.utils.translation import gettext, gettext_noop

from care.models import Task
from care.views import (
    cold_reasons,
    feeding_reasons,
    flushing_reasons,
    harvest_reasons,
    heat_reasons,
    inspection_reasons,
    mulching_reasons,
    planting_reasons,
    potting_reasons,
    pruning_reasons,
    soil_reasons,
    water_reasons,
    weeding_reasons,
)
from care.views.local_rule_words import local_rule_words
from care.views.postponed_words import postponed_words
from care.views.reason_words import Teller, Told
from care.views.wording import reason_of
from orchard.units import UnitSystem

SENTENCES: dict[str, Callable[[Teller], str]] = {
    **water_reasons.SENTENCES,
    **feeding_reasons.SENTENCES,
    **flushing_reasons.SENTENCES,
    **soil_reasons.SENTENCES,
    **mulching_reasons.SENTENCES,
    **cold_reasons.SENTENCES,
    **planting_reasons.SENTENCES,
    **potting_reasons.SENTENCES,
    **inspection_reasons.SENTENCES,
    **heat_reasons.SENTENCES,
    **weeding_reasons.SENTENCES,
    **pruning_reasons.SENTENCES,
    **harvest_reasons.SENTENCES,
}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {
    **water_reasons.NUMBERS,
    **feeding_reasons.NUMBERS,
    **flushing_reasons.NUMBERS,
    **soil_reasons.NUMBERS,
    **mulching_reasons.NUMBERS,
    **cold_reasons.NUMBERS,
    **planting_reasons.NUMBERS,
    **potting_reasons.NUMBERS,
    **inspection_reasons.NUMBERS,
    **heat_reasons.NUMBERS,
    **weeding_reasons.NUMBERS,
    **pruning_reasons.NUMBERS,
    **harvest_reasons.NUMBERS,
}
SHORT: dict[str, Callable[[Teller], str]] = water_reasons.SHORT

CHANGES = {
    "planting_moved": gettext_noop("Change the planned day in the tree's entry."),
    "drainage_measured": gettext_noop(
        "Write the hours a filled hole took to drain into its entry."
    ),
    "potting_logged": gettext_noop(
        "A potting that nobody logged: write the pot's size into its entry."
    ),
    "pot_measured": gettext_noop("Measure the pot."),
    "rains_change": gettext_noop("The end of the rains."),
    "rain": gettext_noop("Rain moves it later, or does the work."),
    "forecast": gettext_noop("A new forecast moves the day."),
    "watering_rule_changed": gettext_noop("A change of the local watering rules."),
    "soil_feel": gettext_noop(
        "Feel the soil and say so: the plan believes your finger."
    ),
    "watering_logged": gettext_noop(
        "Water that nobody logged: write it down and the plan counts it."
    ),
    "irrigation_entered": gettext_noop(
        "A sprinkler, timer or drip line that waters it unasked."
    ),
    "crown_measured": gettext_noop(
        "Measure the crown: its width changes the amount most."
    ),
    "flow_timed": gettext_noop(
        "Time how long your hose or drip line takes to fill a bucket: litres become minutes."
    ),
    "pot_moved": gettext_noop("Move the pot under cover or indoors, and log the move."),
    "feeding_logged": gettext_noop("A feeding that nobody logged."),
    "shoots_measured": gettext_noop(
        "Measure this year's shoots: strong growth needs less feed."
    ),
    "first_frost_entered": gettext_noop(
        "Enter the usual first frost: it sets the last day to feed."
    ),
    "local_rule_changed": gettext_noop("A change of the local rules on feeding."),
    "water_distance_corrected": gettext_noop("Correct how far it stands from water."),
    "cause_found": gettext_noop("Say what held its shoots back."),
    "soil_tested": gettext_noop("Enter a soil test: its advice goes before any table."),
    "product_weighed": gettext_noop(
        "Weigh a cup of your product and enter it: cups then fit it."
    ),
    "crop_lost": gettext_noop(
        "If frost takes its crop, skip the thinning and say so: nothing more is fed."
    ),
    "sulfur_logged": gettext_noop("Sulfur that nobody logged."),
    "flush_logged": gettext_noop("A wash that nobody logged."),
    "bud_break_seen": gettext_noop(
        "Say when its buds break: feeding starts then, not before."
    ),
    "past_answered": gettext_noop("Say what was done before the tree was entered."),
    "mulch_measured": gettext_noop("Measure the mulch again."),
    "mulch_laid": gettext_noop("Lay mulch, and log it."),
    "gap_measured": gettext_noop("Measure the bare ground round the trunk."),
    "pruning_logged": gettext_noop("Cuts that nobody logged."),
    "severe_cold_forecast": gettext_noop(
        "A forecast of severe cold holds the cuts back."
    ),
    "stage_seen": gettext_noop("Say at which stage its buds are."),
    "wires_flag_removed": gettext_noop(
        "Correct the tree's entry if no wires are near it."
    ),
    "warmer_forecast": gettext_noop(
        "A warmer forecast, or a warmer reading tonight, calls it off."
    ),
    "colder_forecast": gettext_noop("A colder forecast calls it off."),
    "cooler_forecast": gettext_noop("A cooler forecast calls it off."),
    "guard_entered": gettext_noop("Say in its entry whether its trunk has a guard."),
    "weeding_logged": gettext_noop("A weeding that nobody logged."),
    "bloom_seen": gettext_noop(
        "Say when it is in full bloom: the days are counted from there."
    ),
    "light_crop": gettext_noop(
        "A light crop, after frost or few bees, needs no thinning."
    ),
    "ripe_signs": gettext_noop(
        "The fruit itself decides: early and late kinds differ by weeks."
    ),
    "planting_corrected": gettext_noop("Correct its planting day in the tree's entry."),
    "support_corrected": gettext_noop("Say in its entry that no stake holds it."),
    "height_measured": gettext_noop("Measure its height again, or have it lowered."),
    "graft_corrected": gettext_noop(
        "Correct the tree's entry if it stands on its own roots."
    ),
    "pups_logged": gettext_noop("Stems taken out that nobody logged."),
    "hold_corrected": gettext_noop("Correct the entry of the spray or the manure."),
}


def teller_of(task: Task, today: date, units: UnitSystem) -> Teller:
    """Return a task's reason together with who reads it and when."""
    return Teller(reason_of(task), task, today, units)


def sentence(task: Task, today: date, units: UnitSystem) -> str:
    """Return why in plain words; nothing where the reason is of a kind unknown here."""
    teller = teller_of(task, today, units)
    tell = SENTENCES.get(teller.reason.code)
    if not tell:
        return ""
    return f"{tell(teller)}{postponed_words(teller)}{local_rule_words(teller)}"


def short_reason(task: Task, today: date, units: UnitSystem) -> str:
    """Return why in a few words, where there is a short way to say it."""
    teller = teller_of(task, today, units)
    tell = SHORT.get(teller.reason.code)
    return tell(teller) if tell else ""


def deciding_numbers(task: Task, today: date, units: UnitSystem) -> tuple[Told, ...]:
    """Return the numbers that decided, at most three, those unknown left out."""
    teller = teller_of(task, today, units)
    tell = NUMBERS.get(teller.reason.code)
    return tell(teller)[:3] if tell else ()


def changes(task: Task) -> tuple[str, ...]:
    """Return what would move, change or withdraw the task."""
    codes = reason_of(task).would_change
    return tuple(gettext(CHANGES[code]) for code in codes if code in CHANGES)
