"""Why to plant so and then, and what a new tree is looked at for, in words."""

from collections.abc import Callable

from care.views.reason_words import Teller, Told

DRAINAGE = {
    "sand": " A test hole drained within minutes: sand, which asks for water often.",
    "good": " A test hole drained within a day: good.",
    "marginal": " A test hole took a day or two to drain: marginal.",
    "unsuitable": " A test hole held water for more than two days: do not plant here without a mound, or choose another place.",
}
# Why such stock has its time then, by the code of the window.
TIMES = {
    "planting_bare_root_in_spring": ", bare, once the ground can be worked",
    "planting_bare_root_in_dormancy": ", while it is bare",
    "planting_hardy_in_spring": ", before summer's heat",
    "planting_hardy_in_autumn": ", while the soil is warm",
    "planting_autumn_of_dry_summer": ", with the first rains after a dry summer",
    "planting_tender_after_frost": ", after the last frost and before heat or daily rains",
    "planting_before_rains": ", before the rains, to root in warm soil",
    "planting_in_first_rains": ", in the first weeks of the rains",
    "planting_at_any_time": ", at any time of the year",
}
OTHER_SCHOOL = (
    " Another school digs deeper and mixes compost in; University of Florida trials found "
    "no water saved by it, and loosened soil sinks."
)


def _ground(teller: Teller) -> str:
    note = teller.reason.text("invasive_note")
    invasive = f" Of this kind the catalogue says: {note}." if note else ""
    return (
        f"Planting is planned for {teller.day('planted_on')}. What soil and rules forbid "
        f"is best known before anything is bought.{invasive}{_window(teller)}"
    )


def _locate(teller: Teller) -> str:
    days = teller.reason.number("mark_business_days") or 0
    return (
        f"The first digging is planned for {teller.day('dig_on')}. Pipes and cables are "
        f"marked free of charge when asked at least {days:.0f} working days before: 811 in the "
        "United States, elsewhere the local service. Local rules differ; their answer "
        "decides."
    )


def _drainage(teller: Teller) -> str:
    return (
        f"Dig {teller.amount('hole_m', 'm')} deep where it will stand, fill the hole "
        "twice, and time the second emptying. Under a day is good, over two days is no "
        "place for a tree without a mound; minutes mean sand. Write the hours into the "
        "tree's entry."
    )


def _depth(teller: Teller) -> str:
    above_m = teller.reason.number("above_ground_m") or 0.0
    if above_m < 0:
        return "so that it stands a little deeper than before"
    return "so that the top of the ball stands a little above the ground"


def _window(teller: Teller) -> str:
    better = teller.reason.day("better_on")
    if better is None:
        return ""
    why = TIMES.get(teller.reason.text("window_code"), "")
    return (
        f" Such stock is planted here from {teller.day('window_start')} to "
        f"{teller.day('window_end')}{why}. Better: {teller.day('better_on')}."
    )


def _close(teller: Teller) -> str:
    if not teller.reason.holds("too_close"):
        return ""
    return (
        f" Planned {teller.amount('spacing_m', 'm')} apart, closer than its kind bears: "
        f"{teller.amount('apart_least_m', 'm')} is the very least for most fruit trees."
    )


def _plant(teller: Teller) -> str:
    bound = (
        " It cannot be ticked before somebody has asked where pipes and cables lie."
        if teller.reason.text("blocked_by")
        else ""
    )
    return (
        f"Dig {teller.amount('hole_width_m', 'm')} to "
        f"{teller.amount('hole_width_most_m', 'm')} wide and "
        f"{teller.amount('hole_depth_m', 'm')} deep, {_depth(teller)}. Settle it with "
        f"{teller.amount('settle_l', 'L')} to {teller.amount('settle_most_l', 'L')} of "
        f"water.{bound}{DRAINAGE.get(teller.reason.text('drainage'), '')}"
        f"{_window(teller)}{_close(teller)}{OTHER_SCHOOL}"
    )


