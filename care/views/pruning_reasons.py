"""Why and how to prune, train, pull suckers and clear away what is sick, in words."""

from collections.abc import Callable

from django.utils.translation import gettext, gettext_noop

from care.views.reason_words import Teller, Told, unchecked
from orchard.catalogue.note_words import note_words

OWN_RULES = {
    "fruiting_shoots": (
        gettext_noop(
            "It fruits on last year's shoots: take out up to a third of them and the upright "
            "ones in the middle, and shorten the rest."
        )
    ),
    "vine": gettext_noop(
        "A vine is cut back much harder than a tree, by its own rule."
    ),
    "canes": (
        gettext_noop(
            "Take out the oldest canes at the ground; of brambles all that have fruited."
        )
    ),
}
HELD = {
    "cold": gettext_noop("Wait until {day} because of severe cold."),
    "heat": gettext_noop("Wait until {day} because of heat."),
    "wet": gettext_noop("Wait until {day} because of rain: wounds must stay dry."),
    "drought": gettext_noop("Wait until {day} because of drought: water it first."),
}
TIMINGS = {
    "dormant": gettext_noop("The window ends when its buds break."),
    "dry_summer": gettext_noop(
        "Cuts need six dry weeks after them: no sprinkler on them, 10 to 15 cm (4 to 6 in) below any stain, and no wound paint."
    ),
    "after_harvest": gettext_noop("Cut soon after the last picking."),
    "months": "",
}


def _held(teller: Teller) -> str:
    cause = HELD.get(teller.reason.text("held_by"))
    if cause is None or not teller.reason.day("held_until"):
        return ""
    return " " + gettext(cause).format(day=teller.day("held_until"))


def _prune(teller: Teller) -> str:
    why = note_words(teller.reason.text("why")).rstrip(".")
    timing = gettext(TIMINGS.get(teller.reason.text("timing"), ""))
    parts = (f" {part}" for part in (f"{why}." if why else "", timing) if part)
    return (
        gettext("Its time for cuts runs from {window_start} to {window_end}.").format(
            window_start=teller.day("window_start"), window_end=teller.day("window_end")
        )
        + f"{''.join(parts)}{_held(teller)}{unchecked(teller)}"
    )


def _prune_share(teller: Teller) -> str:
    return f"{_prune(teller)} " + gettext(
        "Never more than this share of the crown in one season; leave half of the "
        "leaves in its lower two thirds."
    )


def _prune_light(teller: Teller) -> str:
    return f"{_prune(teller)} " + gettext(
        "Only what is dead, broken, crossing or from below the graft: this kind "
        "keeps its leaves low and needs little."
    )


def _prune_to_height(teller: Teller) -> str:
    return f"{_prune_share(teller)} " + gettext(
        "It stands {height} high and {height_target} is the aim: bring it to "
        "{height_after} this season, cutting tall limbs back to a lower side "
        "branch, and leave no stubs."
    ).format(
        height=teller.amount("height_m", "m"),
        height_target=teller.amount("height_target_m", "m"),
        height_after=teller.amount("height_after_m", "m"),
    )


def _prune_renovate(teller: Teller) -> str:
    season = teller.reason.number("renovation_season") or 0
    limbs = teller.reason.number("large_limbs") or 0
    lower = ""
    if teller.reason.number("height_after_m") is not None:
        lower = " " + gettext("Bring it to {height_after} this season.").format(
            height_after=teller.amount("height_after_m", "m")
        )
    return (
        f"{_prune_share(teller)} "
        + gettext(
            "No cuts were logged for three seasons, so it is brought back over "
            "three years; this is year {season}: no more than {limbs} large limbs, "
            "then dead and crossing wood."
        ).format(season=f"{season:.0f}", limbs=f"{limbs:.0f}")
        + f"{lower}"
    )


def _prune_own(teller: Teller) -> str:
    rule = gettext(OWN_RULES.get(teller.reason.text("own_rule"), ""))
    lower = ""
    if teller.reason.number("height_after_m") is not None:
        lower = " " + gettext("Bring it to {height_after} this season.").format(
            height_after=teller.amount("height_after_m", "m")
        )
    return f"{_prune(teller)} {rule}{lower}"


def _prune_formative(teller: Teller) -> str:
    return f"{_prune(teller)} " + gettext(
        "In its first year only dead and broken wood comes off."
    )


def _prune_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told(
            "limit_share", "share", gettext("of the crown at most in a season")
        ),
        *teller.told("height_m", "m", gettext("high when last measured")),
        *teller.told("height_target_m", "m", gettext("high is the aim")),
    )


def _prune_ask(teller: Teller) -> str:
    return gettext(
        "It was entered on {entered}, and nobody said whether it had been pruned "
        "this season. An unknown past is no reason for a second quarter."
    ).format(entered=teller.day("entered_on"))


