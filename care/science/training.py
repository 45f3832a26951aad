"""Training a young tree: what is done in each of its first winters and summers.

Lengths in millimetres. The first year is that of the first growth after planting; the
frame of most trees stands after the third winter.
"""

from dataclasses import dataclass
from datetime import date, timedelta

from care.facts import Situation, SpeciesFacts, Stock
from care.science.pruning_windows import Timing, pruning_windows, timing_of
from care.science.season import Window, season_of, start_of_growth

LAST_YEAR = 3
LATE_PLANTING_DAYS = 60  # planted this long after bud break, it starts next year
PLANTING_DAYS = 21  # a whip is headed when it is planted, or within three weeks
# Mid-June where buds break at the start of April: side shoots are chosen then (extension
# text on central leaders in the Southwest, read in a copy).
SUMMER_FROM_DAYS, SUMMER_DUE_DAYS, SUMMER_TO_DAYS = 60, 75, 105

# Which frame a kind is trained to: PNW 400, UC 8057 and UF/IFAS HS82, all from memory.
FRAMES = {
    **dict.fromkeys(
        ("apple", "pear", "asian_pear", "sweet_cherry", "pawpaw"), "central_leader"
    ),
    **dict.fromkeys(
        ("european_plum", "asian_persimmon", "american_persimmon"), "modified_leader"
    ),
    **dict.fromkeys(
        ("peach", "nectarine", "japanese_plum", "apricot", "almond", "sour_cherry"),
        "open_center",
    ),
    **dict.fromkeys(("fig", "pomegranate", "hazelnut"), "multi_stem"),
    "loquat": "natural",
    **dict.fromkeys(("mango", "avocado", "lychee", "longan", "guava"), "tipped"),
    **dict.fromkeys(("banana", "papaya", "date_palm", "dragon_fruit"), ""),
}
BY_SYSTEM = {
    "central_leader": "central_leader",
    "open_center": "open_center",
    "multi_stem": "multi_stem",
    "cane_or_spur": "vine",
    "none": "natural",
}


@dataclass(frozen=True, slots=True)
class Step:
    """One piece of training: its code and the numbers it needs."""

    code: str
    numbers: tuple[tuple[str, float], ...] = ()


# Strong forks stand at 45-60 degrees (PNW 400; New Mexico State University H-333).
ANGLES = (("angle_least_deg", 45.0), ("angle_most_deg", 60.0))
# A whip is cut to 2-3 ft (Sunset, Training and pruning fruit trees); 30 in is the middle.
HEAD = (("head_mm", 750.0), ("head_least_mm", 600.0), ("head_most_mm", 900.0))
# Four main branches 8-10 in apart, the lowest 18-24 in up (extension text on central
# leaders in the Southwest, read in a copy).
FIRST_BRANCHES = (
    *(("branches", 4.0), ("apart_mm", 225.0), ("lowest_mm", 450.0)),
    *ANGLES,
)
# A second tier 1 1/2 to 2 1/2 ft above the first (Sunset, central leader).
TIER = (("tier_least_mm", 450.0), ("tier_most_mm", 750.0), *ANGLES)
# Three or four, the lowest 24-32 in up (Parker, NC State University, on peaches).
BOWL = (("branches", 4.0), ("lowest_mm", 600.0), *ANGLES)
FORK = (("fork_least_mm", 450.0), ("fork_most_mm", 600.0))  # 18-24 in: PNW 400
STOP = (
    ("stop_least_mm", 900.0),
    ("stop_most_mm", 1200.0),
)  # 3-4 ft: UF/IFAS on peaches
STEMS = (("stems_least", 3.0), ("stems_most", 5.0))  # the catalogue's for pomegranate
# Three or four leaders low down (Wasielewski et al. 2015, Proc. Fla. State Hort. Soc.
# 128); lengths from memory.
TIP = (("leaders", 4.0), ("tip_at_mm", 900.0))
TIP_SHOOTS = (("leaders", 4.0), ("shoot_mm", 600.0))
# 8-15 ft high and about 15 ft wide (UF/IFAS Miami-Dade, 2025).
HOLD = (("shoot_mm", 600.0), ("hold_least_m", 2.4), ("hold_most_m", 4.6))
BUDS = (("buds", 2.0),)  # relayed extension advice on grapes
ARMS = (("arms", 2.0), ("buds", 4.0))

