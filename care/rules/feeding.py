"""Feeding: nitrogen for the canopy held now, in parts, never late, never unasked."""

from dataclasses import replace
from datetime import date, timedelta

from care.facts import Origin, Situation
from care.proposals import Proposal, Reason, Scalar
from care.science.feeding_plan import (
    FeedingPlan,
    dose_facts,
    feeding_plan,
    growth_facts,
    ladder_beside,
    rest_facts,
    rest_reason,
)
from care.science.feeding_record import (
    GROWTH,
    PLANTING_GROWTH_MM,
    TOLD,
    growth,
    is_past_unknown,
    is_settling,
    season_windows,
    suspects,
)
from care.science.feeding_turns import (
    NumberedWindows,
    blocked_season,
    not_before,
    open_windows,
)
from care.science.feeding_windows import outside_blackouts
from care.science.nutrients import product_mass_g
from care.science.season import Window, season_of, start_of_growth, work_of_season

KIND = "feeding"

DUE_AFTER_DAYS = 14
HEAVY_RAIN_MM = 25.0  # common practice, no source: an inch washes feed away
LEAST_NITROGEN_G = 0.2  # a part for the smallest pot that is worth a walk; no source
EFFORT_MINUTES = 6
LOOK_MINUTES = 2
FIRST_LOOK_DAYS = 30  # Texas A&M: a month after planting, if it has grown by then
LOOK_WINDOW_DAYS = 42
# What a person can change, or ought to know once; the rest goes without a word.
TOLD_FIRMLY = ("near_water", "soil_test", "blackout")
# Why not to feed: the reason's code, what would change it, its sources.
RESTS: dict[str, tuple[str, tuple[str, ...], tuple[str, ...]]] = {
    "near_water": (
        "feed_rest_near_water",
        ("local_rule_changed", "water_distance_corrected"),
        ("local_rule",),
    ),
    "blackout": ("feed_rest_blackout", ("local_rule_changed",), ("local_rule",)),
    "soil_test": ("feed_rest_soil_test", ("soil_tested",), ("soil_laboratory",)),
    "pruned": ("feed_rest_pruned", ("pruning_logged",), ("common_practice",)),
    "growth": ("feed_rest_growth", ("shoots_measured",), ("ncsu_fert", "unh_trunk")),
    "cause": (
        "feed_rest_cause",
        ("shoots_measured", "cause_found"),
        ("common_practice",),
    ),
}


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return this season's parts still to come, or the next season's first.

    The first is firm. Nothing is made up for a part that was missed or blocked. Where
    the past of the season is unknown, or short shoots may have another cause than
    hunger, the answer is a question and no dose; where the tree is not to be fed, it
    says so once a season.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    if _has_no_figure(situation):
        return ()
    season = season_of(situation.today, southern=situation.site.is_southern)
    windows = open_windows(situation, season)
    if windows:
        found = _this_season(situation, season, windows)
        if found and found[0].is_firm:
            return found
        return (*found, *_next_season(situation, season + 1))
    blocked = blocked_season(situation, season)
    if blocked is not None:
        return _rest(situation, season, blocked, "blackout")
    return _next_season(situation, season + 1)


def _has_no_figure(situation: Situation) -> bool:
    species = situation.tree.species
    return species.nitrogen_first_year_g is None or species.nitrogen_mature_g is None


def _this_season(
    situation: Situation, season: int, windows: NumberedWindows
) -> tuple[Proposal, ...]:
    span = Window(windows[0][1].start, windows[-1][1].end)
    if is_settling(situation, season):
        return _first_growth(situation, season, span)
    rest = rest_reason(situation, season)
    if rest:
        return _rest(situation, season, span, rest)
    code = _question(situation, season)
    if code:
        split, window = windows[0]
        return (_ask(situation, f"{season}/{split}", window, code),)
    grown = growth(situation, season)
    if grown is not None and grown.is_to_be_asked:
        return (_ask_short_shoots(situation, season, span),)
    return _splits(situation, season, windows)


def _question(situation: Situation, season: int) -> str:
    """Return the code of what must be known before a dose, or ``""``."""
    tree = situation.tree
    if is_past_unknown(situation, season):
        return "feed_ask_past"
    if tree.in_container and not tree.container_litres:
        return "feed_ask_pot_size"
    is_sized = tree.in_container or tree.planted_on is not None
    return "" if is_sized or tree.crown_width_m is not None else "feed_ask_crown"


