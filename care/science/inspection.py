"""When to look a tree over, and for what: an integrated pest calendar, no products.

Identify, watch, act from a threshold, and without products first. The lists follow
the stages of the year (UC IPM, UC Sacramento monthly tips, Purdue ID-146); a walk a
month is the usual pace, weekly only where a source asks for it.
"""

from dataclasses import dataclass
from datetime import date, timedelta

from care.facts import Situation, SpeciesFacts, Stage, TreeFacts
from care.science.crop import (
    FULL_BLOOM_LAG_DAYS,
    YEAR_DAYS,
    bloom_of,
    harvest_months,
    is_bearing,
    ripening_days,
)
from care.science.season import Window, season_date, start_of_growth
from care.science.shoots import clean_up_window, keeps_mummies

PETAL_FALL_DAYS = FULL_BLOOM_LAG_DAYS["post_bloom"]
WEEK_DAYS = 7
MONTH_DAYS = 30
MONTH_DAY = 15  # of monthly looks; ours
LEAST_DAYS = 14  # between a stage's look and the first monthly one; ours
DORMANT_DAYS = (56, 14)  # before bud break
SWELL_DAYS = 14
BLOOM_DAYS = 7
RIPE_LEAD_DAYS = 14
FIRST_LOOK_DAYS = 28  # after petal fall
YOUNG_YEARS = 3.0
MOST_WEEKS = 10  # where bloom is early the moth is not about yet; ours
# Codling moth's hosts: fruit is searched weekly from petal fall to June (UC
# Sacramento); walnut from memory.
CODLING = frozenset({"apple", "pear", "asian_pear", "quince", "walnut"})
# Kinds that are looked over by one list though a feeding group parts or joins them.
KINDS = {
    "peach": "peach",
    "nectarine": "peach",
    "sweet_cherry": "cherry",
    "sour_cherry": "cherry",
    "almond": "stone",
    "blackberry": "berry",
    "raspberry": "berry",
    "fig": "fig",
}
GROUPS = {"berry_acid": "berry"}

# Stage -> what is looked for; a second entry names the kinds it is for.
LISTS: dict[str, tuple[tuple[str, frozenset[str]], ...]] = {
    "dormant": (
        ("mummies", frozenset()),
        ("cankers", frozenset()),
        ("scale", frozenset()),
        ("rodent_guards", frozenset()),
    ),
    "bud_swell": (
        ("leaf_curl", frozenset({"peach"})),
        ("traps", frozenset({"pome"})),
        ("scale", frozenset()),
    ),
    "bloom": (
        ("no_spray_in_bloom", frozenset()),
        ("count_bloom", frozenset()),
        ("frost_damage", frozenset()),
        ("blossom_blight", frozenset({"pome", "stone", "peach", "cherry"})),
    ),
    "fruitlet": (
        ("entry_holes", frozenset({"pome", "nut"})),
        ("trunk_bands", frozenset({"pome"})),
        ("fire_blight", frozenset({"pome"})),
        ("aphids_ants", frozenset()),
    ),
    "summer": (
        ("drops", frozenset()),
        ("touching_fruit", frozenset({"pome", "stone", "peach"})),
        ("mites_scale_ants", frozenset()),
        ("sunburn_drought", frozenset()),
        ("quarantine", frozenset({"citrus"})),
    ),
    "ripening": (
        ("small_flies", frozenset({"cherry", "fig", "berry"})),
        ("wasps_birds", frozenset()),
        ("pick_promptly", frozenset()),
    ),
    "after_harvest": (
        ("leftover_fruit", frozenset()),
        ("fallen_leaves", frozenset()),
    ),
}


@dataclass(frozen=True, slots=True)
class Look:
    """One look of one season: its stage, its place among those, its days."""

    season: int
    stage: str
    number: int
    window: Window
    due: date
    every_days: int | None

    @property
    def key(self) -> str:
        """Identity of the task."""
        return f"{self.season}/{self.stage}-{self.number}"


def inspection_group(species: SpeciesFacts) -> str:
    """Return which list a kind is looked over by; neighbours of one share a walk."""
    group = GROUPS.get(species.feed_group, species.feed_group)
    return KINDS.get(species.key, group)


def checks_of(stage: str, situation: Situation, *, is_wet: bool) -> tuple[str, ...]:
    """Return what to look for at a stage, as codes in the order of the walk.

    Parameters
    ----------
    stage : str
        A key of :data:`LISTS`.
    situation : Situation
        One tree on one morning.
    is_wet : bool
        Whether the rains have set in, when leaves and fruit spot.
    """
    tree = situation.tree
    group = inspection_group(tree.species)
    found = [code for code, kinds in LISTS[stage] if not kinds or group in kinds]
    if is_wet and stage != "dormant":
        found.append("wet_leaves")
    if tree.in_container:
        found.append("pot_salt")
    if not tree.in_container and (
        situation.look_mates or is_young(tree, situation.today)
    ):
        found.append("guard_and_ties")
    return tuple(found)


def is_young(tree: TreeFacts, day: date) -> bool:
    """Return whether guards and ties still need looking at."""
    years = tree.years_since_planting(day)
    return years is not None and years < YOUNG_YEARS