def _plant_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("wall_m", "m", "from walls at least"),
        *teller.told("septic_m", "m", "from a drain field at least"),
        *teller.told("spacing_usual_m", "m", "from its neighbours, usually"),
    )


def _plant_pot(teller: Teller) -> str:
    grown = ""
    if teller.reason.number("grown_pot_l") is not None:
        grown = (
            f" Grown, its kind needs {teller.amount('grown_pot_l', 'L')}; go there in "
            "steps, for a pot much too large stays wet."
        )
    return f"It is to be potted on {teller.day('planted_on')}.{grown}{_window(teller)}"


def _schedule(teller: Teller) -> str:
    if teller.reason.text("goal") == "survival":
        low = teller.reason.number("twice_weekly_months") or 0
        high = teller.reason.number("twice_weekly_most_months") or 0
        return f"twice a week for {low:.0f} to {high:.0f} months, so that it survives"
    daily = teller.reason.number("daily_until_days") or 0
    other = teller.reason.number("every_other_until_days") or 0
    return f"daily for {daily:.0f} days, every other day until day {other:.0f}, then weekly"


def _settled(teller: Teller) -> str:
    return (
        f"Planted on {teller.day('planted_on')}, it has settled by now. Published "
        f"schedules water a tree in leaf {_schedule(teller)}, with "
        f"{teller.amount('watering_l', 'L')} to {teller.amount('watering_most_l', 'L')} "
        "each time; the plan reckons its own days."
    )


def _unstake(teller: Teller) -> str:
    return (
        f"Its first season ended on {teller.day('season_end')}. A trunk that sways grows "
        "thicker; a tie that is left on cuts into it."
    )


def _growth(teller: Teller) -> str:
    days = teller.reason.number("stall_days") or 0
    usual = (
        "slow evergreens may stand still for most of a year"
        if teller.reason.holds("is_slow")
        else "a couple of months without growth are normal after planting"
    )
    return (
        f"Planted on {teller.day('planted_on')}: {usual}, about {days:.0f} days of "
        f"warmth. If it has not grown {teller.amount('growing_mm', 'mm')} by now, look "
        "closer; feed cures none of the causes."
    )


def _balance(teller: Teller) -> str:
    if teller.reason.fact("balance_settled") is None:
        return ""
    if teller.reason.holds("balance_settled"):
        return " The water balance says that its roots reach enough soil."
    return " The water balance does not find enough soil within its roots yet."


def _established(teller: Teller) -> str:
    low = teller.reason.number("months_per_inch") or 0
    high = teller.reason.number("months_per_inch_most") or 0
    other = teller.reason.number("other_months_per_inch") or 0
    zone = teller.reason.number("zone") or 0
    span = f"{low:.0f}" if low == high else f"{low:.0f} to {high:.0f}"
    return (
        f"In zone {zone:.0f} a new tree needs regular water for {span} months an inch "
        f"(25 mm) of trunk, counted from {teller.day('counted_from')}, so until "
        f"{teller.day('latest_on')}; another school says "
        f"{other:.0f} months, until {teller.day('other_on')}.{_balance(teller)} Undemanding "
        f"neighbours may go in from {teller.day('companions_from')} at the soonest, surely "
        f"from {teller.day('companions_surely')}."
    )


def _established_numbers(teller: Teller) -> tuple[Told, ...]:
    return teller.told("caliper_mm", "mm", "thick the trunk at planting")


def _ring(teller: Teller) -> str:
    return (
        f"Its roots reach about {teller.amount('root_radius_m', 'm')} from the trunk; it "
        f"is watered within {teller.amount('watered_radius_m', 'm')}. Widen basin and mulch "
        f"to {teller.amount('new_radius_m', 'm')}; its entry follows the tick."
    )


def _ring_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("root_radius_m", "m", "from the trunk its roots reach"),
        *teller.told("watered_radius_m", "m", "from the trunk it is watered"),
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
