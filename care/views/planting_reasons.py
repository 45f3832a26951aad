"""Why to plant so and then, and what a new tree is looked at for, in words."""

from collections.abc import Callable

from django.utils.translation import gettext, gettext_noop

from care.views.reason_words import Teller, Told
from orchard.catalogue.note_words import note_words

DRAINAGE = {
    "sand": gettext_noop(
        "A test hole drained within minutes: sand, which asks for water often."
    ),
    "good": gettext_noop("A test hole drained within a day: good."),
    "marginal": gettext_noop("A test hole took a day or two to drain: marginal."),
    "unsuitable": gettext_noop(
        "A test hole held water for more than two days: do not plant here without a mound, or choose another place."
    ),
}
# Why such stock has its time then, by the code of the window.
TIMES = {
    "planting_bare_root_in_spring": gettext_noop(
        ", bare, once the ground can be worked"
    ),
    "planting_bare_root_in_dormancy": gettext_noop(", while it is bare"),
    "planting_hardy_in_spring": gettext_noop(", before summer's heat"),
    "planting_hardy_in_autumn": gettext_noop(", while the soil is warm"),
    "planting_autumn_of_dry_summer": gettext_noop(
        ", with the first rains after a dry summer"
    ),
    "planting_tender_after_frost": gettext_noop(
        ", after the last frost and before heat or daily rains"
    ),
    "planting_before_rains": gettext_noop(", before the rains, to root in warm soil"),
    "planting_in_first_rains": gettext_noop(", in the first weeks of the rains"),
    "planting_at_any_time": gettext_noop(", at any time of the year"),
}
OTHER_SCHOOL = gettext_noop(
    "Another school digs deeper and mixes compost in; University of Florida trials found "
    "no water saved by it, and loosened soil sinks."
)


def _ground(teller: Teller) -> str:
    note = note_words(teller.reason.text("invasive_note"))
    invasive = (
        (" " + gettext("Of this kind the catalogue says: {note}.").format(note=note))
        if note
        else ""
    )
    return (
        gettext(
            "Planting is planned for {planted}. What soil and rules forbid is best "
            "known before anything is bought."
        ).format(planted=teller.day("planted_on"))
        + f"{invasive}{_window(teller)}"
    )


def _locate(teller: Teller) -> str:
    days = teller.reason.number("mark_business_days") or 0
    return gettext(
        "The first digging is planned for {dig}. Pipes and cables are marked free "
        "of charge when asked at least {days} working days before: 811 in the "
        "United States, elsewhere the local service. Local rules differ; their "
        "answer decides."
    ).format(dig=teller.day("dig_on"), days=f"{days:.0f}")


def _drainage(teller: Teller) -> str:
    return gettext(
        "Dig {hole} deep where it will stand, fill the hole twice, and time the "
        "second emptying. Under a day is good, over two days is no place for a tree "
        "without a mound; minutes mean sand. Write the hours into the tree's entry."
    ).format(hole=teller.amount("hole_m", "m"))


def _depth(teller: Teller) -> str:
    above_m = teller.reason.number("above_ground_m") or 0.0
    if above_m < 0:
        return gettext("so that it stands a little deeper than before")
    return gettext("so that the top of the ball stands a little above the ground")


def _window(teller: Teller) -> str:
    better = teller.reason.day("better_on")
    if better is None:
        return ""
    why = gettext(TIMES.get(teller.reason.text("window_code"), ""))
    return " " + gettext(
        "Such stock is planted here from {window_start} to {window_end}{why}. "
        "Better: {better}."
    ).format(
        window_start=teller.day("window_start"),
        window_end=teller.day("window_end"),
        why=why,
        better=teller.day("better_on"),
    )


def _close(teller: Teller) -> str:
    if not teller.reason.holds("too_close"):
        return ""
    return " " + gettext(
        "Planned {spacing} apart, closer than its kind bears: {apart_least} is the "
        "very least for most fruit trees."
    ).format(
        spacing=teller.amount("spacing_m", "m"),
        apart_least=teller.amount("apart_least_m", "m"),
    )


def _drains(teller: Teller) -> str:
    words = gettext(DRAINAGE.get(teller.reason.text("drainage"), ""))
    return f" {words}" if words else ""


def _plant(teller: Teller) -> str:
    bound = (
        (
            " "
            + gettext(
                "It cannot be ticked before somebody has asked where pipes and "
                "cables lie."
            )
        )
        if teller.reason.text("blocked_by")
        else ""
    )
    return (
        gettext(
            "Dig {hole_width} to {hole_width_most} wide and {hole_depth} deep, "
            "{depth}. Settle it with {settle} to {settle_most} of water."
        ).format(
            hole_width=teller.amount("hole_width_m", "m"),
            hole_width_most=teller.amount("hole_width_most_m", "m"),
            hole_depth=teller.amount("hole_depth_m", "m"),
            depth=_depth(teller),
            settle=teller.amount("settle_l", "L"),
            settle_most=teller.amount("settle_most_l", "L"),
        )
        + f"{bound}{_drains(teller)}{_window(teller)}{_close(teller)} {gettext(OTHER_SCHOOL)}"
    )


def _plant_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("wall_m", "m", gettext("from walls at least")),
        *teller.told("septic_m", "m", gettext("from a drain field at least")),
        *teller.told("spacing_usual_m", "m", gettext("from its neighbours, usually")),
    )


