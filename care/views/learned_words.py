"""What a tree's people taught the plan, in words: value, bounds, what it changes."""

from dataclasses import dataclass
from datetime import date

from care.facts import ColdPocket
from care.planning.forgotten import (
    FORGET_BLOOM,
    FORGET_DEMAND,
    FORGET_GROWTH,
    FORGET_POCKET,
)
from care.planning.learned import (
    MOST_POCKET_C,
    POCKET_NIGHTS,
    TRUSTED,
    Learned,
    LearnedBloom,
    LearnedDemand,
    LearnedGrowth,
    Picked,
)
from care.planning.learned_bloom import FARTHEST_FROM_MONTHS_DAYS
from care.views.days import count_days, short_day
from orchard.units import Quantity, UnitSystem, format_quantity, from_si, unit_label

VERDICTS = {
    "short": "shorter than they should be",
    "in_band": "as long as they should be",
    "long": "longer than they should be",
}
SHARES = {1.0: "all of the feed", 0.5: "half of the feed", 0.0: "no feed"}


@dataclass(frozen=True, slots=True)
class LearnedRow:
    """One parameter that people corrected; ``forget`` names what a button forgets."""

    title: str
    words: str
    changes: str
    bounds: str
    forget: str = ""
    button: str = ""
    ask: str = ""


def learned_rows(
    learned: Learned, today: date, units: UnitSystem, *, in_container: bool
) -> tuple[LearnedRow, ...]:
    """Return a row for everything that was learned of one tree."""
    rows = (
        learned.demand and _demand(learned.demand, today, in_container=in_container),
        learned.bloom and _bloom(learned.bloom, today),
        learned.growth and _growth(learned.growth, today, units),
        learned.pocket and _pocket(learned.pocket, units),
        learned.picked and _picked(learned.picked, units),
    )
    return tuple(row for row in rows if row)


def _since(day: date | None, today: date) -> str:
    return "" if day is None else f" since {short_day(day, today)}"


def _said(day: date | None, today: date) -> str:
    return "" if day is None else f", said since {short_day(day, today)}"


def _demand(found: LearnedDemand, today: date, *, in_container: bool) -> LearnedRow:
    count = "one answer" if found.answers == 1 else f"{found.answers} answers"
    low, high = TRUSTED
    return LearnedRow(
        title=f"Thirst: {found.factor:.2f} times what its crown says",
        words=(
            f"Learned from {count}: {found.factor:.2f} ± {found.spread:.2f} times "
            f"what its crown says{_said(found.since, today)}."
        ),
        changes="It changes litres and days of its water.",
        bounds=(
            f"The plan follows from {low:.2f} to {high:.2f} times and takes "
            f"{found.applied:.2f} now."
        ),
        forget=FORGET_DEMAND,
        button="Forget what was learned of its thirst",
        ask="" if found.is_trusted else ask_words(in_container=in_container),
    )


def ask_words(*, in_container: bool) -> str:
    """Return what to measure again where answers do not fit the tree's facts."""
    what = (
        "the pot's size, the crown's width and the litres you pour"
        if in_container
        else "the crown's width, the watered ground and the flow of hose or drippers"
    )
    return (
        "Its answers do not fit what is written down of it, so learning stops here. "
        f"Measure again: {what}."
    )


def _bloom(found: LearnedBloom, today: date) -> LearnedRow:
    count = "one bloom" if found.blooms == 1 else f"{found.blooms} blooms"
    whose = "of its own" if found.is_own else "of others of its kind"
    usual = "the plan knew no figure"
    if found.usual_hours is not None:
        usual = f"without them the plan takes {found.usual_hours:,.0f}"
    return LearnedRow(
        title=f"Bloom: as {count} taught",
        words=(
            f"Learned from {count} {whose}{_since(found.since, today)}: "
            f"{found.degree_hours:,.0f} degree hours of spring warmth until full "
            f"bloom; {usual}."
        ),
        changes="It changes bud break, bloom, frost alarms for flowers, and picking.",
        bounds=(
            f"Not believed more than {count_days(FARTHEST_FROM_MONTHS_DAYS)} from the "
            "months of its kind."
        ),
        forget=FORGET_BLOOM if found.is_own else "",
        button="Forget what was learned of its bloom" if found.is_own else "",
    )


def _growth(found: LearnedGrowth, today: date, units: UnitSystem) -> LearnedRow:
    shoot, low, high = (
        format_quantity(length, "mm", units)
        for length in (found.shoot_mm, found.low_mm, found.high_mm)
    )
    return LearnedRow(
        title=f"Growth: shoots {VERDICTS[found.verdict]}",
        words=(
            f"Shoots of {shoot}, measured {short_day(found.on, today)}: "
            f"{VERDICTS[found.verdict]} ({low} to {high})."
        ),
        changes=f"They ask for {SHARES.get(found.share, 'a part of the feed')}.",
        bounds="Never more than the table gives. A reading counts for a year.",
        forget=FORGET_GROWTH,
        button="Forget what was learned of its growth",
    )


def _step(step_c: float, units: UnitSystem) -> str:
    value = from_si(step_c, Quantity.TEMPERATURE_STEP, units)
    return f"{value:.1f} {unit_label(Quantity.TEMPERATURE_STEP, units)}"


def _pocket(found: ColdPocket, units: UnitSystem) -> LearnedRow:
    return LearnedRow(
        title=f"Cold of the place: {_step(found.offset_c, units)} colder",
        words=(
            f"Learned from {found.nights} cold nights with a thermometer here: "
            f"{_step(found.offset_c, units)} colder than its weather source."
        ),
        changes="It changes every frost alarm of this place.",
        bounds=(
            f"From {POCKET_NIGHTS} nights on, and never more than "
            f"{_step(MOST_POCKET_C, units)}."
        ),
        forget=FORGET_POCKET,
        button="Forget what was learned of the cold here",
    )


def _picked(found: Picked, units: UnitSystem) -> LearnedRow:
    this, last = (
        format_quantity(mass, "kg", units) for mass in (found.this_kg, found.last_kg)
    )
    return LearnedRow(
        title=f"Harvest: {this} this season",
        words=f"Picked {this} this season and {last} the last.",
        changes=(
            "It corrects what is expected of it, from a half to twice, and the last "
            "picking ends its season."
        ),
        bounds=f"Counted from {count_days(found.days)} of picking.",
    )
