"""Why and how to prune, train, pull suckers and clear away what is sick, in words."""

from collections.abc import Callable

from care.views.reason_words import Teller, Told

OWN_RULES = {
    "fruiting_shoots": (
        "It fruits on last year's shoots: take out up to a third of them and the upright "
        "ones in the middle, and shorten the rest."
    ),
    "vine": "A vine is cut back much harder than a tree, by its own rule.",
    "canes": (
        "Take out the oldest canes at the ground; of brambles all that have fruited."
    ),
}
HELD = {
    "cold": "severe cold",
    "heat": "heat",
    "wet": "rain: wounds must stay dry",
    "drought": "drought: water it first",
}
TIMINGS = {
    "dormant": "The window ends when its buds break.",
    "dry_summer": "Cuts need six dry weeks after them: no sprinkler on them, 10 to 15 cm (4 to 6 in) below any stain, and no wound paint.",
    "after_harvest": "Cut soon after the last picking.",
    "months": "",
}
UNCHECKED = " The figure behind it rests on memory and was not checked."


def _held(teller: Teller) -> str:
    cause = HELD.get(teller.reason.text("held_by"))
    if cause is None or not teller.reason.day("held_until"):
        return ""
    return f" Wait until {teller.day('held_until')} because of {cause}."


def _prune(teller: Teller) -> str:
    why = teller.reason.text("why").rstrip(".")
    timing = TIMINGS.get(teller.reason.text("timing"), "")
    unchecked = UNCHECKED if teller.reason.holds("unverified") else ""
    parts = (f" {part}" for part in (f"{why}." if why else "", timing) if part)
    return (
        f"Its time for cuts runs from {teller.day('window_start')} to "
        f"{teller.day('window_end')}.{''.join(parts)}{_held(teller)}{unchecked}"
    )


def _prune_share(teller: Teller) -> str:
    return (
        f"{_prune(teller)} Never more than this share of the crown in one season; leave "
        "half of the leaves in its lower two thirds."
    )


def _prune_light(teller: Teller) -> str:
    return (
        f"{_prune(teller)} Only what is dead, broken, crossing or from below the graft: "
        "this kind keeps its leaves low and needs little."
    )


def _prune_to_height(teller: Teller) -> str:
    return (
        f"{_prune_share(teller)} It stands {teller.amount('height_m', 'm')} high and "
        f"{teller.amount('height_target_m', 'm')} is the aim: bring it to "
        f"{teller.amount('height_after_m', 'm')} this season, cutting tall limbs back to "
        "a lower side branch, and leave no stubs."
    )


def _prune_renovate(teller: Teller) -> str:
    season = teller.reason.number("renovation_season") or 0
    limbs = teller.reason.number("large_limbs") or 0
    lower = ""
    if teller.reason.number("height_after_m") is not None:
        lower = f" Bring it to {teller.amount('height_after_m', 'm')} this season."
    return (
        f"{_prune_share(teller)} No cuts were logged for three seasons, so it is brought "
        f"back over three years; this is year {season:.0f}: no more than "
        f"{limbs:.0f} large limbs, then dead and crossing wood.{lower}"
    )


def _prune_own(teller: Teller) -> str:
    rule = OWN_RULES.get(teller.reason.text("own_rule"), "")
    lower = ""
    if teller.reason.number("height_after_m") is not None:
        lower = f" Bring it to {teller.amount('height_after_m', 'm')} this season."
    return f"{_prune(teller)} {rule}{lower}"


def _prune_formative(teller: Teller) -> str:
    return f"{_prune(teller)} In its first year only dead and broken wood comes off."


def _prune_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("limit_share", "share", "of the crown at most in a season"),
        *teller.told("height_m", "m", "high when last measured"),
        *teller.told("height_target_m", "m", "high is the aim"),
    )


def _prune_ask(teller: Teller) -> str:
    return (
        f"It was entered on {teller.day('entered_on')}, and nobody said whether it had "
        "been pruned this season. An unknown past is no reason for a second quarter."
    )