def _plant_pot(teller: Teller) -> str:
    grown = ""
    if teller.reason.number("grown_pot_l") is not None:
        grown = " " + gettext(
            "Grown, its kind needs {grown_pot}; go there in steps, for a pot much "
            "too large stays wet."
        ).format(grown_pot=teller.amount("grown_pot_l", "L"))
    return (
        gettext("It is to be potted on {planted}.").format(
            planted=teller.day("planted_on")
        )
        + f"{grown}{_window(teller)}"
    )


def _schedule(teller: Teller) -> str:
    if teller.reason.text("goal") == "survival":
        low = teller.reason.number("twice_weekly_months") or 0
        high = teller.reason.number("twice_weekly_most_months") or 0
        return gettext(
            "twice a week for {low} to {high} months, so that it survives"
        ).format(low=f"{low:.0f}", high=f"{high:.0f}")
    daily = teller.reason.number("daily_until_days") or 0
    other = teller.reason.number("every_other_until_days") or 0
    return gettext(
        "daily for {daily} days, every other day until day {other}, then weekly"
    ).format(daily=f"{daily:.0f}", other=f"{other:.0f}")


def _settled(teller: Teller) -> str:
    return gettext(
        "Planted on {planted}, it has settled by now. Published schedules water a "
        "tree in leaf {schedule}, with {watering} to {watering_most} each time; the "
        "plan reckons its own days."
    ).format(
        planted=teller.day("planted_on"),
        schedule=_schedule(teller),
        watering=teller.amount("watering_l", "L"),
        watering_most=teller.amount("watering_most_l", "L"),
    )


def _unstake(teller: Teller) -> str:
    return gettext(
        "Its first season ended on {season_end}. A trunk that sways grows thicker; "
        "a tie that is left on cuts into it."
    ).format(season_end=teller.day("season_end"))


def _growth(teller: Teller) -> str:
    days = teller.reason.number("stall_days") or 0
    usual = (
        gettext("slow evergreens may stand still for most of a year")
        if teller.reason.holds("is_slow")
        else gettext("a couple of months without growth are normal after planting")
    )
    return gettext(
        "Planted on {planted}: {usual}, about {days} days of warmth. If it has not "
        "grown {growing} by now, look closer; feed cures none of the causes."
    ).format(
        planted=teller.day("planted_on"),
        usual=usual,
        days=f"{days:.0f}",
        growing=teller.amount("growing_mm", "mm"),
    )


def _balance(teller: Teller) -> str:
    if teller.reason.fact("balance_settled") is None:
        return ""
    if teller.reason.holds("balance_settled"):
        return " " + gettext("The water balance says that its roots reach enough soil.")
    return " " + gettext(
        "The water balance does not find enough soil within its roots yet."
    )


def _established(teller: Teller) -> str:
    low = teller.reason.number("months_per_inch") or 0
    high = teller.reason.number("months_per_inch_most") or 0
    other = teller.reason.number("other_months_per_inch") or 0
    zone = teller.reason.number("zone") or 0
    span = (
        f"{low:.0f}"
        if low == high
        else gettext("{low} to {high}").format(low=f"{low:.0f}", high=f"{high:.0f}")
    )
    return gettext(
        "In zone {zone} a new tree needs regular water for {span} months an inch "
        "(25 mm) of trunk, counted from {counted_from}, so until {latest}; another "
        "school says {other} months, until {other_until}.{balance} Undemanding "
        "neighbours may go in from {companions_from} at the soonest, surely from "
        "{companions_surely}."
    ).format(
        zone=f"{zone:.0f}",
        span=span,
        counted_from=teller.day("counted_from"),
        latest=teller.day("latest_on"),
        other=f"{other:.0f}",
        other_until=teller.day("other_on"),
        balance=_balance(teller),
        companions_from=teller.day("companions_from"),
        companions_surely=teller.day("companions_surely"),
    )


def _established_numbers(teller: Teller) -> tuple[Told, ...]:
    return teller.told("caliper_mm", "mm", gettext("thick the trunk at planting"))


def _ring(teller: Teller) -> str:
    return gettext(
        "Its roots reach about {root_radius} from the trunk; it is watered within "
        "{watered_radius}. Widen basin and mulch to {new_radius}; its entry follows "
        "the tick."
    ).format(
        root_radius=teller.amount("root_radius_m", "m"),
        watered_radius=teller.amount("watered_radius_m", "m"),
        new_radius=teller.amount("new_radius_m", "m"),
    )


def _ring_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("root_radius_m", "m", gettext("from the trunk its roots reach")),
        *teller.told("watered_radius_m", "m", gettext("from the trunk it is watered")),
    )


SENTENCES: dict[str, Callable[[Teller], str]] = {
    "plant_ground": _ground,
    "plant_locate": _locate,
    "plant_drainage": _drainage,
    "plant_day": _plant,
    "plant_pot": _plant_pot,
    "young_settled": _settled,
    "young_unstake": _unstake,
    "young_growth": _growth,
    "young_established": _established,
    "young_widen_ring": _ring,
}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {
    "plant_day": _plant_numbers,
    "young_established": _established_numbers,
    "young_widen_ring": _ring_numbers,
}
