"""Harvest: when to look, when to pick, when not yet, and how to tell that it is ripe."""

from dataclasses import dataclass, replace
from datetime import date, timedelta

from care.facts import Hold, Situation, SpeciesFacts, Stage, WorkDone
from care.proposals import Proposal, Reason, Scalar
from care.science.crop import (
    YEAR_DAYS,
    Bloom,
    bloom_of,
    crops_near,
    harvest_months,
    is_bearing,
    is_known_cultivar,
    ripening_days,
)
from care.science.reach import CAREFUL_M, REACH_M, working_height_m
from care.science.season import Window, season_of
from care.science.yields import (
    NOVICE_KG_PER_HOUR,
    Expected,
    expected_crop,
    learned_yield,
)

KIND = "harvest"

FIRM_DAYS = 14
GUESS_DAYS = 14  # what a bloom guessed by month may be off; no source
MODEL_DAYS = 7  # what a bloom modelled from warmth may be off; no source
# Common practice, no source: a look a week, fewer where ripening may take months.
LOOK_AGAIN_DAYS = 7
MOST_LOOKS = 6
NEAR_DAYS = 30  # a picking this near the window is of this crop; no source
AFTER_HOLD_DAYS = 7
EFFORT_LOOK_MINUTES = 5
EFFORT_HOLD_MINUTES = 1
EFFORT_PICK_MINUTES = (10, 30, 120)  # least, where no yield is known, most
SAFE_GROUPS = ("pome", "stone", "citrus", "berry_acid")
HARMLESS = ("", "Not known to be toxic")
ENDS = ("no_crop", "taken_by_others", "not_needed")  # reasons that end a crop

# How ripeness shows: red colour alone is no sign (Iowa State); pears are picked mature
# and green, figs, cherries, citrus and berries ripen on the tree only, avocados off it
# (University of Maine Extension; Utah State University Extension, fruit questions).
SIGNS = {
    "pear": "picked_green",
    "fig": "hangs_soft",
    **dict.fromkeys(("sweet_cherry", "sour_cherry", "mulberry"), "tree_ripe"),
    **dict.fromkeys(("blackberry", "raspberry", "currant"), "tree_ripe"),
    "avocado": "ripens_off_tree",
}
GROUP_SIGNS = {
    "pome": "ground_colour",
    "stone": "ground_colour_soft",
    "citrus": "taste_first",
    "berry_acid": "tree_ripe",
    "nut": "falls",
}
SIGN_ELSE = "colour_and_taste"


@dataclass(frozen=True, slots=True)
class Turn:
    """The harvest of one crop: its bloom, its days, and the likely one."""

    bloom: Bloom
    window: Window
    ripe_on: date
    usual_days: int  # from full bloom
    number: int = 1

    @property
    def action(self) -> str:
        """To pick where the bloom was seen, else to look."""
        return "pick" if self.bloom.is_seen else "look"

    @property
    def key(self) -> str:
        """Identity of the task; each look and each postponed picking has its own."""
        return f"{self.bloom.crop}/{self.action}{self.number}"


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return the harvest of the next crop that is neither past nor over.

    From the bloom that was seen; from a modelled bloom or the catalogue's months it is
    only a look, which comes again after a week or more until something is picked. A
    projection until two weeks before. While a waiting time runs, a notice not to pick, and the
    picking after it; the notice alone for plants that bear all year. Young trees are
    left alone.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    warning = _warning(situation)
    for crop in crops_near(situation):
        turn = _turn(situation, crop)
        if turn is None or _is_over(situation, turn):
            continue
        due = _next_time(situation, turn)
        if due is not None:
            return (*warning, _harvest(situation, _after_hold(situation, due)))
    return warning


def _warning(situation: Situation) -> tuple[Proposal, ...]:
    """Return the notice of a hold on fruit that may hang now, picked in part or not."""
    hold, today = situation.held_until(), situation.today
    if hold is None:
        return ()
    soon = hold.until + timedelta(days=FIRM_DAYS)
    turns = (_turn(situation, crop) for crop in crops_near(situation))
    hanging = [turn.bloom.crop for turn in turns if turn and turn.window.start <= soon]
    if not hanging and is_bearing(situation.tree, today) and not _has_dates(situation):
        hanging = [season_of(today, southern=situation.site.is_southern)]
    return (_notice(situation, hanging[0], hold),) if hanging else ()


def _has_dates(situation: Situation) -> bool:
    """Whether the days of a harvest can be told at all."""
    species, site = situation.tree.species, situation.site
    season = season_of(situation.today, southern=site.is_southern)
    is_known = species.harvest is not None and ripening_days(species) is not None
    if not is_known or bloom_of(situation, season) is None:
        return False
    months = harvest_months(species, site, situation.today)
    return (months.end - months.start).days <= YEAR_DAYS