def _prune_wires(teller: Teller) -> str:
    kilovolts = teller.reason.number("up_to_kv") or 0
    return gettext(
        "It grows near wires. Nobody but the network's own or another qualified "
        "crew works within {keep_away} of a line of up to {kilovolts} kV to ground, "
        "and further off above that; of a line whose voltage you do not know you "
        "keep right away."
    ).format(keep_away=teller.amount("keep_away_m", "m"), kilovolts=f"{kilovolts:.0f}")


def _prune_tall(teller: Teller) -> str:
    return gettext(
        "It stands {height} high; above {stop_height} it is work for a professional "
        "with the training and the gear."
    ).format(
        height=teller.amount("height_m", "m"),
        stop_height=teller.amount("stop_height_m", "m"),
    )


def _range(teller: Teller, least: str, most: str, unit: str) -> str:
    return gettext("{least} to {most}").format(
        least=teller.amount(least, unit), most=teller.amount(most, unit)
    )


def _count(teller: Teller, name: str) -> str:
    return f"{teller.reason.number(name) or 0:.0f}"


def _angles(teller: Teller) -> str:
    least, most = _count(teller, "angle_least_deg"), _count(teller, "angle_most_deg")
    return gettext("{least} to {most} degrees from the trunk").format(
        least=least, most=most
    )


STEPS: dict[str, Callable[[Teller], str]] = {
    "head_whip": lambda teller: gettext(
        "Planted with bare roots, it is cut back to {head} ({range} is usual), so "
        "that side branches come where you want them."
    ).format(
        head=teller.amount("head_mm", "mm"),
        range=_range(teller, "head_least_mm", "head_most_mm", "mm"),
    ),
    "choose_branches": lambda teller: gettext(
        "Keep the leader and about {count} branches round the trunk, {apart} apart, "
        "the lowest {lowest} up, at {angles}; take off rivals of the leader."
    ).format(
        count=_count(teller, "branches"),
        apart=teller.amount("apart_mm", "mm"),
        lowest=teller.amount("lowest_mm", "mm"),
        angles=_angles(teller),
    ),
    "second_tier": lambda teller: gettext(
        "Choose a second tier {range} above the first, at {angles}, and keep upper "
        "branches shorter than lower ones."
    ).format(
        range=_range(teller, "tier_least_mm", "tier_most_mm", "mm"),
        angles=_angles(teller),
    ),
    "keep_shape": lambda teller: gettext(
        "Its frame stands. Take out what is upright, crossing or dead, and leave "
        "half of the leaves in the lower two thirds."
    ),
    "stop_leader": lambda teller: gettext(
        "Cut the leader back to a weak side branch above the topmost main branch, "
        "so that it grows no taller."
    ),
    "choose_bowl": lambda teller: gettext(
        "Keep three or {count} branches evenly round the trunk, the lowest {lowest} "
        "up, at {angles}; stop the leader above them, at {range}."
    ).format(
        count=_count(teller, "branches"),
        lowest=teller.amount("lowest_mm", "mm"),
        angles=_angles(teller),
        range=_range(teller, "stop_least_mm", "stop_most_mm", "mm"),
    ),
    "fork_branches": lambda teller: gettext(
        "Shorten the main branches so that they fork {range} out, and take out what "
        "grows into the middle."
    ).format(range=_range(teller, "fork_least_mm", "fork_most_mm", "mm")),
    "keep_bowl": lambda teller: gettext(
        "Its bowl stands. Keep the middle open: take out upright shoots, thin the rest."
    ),
    "choose_stems": lambda teller: gettext(
        "Keep {least} to {most} strong stems that lean apart and take the others "
        "off at the ground."
    ).format(least=_count(teller, "stems_least"), most=_count(teller, "stems_most")),
    "leave_alone": lambda teller: gettext(
        "This kind shapes itself: only dead or crossing wood and shoots from below "
        "the graft come off, and its leaves stay low."
    ),
    "tip_shoots": lambda teller: gettext(
        "Keep three or {count} leaders low down and tip every shoot longer than "
        "{shoot}, so that it branches."
    ).format(count=_count(teller, "leaders"), shoot=teller.amount("shoot_mm", "mm")),
    "hold_height": lambda teller: gettext(
        "Tip shoots longer than {shoot}; from now on hold it at {range} high."
    ).format(
        shoot=teller.amount("shoot_mm", "mm"),
        range=_range(teller, "hold_least_m", "hold_most_m", "m"),
    ),
    "two_buds": lambda teller: gettext(
        "Cut the strongest cane back to {count} buds and take the others off: the "
        "first year is for roots."
    ).format(count=_count(teller, "buds")),
    "one_trunk": lambda teller: gettext(
        "Keep the strongest cane as trunk and cut it at the wire; one that does not "
        "reach it goes back to {count} buds for another year."
    ).format(count=_count(teller, "buds")),
    "choose_arms": lambda teller: gettext(
        "Keep {count} canes along each wire, cut to {buds} buds, and take all else off."
    ).format(count=_count(teller, "arms"), buds=_count(teller, "buds")),
    "pick_side_shoots": lambda teller: gettext(
        "While they are soft, choose up to {count} side shoots for main branches, "
        "the lowest {lowest} up, and spread them to {angles}; pinch the rest."
    ).format(
        count=_count(teller, "branches"),
        lowest=teller.amount("lowest_mm", "mm"),
        angles=_angles(teller),
    ),
    "spread_branches": lambda teller: gettext(
        "Spread narrow branches to {angles} with pegs or ties, and pinch shoots "
        "that rival the leader."
    ).format(angles=_angles(teller)),
    "clear_centre": lambda teller: gettext(
        "Rub out upright shoots that shade the middle of the bowl."
    ),
    "tip_leader": lambda teller: gettext(
        "When the leader passes {tip_at}, tip it, and keep three or {count} of the "
        "shoots that follow."
    ).format(tip_at=teller.amount("tip_at_mm", "mm"), count=_count(teller, "leaders")),
    "tie_one_shoot": lambda teller: gettext(
        "Tie the strongest shoot to its stake and pinch the others."
    ),
}


