"""Harvest: when to look, when to pick, and how to tell that it is ripe."""

from dataclasses import dataclass
from datetime import date, timedelta

from care.facts import Situation, SpeciesFacts
from care.proposals import Proposal, Reason, Scalar
from care.science.crop import (
    YEAR_DAYS,
    Bloom,
    bloom_of,
    crops_near,
    harvest_months,
    is_bearing,
    ripening_days,
    yield_share,
)
from care.science.season import Window

KIND = "harvest"

FIRM_DAYS = 14
GUESS_DAYS = 14  # what a bloom guessed by month may be off; no source
REACH_M = 2.0
PICKED_KG_PER_HOUR = 36.0  # 60-100 lb an hour for novices (from memory)
EFFORT_LOOK_MINUTES = 5
EFFORT_PICK_MINUTES = (10, 30, 120)  # least, where no yield is known, most
SAFE_GROUPS = ("pome", "stone", "citrus", "berry_acid")
HARMLESS = ("", "Not known to be toxic")

# How ripeness shows: red colour alone is no sign (Iowa State); pears are picked mature
# and green, figs, cherries, citrus and berries ripen on the tree only, avocados off it
# (University of Maine Extension; Utah State University Extension, fruit questions).
SIGNS = {
    "pear": "picked_green",
    "fig": "hangs_soft",
    "sweet_cherry": "tree_ripe",
    "sour_cherry": "tree_ripe",
    "mulberry": "tree_ripe",
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

    @property
    def key(self) -> str:
        """Identity of the task."""
        return f"{self.bloom.crop}/1"


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return the harvest of the next crop that is neither past nor closed.

    From the bloom that was seen, or from the catalogue's months as a first guess, when
    it is only a look; a projection until two weeks before. Young trees, and plants
    that bear all year, are left alone.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    closed = {work.key for work in situation.logged(KIND)}
    for crop in crops_near(situation):
        turn = _turn(situation, crop)
        if turn is not None and turn.key not in closed:
            return (_harvest(situation, turn),)
    return ()


def _turn(situation: Situation, crop: int) -> Turn | None:
    tree, site = situation.tree, situation.site
    bloom, days = bloom_of(situation, crop), ripening_days(tree.species)
    if bloom is None or days is None or tree.species.harvest is None:
        return None
    low, usual, high = (bloom.full_on + timedelta(days=each) for each in days)
    window = Window(low, high)
    if not bloom.is_seen:
        months = harvest_months(tree.species, site, usual)
        if (months.end - months.start).days > YEAR_DAYS:
            return None
        slack = timedelta(days=GUESS_DAYS)
        window = months.within(low - slack, high + slack) or months
    ripe_on = min(max(usual, window.start), window.end)
    is_over = window.end < max(situation.today, tree.entered_on)
    if is_over or not is_bearing(tree, ripe_on):
        return None
    return Turn(bloom, window, ripe_on)


def _harvest(situation: Situation, turn: Turn) -> Proposal:
    window = turn.window
    is_seen = turn.bloom.is_seen
    code = "harvest_from_bloom" if is_seen else "harvest_by_month"
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=turn.key,
        action="pick" if is_seen else "look",
        earliest=window.start,
        due=turn.ripe_on,
        latest=window.end,
        reason=Reason(
            code,
            _facts(situation, turn),
            ("ripe_signs",) if is_seen else ("bloom_seen", "ripe_signs"),
        ),
        sources=_sources(situation),
        cautions=_cautions(situation),
        effort_minutes=_minutes(situation) if is_seen else EFFORT_LOOK_MINUTES,
        is_firm=window.start <= situation.today + timedelta(days=FIRM_DAYS),
    )


def _sign(species: SpeciesFacts) -> str:
    usual = GROUP_SIGNS.get(species.feed_group, SIGN_ELSE)
    return SIGNS.get(species.key, usual)


def _expected_kg(situation: Situation) -> float | None:
    share, orchard_kg = yield_share(situation.tree), _orchard_kg(situation)
    return None if share is None or orchard_kg is None else share * orchard_kg


def _orchard_kg(situation: Situation) -> float | None:
    """Return the yield of an orchard tree; a pot holds none such."""
    tree = situation.tree
    return None if tree.in_container else tree.species.yield_mature_kg


def _facts(situation: Situation, turn: Turn) -> tuple[tuple[str, Scalar], ...]:
    species = situation.tree.species
    expected_kg = _expected_kg(situation)
    return (
        ("season", turn.bloom.crop),
        ("full_bloom_on", turn.bloom.full_on),
        ("bloom_seen", turn.bloom.is_seen),
        ("bloom_to_harvest_days", species.days_bloom_to_harvest),
        ("window_start", turn.window.start),
        ("window_end", turn.window.end),
        ("sign", _sign(species)),
        ("expected_kg", None if expected_kg is None else round(expected_kg)),
        ("orchard_tree_kg", _orchard_kg(situation)),
        ("yield_is_orchard_figure", expected_kg is not None),
        ("unverified", "days_bloom_to_harvest" in species.unverified),
    )


def _sources(situation: Situation) -> tuple[str, ...]:
    """Return what stands behind the figures that are shown."""
    species = situation.tree.species
    fields = ["days_bloom_to_harvest"]
    if _expected_kg(situation) is not None:
        fields.append("yield_mature_kg")
    keys = (*(species.source_of(field) for field in fields), "ripeness_signs")
    return tuple(dict.fromkeys(keys))


def _minutes(situation: Situation) -> int:
    least, usual, most = EFFORT_PICK_MINUTES
    expected_kg = _expected_kg(situation)
    if expected_kg is None:
        return usual
    return min(most, max(least, round(60 * expected_kg / PICKED_KG_PER_HOUR)))


def _cautions(situation: Situation) -> tuple[str, ...]:
    tree = situation.tree
    height_m = tree.height_m
    if height_m is None:
        height_m = 0.0 if tree.in_container else tree.species.mature_height_m or 0.0
    codes = ["power_lines"] if tree.near_wires else []
    if height_m > REACH_M and not tree.near_wires:
        codes += ["look_for_wires", "ladder"]
    codes += ["waiting_days", "windfalls"]
    note = tree.species.toxicity_note
    if tree.species.feed_group not in SAFE_GROUPS and note not in HARMLESS:
        codes.append("read_species_note")
    return tuple(codes)