def _splits(
    situation: Situation, season: int, windows: NumberedWindows
) -> tuple[Proposal, ...]:
    plan = feeding_plan(situation, season)
    if plan is None:
        return ()
    found: list[Proposal] = []
    left_g = plan.total_g - plan.given_g
    for split, window in windows:
        nitrogen_g = min(plan.split_g, left_g)
        if nitrogen_g < LEAST_NITROGEN_G:
            break
        left_g -= nitrogen_g
        dose = _feed(situation, plan, split, window, nitrogen_g)
        proposal = _after_rain(situation, dose)
        found.append(proposal if not found else replace(proposal, is_firm=False))
    return tuple(found)


def _next_season(situation: Situation, season: int) -> tuple[Proposal, ...]:
    """Return the first part of the next season as a projection."""
    if _question(situation, season) or is_settling(situation, season):
        return ()
    if rest_reason(situation, season) in TOLD_FIRMLY:
        return ()
    plan = feeding_plan(situation, season)
    windows = season_windows(situation, season)
    if plan is None or not windows or plan.split_g < LEAST_NITROGEN_G:
        return ()
    first = windows[0].within(not_before(situation), windows[0].end)
    allowed = outside_blackouts(first, situation.site) if first else None
    if allowed is None:
        return ()
    return (replace(_feed(situation, plan, 1, allowed, plan.split_g), is_firm=False),)


def _feed(
    situation: Situation,
    plan: FeedingPlan,
    split: int,
    window: Window,
    nitrogen_g: float,
) -> Proposal:
    percent = situation.site.feed_nitrogen_percent
    facts: tuple[tuple[str, Scalar], ...] = (
        ("season", plan.season),
        ("split", split),
        ("splits", plan.splits),
        *dose_facts(situation, plan, nitrogen_g),
    )
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=f"{plan.season}/{split}",
        action="feed",
        earliest=window.start,
        due=min(window.start + timedelta(days=DUE_AFTER_DAYS), window.end),
        latest=window.end,
        reason=Reason("feed_split", facts, _would_change(situation, plan)),
        amount=round(product_mass_g(nitrogen_g, percent), 1),
        unit="g",
        sources=_sources(situation),
        cautions=_cautions(situation),
        effort_minutes=EFFORT_MINUTES,
    )


def _ask(situation: Situation, key: str, window: Window, code: str) -> Proposal:
    """Return a question in the place of the next dose; it carries no amount."""
    tree = situation.tree
    due = min(max(window.start, tree.entered_on), window.end)
    season, split = key.split("/")
    facts: tuple[tuple[str, Scalar], ...] = (
        ("season", int(season)),
        ("split", int(split)),
        ("entered_on", tree.entered_on),
        ("product", situation.site.feed_product_name),
    )
    change = ("feeding_logged", "past_answered", "crown_measured")
    days = (window.start, due, window.end)
    return _look(situation, key, days, Reason(code, facts, change))


def _ask_short_shoots(situation: Situation, season: int, span: Window) -> Proposal:
    """Return a look at why shoots are short; feeding follows where it was hunger."""
    grown = growth(situation, season)
    hints = suspects(situation)
    facts: tuple[tuple[str, Scalar], ...] = (
        ("season", season),
        *(() if grown is None else growth_facts(grown)),
        ("maybe_dry", "dry" in hints),
        ("maybe_wet", "wet" in hints),
        ("maybe_planting", "planting" in hints),
    )
    first = max(span.start, situation.tree.entered_on)
    days = (span.start, min(first, span.end), span.end)
    change = ("shoots_measured", "cause_found")
    key = f"{season}/{GROWTH}"
    return _look(situation, key, days, Reason("feed_ask_short_shoots", facts, change))


def _first_growth(
    situation: Situation, season: int, span: Window
) -> tuple[Proposal, ...]:
    """Return a look at a fresh tree's shoots; it is fed only once they have grown."""
    planted = situation.tree.planted_on
    key = f"{season}/{GROWTH}"
    if planted is None or any(
        work.key == key for work in work_of_season(situation, KIND, season)
    ):
        return ()
    growing = max(planted, start_of_growth(situation, season).on)
    due = max(span.start, growing + timedelta(days=FIRST_LOOK_DAYS))
    if due > span.end:
        return ()
    latest = min(span.end, due + timedelta(days=LOOK_WINDOW_DAYS))
    if latest < situation.today:
        return ()
    facts = (
        ("season", season),
        ("planted_on", planted),
        ("needed_mm", PLANTING_GROWTH_MM),
    )
    days = (max(span.start, due - timedelta(days=7)), due, latest)
    reason = Reason("feed_ask_first_growth", facts, ("shoots_measured",))
    return (_look(situation, key, days, reason),)