def _prune_wires(teller: Teller) -> str:
    kilovolts = teller.reason.number("up_to_kv") or 0
    return (
        "It grows near wires. Nobody but the network's own or another qualified crew "
        f"works within {teller.amount('keep_away_m', 'm')} of a line of up to "
        f"{kilovolts:.0f} kV to ground, and further off above that; of a line whose "
        "voltage you do not know you keep right away."
    )


def _prune_tall(teller: Teller) -> str:
    return (
        f"It stands {teller.amount('height_m', 'm')} high; above "
        f"{teller.amount('stop_height_m', 'm')} it is work for a professional with the "
        "training and the gear."
    )


def _range(teller: Teller, least: str, most: str, unit: str) -> str:
    return f"{teller.amount(least, unit)} to {teller.amount(most, unit)}"


def _count(teller: Teller, name: str) -> str:
    return f"{teller.reason.number(name) or 0:.0f}"


def _angles(teller: Teller) -> str:
    least, most = _count(teller, "angle_least_deg"), _count(teller, "angle_most_deg")
    return f"{least} to {most} degrees from the trunk"


STEPS: dict[str, Callable[[Teller], str]] = {
    "head_whip": lambda teller: (
        f"Planted with bare roots, it is cut back to {teller.amount('head_mm', 'mm')} "
        f"({_range(teller, 'head_least_mm', 'head_most_mm', 'mm')} is usual), so that "
        "side branches come where you want them."
    ),
    "choose_branches": lambda teller: (
        f"Keep the leader and about {_count(teller, 'branches')} branches round the "
        f"trunk, {teller.amount('apart_mm', 'mm')} apart, the lowest "
        f"{teller.amount('lowest_mm', 'mm')} up, at {_angles(teller)}; take off rivals "
        "of the leader."
    ),
    "second_tier": lambda teller: (
        f"Choose a second tier {_range(teller, 'tier_least_mm', 'tier_most_mm', 'mm')} "
        f"above the first, at {_angles(teller)}, and keep upper branches shorter than "
        "lower ones."
    ),
    "keep_shape": lambda teller: (
        "Its frame stands. Take out what is upright, crossing or dead, and leave half of "
        "the leaves in the lower two thirds."
    ),
    "stop_leader": lambda teller: (
        "Cut the leader back to a weak side branch above the topmost main branch, so "
        "that it grows no taller."
    ),
    "choose_bowl": lambda teller: (
        f"Keep three or {_count(teller, 'branches')} branches evenly round the trunk, "
        f"the lowest {teller.amount('lowest_mm', 'mm')} up, at {_angles(teller)}; stop "
        f"the leader above them, at {_range(teller, 'stop_least_mm', 'stop_most_mm', 'mm')}."
    ),
    "fork_branches": lambda teller: (
        "Shorten the main branches so that they fork "
        f"{_range(teller, 'fork_least_mm', 'fork_most_mm', 'mm')} out, and take out what "
        "grows into the middle."
    ),
    "keep_bowl": lambda teller: (
        "Its bowl stands. Keep the middle open: take out upright shoots, thin the rest."
    ),
    "choose_stems": lambda teller: (
        f"Keep {_count(teller, 'stems_least')} to {_count(teller, 'stems_most')} strong "
        "stems that lean apart and take the others off at the ground."
    ),
    "leave_alone": lambda teller: (
        "This kind shapes itself: only dead or crossing wood and shoots from below the "
        "graft come off, and its leaves stay low."
    ),
    "tip_shoots": lambda teller: (
        f"Keep three or {_count(teller, 'leaders')} leaders low down and tip every shoot "
        f"longer than {teller.amount('shoot_mm', 'mm')}, so that it branches."
    ),
    "hold_height": lambda teller: (
        f"Tip shoots longer than {teller.amount('shoot_mm', 'mm')}; from now on hold it "
        f"at {_range(teller, 'hold_least_m', 'hold_most_m', 'm')} high."
    ),
    "two_buds": lambda teller: (
        f"Cut the strongest cane back to {_count(teller, 'buds')} buds and take the "
        "others off: the first year is for roots."
    ),
    "one_trunk": lambda teller: (
        "Keep the strongest cane as trunk and cut it at the wire; one that does not "
        f"reach it goes back to {_count(teller, 'buds')} buds for another year."
    ),
    "choose_arms": lambda teller: (
        f"Keep {_count(teller, 'arms')} canes along each wire, cut to "
        f"{_count(teller, 'buds')} buds, and take all else off."
    ),
    "pick_side_shoots": lambda teller: (
        f"While they are soft, choose up to {_count(teller, 'branches')} side shoots for "
        f"main branches, the lowest {teller.amount('lowest_mm', 'mm')} up, and spread "
        f"them to {_angles(teller)}; pinch the rest."
    ),
    "spread_branches": lambda teller: (
        f"Spread narrow branches to {_angles(teller)} with pegs or ties, and pinch "
        "shoots that rival the leader."
    ),
    "clear_centre": lambda teller: (
        "Rub out upright shoots that shade the middle of the bowl."
    ),
    "tip_leader": lambda teller: (
        f"When the leader passes {teller.amount('tip_at_mm', 'mm')}, tip it, and keep "
        f"three or {_count(teller, 'leaders')} of the shoots that follow."
    ),
    "tie_one_shoot": lambda teller: (
        "Tie the strongest shoot to its stake and pinch the others."
    ),
}