def _train(teller: Teller) -> str:
    step = STEPS.get(teller.reason.text("step"))
    year = teller.reason.number("training_year")
    words = step(teller) if step else ""
    if not year:
        return (
            gettext("Its first year of training.") + f" {words}{_held(teller)}"
        ).strip()
    return (
        gettext("Its year {year} of training.").format(year=f"{year + 1:.0f}")
        + f" {words}{_held(teller)}"
    ).strip()


def _train_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("head_mm", "mm", gettext("high after the cut")),
        *teller.told("lowest_mm", "mm", gettext("up is the lowest branch")),
        *teller.told("apart_mm", "mm", gettext("between branches")),
        *teller.told("shoot_mm", "mm", gettext("long are the shoots to tip")),
    )


def _note(teller: Teller) -> str:
    note = note_words(teller.reason.text("note")).rstrip(".")
    return f" {note}." if note else ""


def _suckers(teller: Teller) -> str:
    return gettext(
        "Shoots from below the graft are the rootstock's: left alone they outgrow "
        "the tree. Tear or cut them off where they start, at any time you see one."
    ) + _note(teller)


def _suckers_own(teller: Teller) -> str:
    return gettext(
        "It throws shoots from its base and roots, which crowd it. Take them off "
        "where they start; keep only stems you chose."
    ) + _note(teller)


def _sprouts(teller: Teller) -> str:
    return gettext(
        "Upright shoots answer the cuts of the winter. Pull them off at {range}, "
        "while their base is green: fewer come back than after a cut."
    ).format(range=_range(teller, "sprout_least_mm", "sprout_most_mm", "mm"))


def _pups(teller: Teller) -> str:
    least, most = _count(teller, "stems_least"), _count(teller, "stems_most")
    return gettext(
        "Keep {least} to {most} stems of different age to a mat and cut the other "
        "pups at the ground. A bunch is cut when its first hand yellows; the stem "
        "that bore it comes down with it."
    ).format(least=least, most=most) + _note(teller)


def _clean_up(teller: Teller) -> str:
    if teller.reason.holds("cuts_wait_for_summer"):
        return gettext(
            "Rot and canker winter in dried fruit and sick bark and start again at "
            "bloom: take dried fruit off the tree and the ground, mark cankers, and "
            "cut them out in the dry weeks of summer, and carry it all away."
        )
    return gettext(
        "Rot and canker winter in dried fruit and sick bark and start again at "
        "bloom: take dried fruit off the tree and the ground, cut out cankers and "
        "dead spurs, and carry it all away."
    )


def _blight(teller: Teller) -> str:
    alcohol = _count(teller, "alcohol_percent")
    return gettext(
        "Fire blight shows as shoots that blacken and bend over. On a hot dry day "
        "cut {range} below what shows, clean the blade in {alcohol}% alcohol for "
        "half a minute after each cut, and carry the wood away. Nothing to see? "
        "Then it is done."
    ).format(
        range=_range(teller, "below_least_mm", "below_most_mm", "mm"), alcohol=alcohol
    )


SENTENCES: dict[str, Callable[[Teller], str]] = {
    "prune_window": _prune_share,
    "prune_light": _prune_light,
    "prune_to_height": _prune_to_height,
    "prune_renovate": _prune_renovate,
    "prune_own_rule": _prune_own,
    "prune_formative": _prune_formative,
    "prune_ask_past": _prune_ask,
    "prune_near_wires": _prune_wires,
    "prune_too_tall": _prune_tall,
    "train_step": _train,
    "suckers_below_graft": _suckers,
    "suckers_own_roots": _suckers_own,
    "suckers_water_sprouts": _sprouts,
    "suckers_pups": _pups,
    "sanitation_winter": _clean_up,
    "sanitation_blight": _blight,
}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {
    "prune_window": _prune_numbers,
    "prune_light": _prune_numbers,
    "prune_to_height": _prune_numbers,
    "prune_renovate": _prune_numbers,
    "prune_own_rule": _prune_numbers,
    "train_step": _train_numbers,
}
