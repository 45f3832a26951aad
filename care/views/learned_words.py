"""What a tree's people taught the plan, in words: value, bounds, what it changes."""

from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext, gettext_noop, ngettext

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
from orchard.languages import localised, whole
from orchard.units import Quantity, UnitSystem, format_quantity, from_si, unit_label

VERDICTS = {
    "short": gettext_noop("shorter than they should be"),
    "in_band": gettext_noop("as long as they should be"),
    "long": gettext_noop("longer than they should be"),
}
SHARES = {
    1.0: gettext_noop("all of the feed"),
    0.5: gettext_noop("half of the feed"),
    0.0: gettext_noop("no feed"),
}
PART = gettext_noop("a part of the feed")


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
    return (
        ""
        if day is None
        else (" " + gettext("since {day}").format(day=short_day(day, today)))
    )


def _said(day: date | None, today: date) -> str:
    return (
        ""
        if day is None
        else gettext(", said since {day}").format(day=short_day(day, today))
    )


def _demand(found: LearnedDemand, today: date, *, in_container: bool) -> LearnedRow:
    count = ngettext("one answer", "{number} answers", found.answers).format(
        number=found.answers
    )
    low, high = TRUSTED
    return LearnedRow(
        title=gettext("Thirst: {factor} times what its crown says").format(
            factor=localised(f"{found.factor:.2f}")
        ),
        words=(
            gettext(
                "Learned from {count}: {factor} ± {spread} times what its crown "
                "says{said}."
            ).format(
                count=count,
                factor=localised(f"{found.factor:.2f}"),
                spread=localised(f"{found.spread:.2f}"),
                said=_said(found.since, today),
            )
        ),
        changes=gettext("It changes litres and days of its water."),
        bounds=(
            gettext(
                "The plan follows from {low} to {high} times and takes {applied} now."
            ).format(
                low=localised(f"{low:.2f}"),
                high=localised(f"{high:.2f}"),
                applied=localised(f"{found.applied:.2f}"),
            )
        ),
        forget=FORGET_DEMAND,
        button=gettext("Forget what was learned of its thirst"),
        ask="" if found.is_trusted else ask_words(in_container=in_container),
    )


def ask_words(*, in_container: bool) -> str:
    """Return what to measure again where answers do not fit the tree's facts."""
    what = (
        gettext("the pot's size, the crown's width and the litres you pour")
        if in_container
        else gettext(
            "the crown's width, the watered ground and the flow of hose or drippers"
        )
    )
    return gettext(
        "Its answers do not fit what is written down of it, so learning stops here. "
        "Measure again: {what}."
    ).format(what=what)


def _bloom(found: LearnedBloom, today: date) -> LearnedRow:
    count = ngettext("one bloom", "{number} blooms", found.blooms).format(
        number=found.blooms
    )
    whose = gettext("of its own") if found.is_own else gettext("of others of its kind")
    usual = gettext("the plan knew no figure")
    if found.usual_hours is not None:
        usual = gettext("without them the plan takes {usual_hours}").format(
            usual_hours=whole(found.usual_hours)
        )
    return LearnedRow(
        title=gettext("Bloom: as {count} taught").format(count=count),
        words=(
            gettext(
                "Learned from {count} {whose}{since}: {degree_hours} degree hours "
                "of spring warmth until full bloom; {usual}."
            ).format(
                count=count,
                whose=whose,
                since=_since(found.since, today),
                degree_hours=whole(found.degree_hours),
                usual=usual,
            )
        ),
        changes=gettext(
            "It changes bud break, bloom, frost alarms for flowers, and picking."
        ),
        bounds=(
            gettext(
                "Not believed more than {farthest_from_months_days} from the months "
                "of its kind."
            ).format(farthest_from_months_days=count_days(FARTHEST_FROM_MONTHS_DAYS))
        ),
        forget=FORGET_BLOOM if found.is_own else "",
        button=gettext("Forget what was learned of its bloom") if found.is_own else "",
    )


def _growth(found: LearnedGrowth, today: date, units: UnitSystem) -> LearnedRow:
    shoot, low, high = (
        format_quantity(length, "mm", units)
        for length in (found.shoot_mm, found.low_mm, found.high_mm)
    )
    verdict = gettext(VERDICTS[found.verdict])
    return LearnedRow(
        title=gettext("Growth: shoots {verdict}").format(verdict=verdict),
        words=(
            gettext(
                "Shoots of {shoot}, measured {on}: {verdict} ({low} to {high})."
            ).format(
                shoot=shoot,
                on=short_day(found.on, today),
                verdict=verdict,
                low=low,
                high=high,
            )
        ),
        changes=gettext("They ask for {share}.").format(
            share=gettext(SHARES.get(found.share, PART))
        ),
        bounds=gettext("Never more than the table gives. A reading counts for a year."),
        forget=FORGET_GROWTH,
        button=gettext("Forget what was learned of its growth"),
    )


def _step(step_c: float, units: UnitSystem) -> str:
    value = from_si(step_c, Quantity.TEMPERATURE_STEP, units)
    return f"{localised(f'{value:.1f}')} {unit_label(Quantity.TEMPERATURE_STEP, units)}"


def _pocket(found: ColdPocket, units: UnitSystem) -> LearnedRow:
    return LearnedRow(
        title=gettext("Cold of the place: {step} colder").format(
            step=_step(found.offset_c, units)
        ),
        words=(
            gettext(
                "Learned from {nights} cold nights with a thermometer here: {step} "
                "colder than its weather source."
            ).format(nights=found.nights, step=_step(found.offset_c, units))
        ),
        changes=gettext("It changes every frost alarm of this place."),
        bounds=(
            gettext(
                "From {pocket_nights} nights on, and never more than {step}."
            ).format(pocket_nights=POCKET_NIGHTS, step=_step(MOST_POCKET_C, units))
        ),
        forget=FORGET_POCKET,
        button=gettext("Forget what was learned of the cold here"),
    )


def _picked(found: Picked, units: UnitSystem) -> LearnedRow:
    this, last = (
        format_quantity(mass, "kg", units) for mass in (found.this_kg, found.last_kg)
    )
    return LearnedRow(
        title=gettext("Harvest: {this} this season").format(this=this),
        words=gettext("Picked {this} this season and {last} the last.").format(
            this=this, last=last
        ),
        changes=(
            gettext(
                "It corrects what is expected of it, from a half to twice, and the "
                "last picking ends its season."
            )
        ),
        bounds=gettext("Counted from {days} of picking.").format(
            days=count_days(found.days)
        ),
    )