# (frame, year) -> what is done at planting or in winter, and what in summer.
WINTER: dict[tuple[str, int], Step] = {
    ("central_leader", 0): Step("head_whip", HEAD),
    ("central_leader", 1): Step("choose_branches", FIRST_BRANCHES),
    ("central_leader", 2): Step("second_tier", TIER),
    ("central_leader", 3): Step("keep_shape"),
    ("modified_leader", 0): Step("head_whip", HEAD),
    ("modified_leader", 1): Step("choose_branches", FIRST_BRANCHES),
    ("modified_leader", 2): Step("second_tier", TIER),
    ("modified_leader", 3): Step("stop_leader"),
    ("open_center", 0): Step("head_whip", HEAD),
    ("open_center", 1): Step("choose_bowl", (*BOWL, *STOP)),
    ("open_center", 2): Step("fork_branches", FORK),
    ("open_center", 3): Step("keep_bowl"),
    ("multi_stem", 0): Step("head_whip", HEAD),
    ("multi_stem", 1): Step("choose_stems", STEMS),
    ("multi_stem", 2): Step("choose_stems", STEMS),
    ("multi_stem", 3): Step("choose_stems", STEMS),
    ("natural", 1): Step("leave_alone"),
    ("natural", 2): Step("leave_alone"),
    ("natural", 3): Step("leave_alone"),
    ("tipped", 1): Step("tip_shoots", TIP_SHOOTS),
    ("tipped", 2): Step("tip_shoots", TIP_SHOOTS),
    ("tipped", 3): Step("hold_height", HOLD),
    ("vine", 0): Step("two_buds", BUDS),
    ("vine", 1): Step("one_trunk", BUDS),
    ("vine", 2): Step("choose_arms", ARMS),
    ("vine", 3): Step("choose_arms", ARMS),
}
SUMMER: dict[tuple[str, int], Step] = {
    ("central_leader", 0): Step("pick_side_shoots", FIRST_BRANCHES),
    ("central_leader", 1): Step("spread_branches", ANGLES),
    ("central_leader", 2): Step("spread_branches", ANGLES),
    ("modified_leader", 0): Step("pick_side_shoots", FIRST_BRANCHES),
    ("modified_leader", 1): Step("spread_branches", ANGLES),
    ("modified_leader", 2): Step("spread_branches", ANGLES),
    ("open_center", 0): Step("pick_side_shoots", BOWL),
    ("open_center", 1): Step("clear_centre"),
    ("open_center", 2): Step("clear_centre"),
    ("tipped", 0): Step("tip_leader", TIP),
    ("vine", 0): Step("tie_one_shoot"),
}


@dataclass(frozen=True, slots=True)
class Turn:
    """One step of one tree in its window; ``key`` is its identity within a kind."""

    season: int
    name: str  # planting | winter | summer
    year: int
    frame: str
    step: Step
    window: Window
    due: date

    @property
    def key(self) -> str:
        """Identity of the task."""
        return f"{self.season}/{self.name}"


def frame_of(species: SpeciesFacts) -> str:
    """Return the frame a kind is trained to, or nothing where it is not trained."""
    if species.key in FRAMES:
        return FRAMES[species.key]
    if species.habit == "vine":
        return "" if species.leaf == "evergreen" else "vine"
    return BY_SYSTEM.get(species.prune_system, "")


def first_growth(situation: Situation) -> int | None:
    """Return the season of a tree's first growth here, or ``None`` if nobody knows."""
    planted = situation.tree.planted_on
    if planted is None:
        return None
    season = season_of(planted, southern=situation.site.is_southern)
    late = start_of_growth(situation, season).on + timedelta(days=LATE_PLANTING_DAYS)
    return season if planted <= late else season + 1


def training_year(situation: Situation, season: int) -> int | None:
    """Return which year of its training a season is, 0-3, or ``None`` after or before."""
    first = first_growth(situation)
    if first is None or not frame_of(situation.tree.species):
        return None
    year = season - first
    return year if 0 <= year <= LAST_YEAR else None


def training_turns(situation: Situation, season: int) -> tuple[Turn, ...]:
    """Return the steps of one season in the order of its days.

    A whip sold with bare roots is headed as it is planted; a tree from a pot keeps its
    top. Stone fruit whose wounds must stay dry is shaped in summer only.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    season : int
        Care year.
    """
    year = training_year(situation, season)
    if year is None:
        return ()
    names = ["summer"]
    if timing_of(situation.tree.species) is Timing.DRY_SUMMER and year > 0:
        names = []
    names.insert(0, "winter" if year > 0 else "planting")
    turns = (_turn(situation, season, year, name) for name in names)
    return tuple(turn for turn in turns if turn is not None)


def _turn(situation: Situation, season: int, year: int, name: str) -> Turn | None:
    frame = frame_of(situation.tree.species)
    step = (SUMMER if name == "summer" else WINTER).get((frame, year))
    place = {"planting": _planting, "winter": _winter, "summer": _summer}[name]
    days = place(situation, season)
    if step is None or days is None:
        return None
    return Turn(season, name, year, frame, step, *days)


Days = tuple[Window, date]


def _planting(situation: Situation, season: int) -> Days | None:
    del season
    planted = situation.tree.planted_on
    if planted is None or situation.tree.stock is not Stock.BARE_ROOT:
        return None
    return Window(planted, planted + timedelta(days=PLANTING_DAYS)), planted


def _winter(situation: Situation, season: int) -> Days | None:
    windows = pruning_windows(situation, season)
    return (windows[0], windows[0].middle) if windows else None


def _summer(situation: Situation, season: int) -> Days:
    growth = start_of_growth(situation, season).on
    window = Window(
        growth + timedelta(days=SUMMER_FROM_DAYS),
        growth + timedelta(days=SUMMER_TO_DAYS),
    )
    return window, growth + timedelta(days=SUMMER_DUE_DAYS)