def _look(
    situation: Situation,
    key: str,
    days: tuple[date, date, date],
    reason: Reason,
) -> Proposal:
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=key,
        action="check",
        earliest=days[0],
        due=days[1],
        latest=days[2],
        reason=reason,
        sources=("ncsu_fert",) if key.endswith(GROWTH) else (),
        effort_minutes=LOOK_MINUTES,
    )


def _rest(
    situation: Situation, season: int, span: Window, rest: str
) -> tuple[Proposal, ...]:
    """Return one word a season on why a tree is not fed; a tick says it was read."""
    key = f"{season}/{TOLD}"
    if any(work.key == key for work in work_of_season(situation, KIND, season)):
        return ()
    facts: tuple[tuple[str, Scalar], ...] = (
        ("season", season),
        ("rest", rest),
        *rest_facts(situation, season),
    )
    due = min(span.start + timedelta(days=DUE_AFTER_DAYS), span.end)
    code, would_change, sources = RESTS[rest]
    told = Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=key,
        action="rest",
        earliest=span.start,
        due=due,
        latest=span.end,
        reason=Reason(code, facts, would_change),
        sources=sources,
        effort_minutes=1,
        is_firm=rest in TOLD_FIRMLY,
    )
    return (told,)


def _would_change(situation: Situation, plan: FeedingPlan) -> tuple[str, ...]:
    site = situation.site
    applies = {
        "feeding_logged": True,
        "shoots_measured": True,
        "crown_measured": situation.tree.crown_width_m is None,
        "soil_tested": not situation.tree.in_container,
        "first_frost_entered": site.first_frost is None and not site.is_frost_free,
        "local_rule_changed": bool(site.feeding_blackouts),
        "product_weighed": site.feed_density_g_per_ml is None,
        "crop_lost": plan.splits > 1 and not situation.tree.in_container,
        "bud_break_seen": start_of_growth(situation, plan.season).basis != "seen",
    }
    return tuple(code for code, is_so in applies.items() if is_so)


def _sources(situation: Situation) -> tuple[str, ...]:
    species = situation.tree.species
    fields = ("nitrogen_first_year_g", "nitrogen_mature_g")
    keys = [species.source_of(field) for field in fields]
    ladder = ladder_beside(situation)
    if ladder is not None:
        keys.append(ladder.source)
    return tuple(dict.fromkeys(keys))


def _cautions(situation: Situation) -> tuple[str, ...]:
    """Return what to mind; dry, wet or soon rain-washed soil comes first."""
    water, tree = situation.water, situation.tree
    setback_m = situation.site.water_setback_m
    applies = {
        "water_first": water is not None and water.due_in_days == 0,
        "wait_for_workable_soil": water is not None
        and (water.is_saturated or water.is_frozen),
        "wait_heavy_rain": sum(_rain_ahead(situation).values()) >= HEAVY_RAIN_MM,
        "keep_from_water": setback_m is not None and tree.water_distance_m is None,
        "lawn_feed_counts": tree.floor == "grass" and not tree.in_container,
        "moist_soil_only": True,
        "not_in_hole": _is_fresh(situation),
        "keep_off_trunk": True,
        "label_rules": True,
        "check_local_rules": True,
    }
    return tuple(code for code, is_so in applies.items() if is_so)


def _is_fresh(situation: Situation) -> bool:
    years = situation.tree.years_since_planting(situation.today)
    return years is not None and years < 1


def _after_rain(situation: Situation, dose: Proposal) -> Proposal:
    """Return a dose on the first day after heavy rain, where its window allows."""
    rain = _rain_ahead(situation)
    dry_on = max(rain, default=situation.today) + timedelta(days=1)
    is_heavy = sum(rain.values()) >= HEAVY_RAIN_MM
    if not is_heavy or not dose.earliest < dry_on <= dose.latest:
        return dose
    late = replace(dose, earliest=dry_on, due=max(dose.due, dry_on))
    if dose.due >= dry_on:
        return late
    told = (("postponed_by", "rain"), ("postponed_from", dose.due))
    return replace(late, reason=replace(late.reason, facts=(*late.reason.facts, *told)))


def _rain_ahead(situation: Situation) -> dict[date, float]:
    """Return the rain forecast for today and tomorrow, on the days it falls [mm]."""
    series = situation.weather
    found = {}
    for ahead in range(2):
        day = situation.today + timedelta(days=ahead)
        if series is None or not series.covers(day):
            continue
        rain_mm = float(series.rain_mm[series.index(day)])
        if series.origin_on(day) is not Origin.NORMAL and rain_mm > 0:
            found[day] = rain_mm
    return found