def _train(teller: Teller) -> str:
    step = STEPS.get(teller.reason.text("step"))
    year = teller.reason.number("training_year")
    first = "first year" if not year else f"year {year + 1:.0f}"
    words = step(teller) if step else ""
    return f"Its {first} of training. {words}{_held(teller)}".strip()


def _train_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("head_mm", "mm", "high after the cut"),
        *teller.told("lowest_mm", "mm", "up is the lowest branch"),
        *teller.told("apart_mm", "mm", "between branches"),
        *teller.told("shoot_mm", "mm", "long are the shoots to tip"),
    )


def _note(teller: Teller) -> str:
    note = teller.reason.text("note").rstrip(".")
    return f" {note}." if note else ""


def _suckers(teller: Teller) -> str:
    return (
        "Shoots from below the graft are the rootstock's: left alone they outgrow the "
        "tree. Tear or cut them off where they start, at any time you see one."
        f"{_note(teller)}"
    )


def _suckers_own(teller: Teller) -> str:
    return (
        "It throws shoots from its base and roots, which crowd it. Take them off where "
        f"they start; keep only stems you chose.{_note(teller)}"
    )


def _sprouts(teller: Teller) -> str:
    return (
        "Upright shoots answer the cuts of the winter. Pull them off at "
        f"{_range(teller, 'sprout_least_mm', 'sprout_most_mm', 'mm')}, while their base is "
        "green: fewer come back than after a cut."
    )


def _pups(teller: Teller) -> str:
    least, most = _count(teller, "stems_least"), _count(teller, "stems_most")
    return (
        f"Keep {least} to {most} stems of different age to a mat and cut the other pups "
        "at the ground. A bunch is cut when its first hand yellows; the stem that bore "
        f"it comes down with it.{_note(teller)}"
    )


def _clean_up(teller: Teller) -> str:
    cuts = "cut out cankers and dead spurs"
    if teller.reason.holds("cuts_wait_for_summer"):
        cuts = "mark cankers, and cut them out in the dry weeks of summer"
    return (
        "Rot and canker winter in dried fruit and sick bark and start again at bloom: "
        f"take dried fruit off the tree and the ground, {cuts}, and carry it all away."
    )


def _blight(teller: Teller) -> str:
    alcohol = _count(teller, "alcohol_percent")
    return (
        "Fire blight shows as shoots that blacken and bend over. On a hot dry day cut "
        f"{_range(teller, 'below_least_mm', 'below_most_mm', 'mm')} below what shows, "
        f"clean the blade in {alcohol}% alcohol for half a minute after each cut, and "
        "carry the wood away. Nothing to see? Then it is done."
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