def _turn(situation: Situation, crop: int) -> Turn | None:
    tree = situation.tree
    days = ripening_days(tree.species, tree.cultivar)
    bloom = bloom_of(situation, crop)
    if bloom is None or days is None or tree.species.harvest is None:
        return None
    low, usual, high = (bloom.full_on + timedelta(days=each) for each in days)
    window = _window(situation, bloom, Window(low, high), usual)
    if window is None:
        return None
    ripe_on = min(max(usual, window.start), window.end)
    last = window.end
    hold = situation.held_until()
    if hold is not None and window.start <= hold.until and last >= hold.on:
        last = max(last, hold.until + timedelta(days=AFTER_HOLD_DAYS))
    is_past = last < max(situation.today, tree.entered_on)
    if is_past or not is_bearing(tree, ripe_on):
        return None
    return Turn(bloom, window, ripe_on, days[1])


def _window(
    situation: Situation, bloom: Bloom, days: Window, usual: date
) -> Window | None:
    """Return the days of ripening, inside the months where the bloom is a guess."""
    if bloom.is_seen:
        return days
    if bloom.basis == "heat":
        slack = timedelta(days=MODEL_DAYS)
        return Window(days.start - slack, days.end + slack)
    months = harvest_months(situation.tree.species, situation.site, usual)
    if (months.end - months.start).days > YEAR_DAYS:
        return None
    slack = timedelta(days=GUESS_DAYS)
    return months.within(days.start - slack, days.end + slack) or months


def _asked(situation: Situation, turn: Turn) -> tuple[WorkDone, ...]:
    """Return the looks and pickings of a crop that a person answered."""
    crop = f"{turn.bloom.crop}/"
    return tuple(
        work
        for work in situation.logged(KIND)
        if work.key.startswith(crop) and "/hold" not in work.key
    )


def _is_near(turn: Turn, day: date) -> bool:
    near = timedelta(days=NEAR_DAYS)
    return turn.window.start - near <= day <= turn.window.end + near


def _picked_kg(situation: Situation, turn: Turn) -> float:
    picked = (each for each in situation.observed("harvest") if _is_near(turn, each.on))
    return sum(each.value or 0.0 for each in picked)


def _is_over(situation: Situation, turn: Turn) -> bool:
    """Whether a crop was picked, its last picking was seen, or there is none."""
    asked = _asked(situation, turn)
    is_picked = any(w.what == "done" and "/pick" in w.key for w in asked)
    has_none = any(w.what == "skipped" and w.reason in ENDS for w in asked)
    is_seen = any(
        stage.stage is Stage.HARVEST
        and stage.basis == "seen"
        and stage.on <= situation.today
        and _is_near(turn, stage.on)
        for stage in situation.stages
    )
    return is_picked or has_none or is_seen or _picked_kg(situation, turn) > 0


def _next_time(situation: Situation, turn: Turn) -> Turn | None:
    """Return the turn some days after the last look or postponed picking, if in time."""
    before = _asked(situation, turn)
    if not before:
        return turn
    days = (turn.window.end - turn.ripe_on).days // MOST_LOOKS
    again = before[-1].on + timedelta(days=max(LOOK_AGAIN_DAYS, days))
    later = turn.window.within(again, turn.window.end)
    if later is None:
        return None
    ripe_on = max(turn.ripe_on, later.start) if turn.bloom.is_seen else later.start
    return replace(turn, window=later, ripe_on=ripe_on, number=len(before) + 1)


def _after_hold(situation: Situation, turn: Turn) -> Turn:
    """Return the turn with no day on which the fruit may not be picked."""
    hold = situation.held_until()
    if hold is None:
        return turn
    start = max(turn.window.start, hold.until + timedelta(days=1))
    end = turn.window.end
    if end < start:
        end = start + timedelta(days=AFTER_HOLD_DAYS)
    return replace(turn, window=Window(start, end), ripe_on=max(turn.ripe_on, start))


def _notice(situation: Situation, crop: int, hold: Hold) -> Proposal:
    """Return the warning that fruit of this tree may not be picked yet."""
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=f"{crop}/hold{hold.until:%m%d}",
        action="hold",
        earliest=hold.on,
        due=hold.on,
        latest=hold.until,
        reason=Reason(
            "harvest_hold",
            (
                ("season", crop),
                ("cause", hold.cause.value),
                ("product", hold.product),
                ("hold_on", hold.on),
                ("hold_until", hold.until),
                ("pick_from", hold.until + timedelta(days=1)),
            ),
            ("hold_corrected",),
        ),
        sources=("product_label",) if hold.cause == "spray" else ("nop_manure",),
        cautions=("tell_helpers", "windfalls"),
        effort_minutes=EFFORT_HOLD_MINUTES,
    )