def looks(situation: Situation, season: int) -> tuple[Look, ...]:
    """Return the looks of one season, in order.

    Bearing trees by the stages of their fruit; others once when dormant and monthly
    in growth. Plants that bloom all year are looked over monthly.
    """
    tree = situation.tree
    growth = start_of_growth(situation, season).on
    first = [] if tree.species.is_evergreen else [_dormant(season, growth)]
    if keeps_mummies(tree.species) and is_bearing(tree, growth):
        first = []  # its winter clean-up is such a look
    bloom = bloom_of(situation, season)
    if bloom is None or not is_bearing(tree, bloom.full_on):
        return (*first, *_monthly(season, growth, _autumn(situation, season)))
    group = inspection_group(tree.species)
    if group in ("peach", "pome"):
        first.append(_single(season, "bud_swell", growth, SWELL_DAYS))
    first.append(_single(season, "bloom", bloom.full_on, BLOOM_DAYS))
    petal_fall = bloom.full_on + timedelta(days=PETAL_FALL_DAYS)
    fruitlet = _fruitlet(situation, season, petal_fall)
    ripe = _ripe(situation, bloom.full_on)
    last = fruitlet[-1].window.end
    summer_end = _autumn(situation, season) if ripe is None else ripe.start
    summer = _monthly(season, last, summer_end - timedelta(days=RIPE_LEAD_DAYS))
    return (*first, *fruitlet, *summer, *_picking(situation, season, ripe))


def _autumn(situation: Situation, season: int) -> date:
    return season_date(season, 10, 31, southern=situation.site.is_southern)


def _dormant(season: int, growth: date) -> Look:
    lead, end = (growth - timedelta(days=days) for days in DORMANT_DAYS)
    window = Window(lead, end)
    return Look(season, "dormant", 1, window, window.middle, None)


def _single(season: int, stage: str, day: date, slack_days: int) -> Look:
    slack = timedelta(days=slack_days)
    return Look(season, stage, 1, Window(day - slack, day + slack), day, None)


def _fruitlet(situation: Situation, season: int, petal_fall: date) -> tuple[Look, ...]:
    """Return weekly looks to the end of June for codling moth's hosts, else one."""
    if situation.tree.species.key not in CODLING:
        due = petal_fall + timedelta(days=FIRST_LOOK_DAYS)
        return (_single(season, "fruitlet", due, WEEK_DAYS),)
    end = season_date(season, 6, 30, southern=situation.site.is_southern)
    weeks = min(max((end - petal_fall).days // WEEK_DAYS, 1), MOST_WEEKS)
    dues = [
        petal_fall + timedelta(days=WEEK_DAYS * week) for week in range(1, weeks + 1)
    ]
    half = WEEK_DAYS // 2
    return tuple(
        Look(
            season,
            "fruitlet",
            number,
            Window(due - timedelta(days=half), due + timedelta(days=half)),
            due,
            WEEK_DAYS,
        )
        for number, due in enumerate(dues, start=1)
    )


def _monthly(season: int, after: date, until: date) -> tuple[Look, ...]:
    """Return a look in the middle of every month from some weeks after a day on.

    One day for all trees, so that one walk does for them.
    """
    found: list[Look] = []
    due = after.replace(day=MONTH_DAY)
    while due <= until:
        if (due - after).days >= LEAST_DAYS:
            window = Window(
                due - timedelta(days=WEEK_DAYS), due + timedelta(days=2 * WEEK_DAYS)
            )
            number = len(found) + 1
            found.append(Look(season, "summer", number, window, due, MONTH_DAYS))
        due = (due + timedelta(days=MONTH_DAYS)).replace(day=MONTH_DAY)
    return tuple(found)


def _ripe(situation: Situation, full_bloom: date) -> Window | None:
    """Return the days of picking by bloom and months, where the catalogue has them."""
    species = situation.tree.species
    days = ripening_days(species, situation.tree.cultivar)
    if days is None or species.harvest is None:
        return None
    usual = full_bloom + timedelta(days=days[1])
    months = harvest_months(species, situation.site, usual)
    if (months.end - months.start).days > YEAR_DAYS:
        return None
    low, high = (full_bloom + timedelta(days=each) for each in (days[0], days[2]))
    return months.within(low, high) or months


def _picking(
    situation: Situation, season: int, ripe: Window | None
) -> tuple[Look, ...]:
    """Return the looks before and after picking, by the last picking where seen."""
    if ripe is None:
        return ()
    picked = situation.stage_day(Stage.HARVEST, season)
    is_seen = picked is not None and picked.basis == "seen"
    last = max(picked.on, ripe.start) if picked is not None and is_seen else ripe.end
    end = last + timedelta(days=WEEK_DAYS)
    ripening = _single(season, "ripening", ripe.start, WEEK_DAYS)
    after = _single(season, "after_harvest", end + timedelta(days=WEEK_DAYS), WEEK_DAYS)
    if keeps_mummies(situation.tree.species):
        # Late fruit: the winter clean-up, which strips what still hangs, has begun.
        cleared = clean_up_window(situation, season + 1)
        if after.window.end >= cleared.start:
            return (ripening,)
    return (ripening, after)