def _harvest(situation: Situation, turn: Turn) -> Proposal:
    window, is_seen = turn.window, turn.bloom.is_seen
    code = "harvest_from_bloom" if is_seen else "harvest_by_month"
    if turn.bloom.basis == "heat":
        code = "harvest_from_model"
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=turn.key,
        action=turn.action,
        earliest=window.start,
        due=min(turn.ripe_on, window.end),
        latest=window.end,
        reason=Reason(
            code,
            _facts(situation, turn),
            ("ripe_signs",) if is_seen else ("bloom_seen", "ripe_signs"),
        ),
        sources=_sources(situation, turn),
        cautions=_cautions(situation),
        effort_minutes=_minutes(situation, turn) if is_seen else EFFORT_LOOK_MINUTES,
        is_firm=window.start <= situation.today + timedelta(days=FIRM_DAYS),
    )


def _sign(species: SpeciesFacts) -> str:
    usual = GROUP_SIGNS.get(species.feed_group, SIGN_ELSE)
    return SIGNS.get(species.key, usual)


def _expected(situation: Situation, turn: Turn) -> tuple[Expected | None, float]:
    """Return what it may bear and by how much its own pickings correct that."""
    expected = expected_crop(situation.tree, turn.ripe_on)
    if expected is None:
        return None, 1.0
    picked = (_picked_before_kg(situation, turn, years) for years in (3, 2, 1))
    factor = learned_yield(expected.most_kg, [mass for mass in picked if mass])
    factor = round(factor, 3)
    least, most = factor * expected.least_kg, factor * expected.most_kg
    return replace(expected, least_kg=least, most_kg=most), factor


def _facts(situation: Situation, turn: Turn) -> tuple[tuple[str, Scalar], ...]:
    tree, species = situation.tree, situation.tree.species
    expected, factor = _expected(situation, turn)
    own = is_known_cultivar(species, tree.cultivar)
    return (
        ("season", turn.bloom.crop),
        ("look_number", turn.number),
        ("full_bloom_on", turn.bloom.full_on),
        ("bloom_seen", turn.bloom.is_seen),
        ("bloom_basis", turn.bloom.basis),
        ("cultivar", tree.cultivar),
        ("bloom_to_harvest_days", turn.usual_days),
        ("window_start", turn.window.start),
        ("window_end", turn.window.end),
        ("sign", _sign(species)),
        ("expected_least_kg", _kg(expected.least_kg if expected else None)),
        ("expected_kg", _kg(expected.most_kg if expected else None)),
        *_shares(expected),
        ("yield_factor", factor if expected else None),
        ("orchard_tree_kg", species.yield_mature_kg),
        ("last_year_kg", _picked_before_kg(situation, turn, years=1)),
        ("is_potted", tree.in_container),
        ("unverified", not own and "days_bloom_to_harvest" in species.unverified),
    )


def _shares(expected: Expected | None) -> tuple[tuple[str, Scalar], ...]:
    """Return the share of a full crop, by the crown or else by the age."""
    return tuple(
        (
            f"{basis}_share",
            round(expected.share, 4) if expected and expected.basis == basis else None,
        )
        for basis in ("crown", "age")
    )


def _picked_before_kg(situation: Situation, turn: Turn, years: int) -> float | None:
    """Return what was picked of a crop years ago, or ``None`` where nothing was."""
    days = timedelta(days=365 * years)
    window = Window(turn.window.start - days, turn.window.end - days)
    return _picked_kg(situation, replace(turn, window=window)) or None


def _kg(mass_kg: float | None) -> float | None:
    return None if mass_kg is None else round(mass_kg, 1)


def _sources(situation: Situation, turn: Turn) -> tuple[str, ...]:
    """Return what stands behind the figures that are shown."""
    species = situation.tree.species
    days = species.source_of("days_bloom_to_harvest")
    if is_known_cultivar(species, situation.tree.cultivar):
        days = "cultivar_days"
    mass = species.source_of("yield_mature_kg")
    is_told = _expected(situation, turn)[0] is not None
    return tuple(dict.fromkeys((days, *((mass,) if is_told else ()), "ripeness_signs")))


def _minutes(situation: Situation, turn: Turn) -> int:
    least, usual, most = EFFORT_PICK_MINUTES
    expected, _factor = _expected(situation, turn)
    if expected is None:
        return usual
    return min(most, max(least, round(60 * expected.most_kg / NOVICE_KG_PER_HOUR)))


def _cautions(situation: Situation) -> tuple[str, ...]:
    tree = situation.tree
    height_m = working_height_m(tree, situation.today)
    is_high = height_m > REACH_M
    note = tree.species.toxicity_note
    is_safe = tree.species.feed_group in SAFE_GROUPS or note in HARMLESS
    codes = {
        "power_lines": tree.near_wires,
        "look_for_wires": is_high and not tree.near_wires,
        "ladder": is_high and not tree.near_wires,
        "stay_on_the_ground": height_m > CAREFUL_M,
        "waiting_days": True,
        "windfalls": True,
        "mango_sap": tree.species.key == "mango",
        "read_species_note": not is_safe,
    }
    return tuple(code for code, applies in codes.items() if applies)
