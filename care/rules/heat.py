"""Heat: shade for pots and an early look at fresh trees before a forecast hot day."""

from datetime import date, timedelta

from care.facts import Origin, Place, Situation
from care.proposals import Proposal, Reason

KIND = "heat"
KEY = "next"

# Common practice, no source: no species' own limit is in the catalogue.
ALARM_C = 35.0
DAYS_AHEAD = 3
URGENT_DAYS = 1
FRESH_YEARS = 1.0
# A hot day within a week of the last belongs to the same spell; no source. Shade that
# was put up stays up through it, and a hot summer asks once.
SPELL_GAP_DAYS = 7
SKIP_DAYS = 3
HEAVY_POT_L = 15.0  # wet mix, pot and plant near 23 kg, a lifting limit (from memory)


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return at most one task before the first forecast day of 35 degC or more.

    Pots that stand outdoors, and trees planted within the year unless their soil is
    full or they are watered today anyway. Only readings and forecasts count.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    if not _is_at_risk(situation):
        return ()
    hot_on = _first_hot(situation)
    if hot_on is None or _is_seen_to(situation, hot_on):
        return ()
    return (_prepare(situation, hot_on),)


def _is_at_risk(situation: Situation) -> bool:
    tree, today = situation.tree, situation.today
    if tree.in_container:
        return tree.place_on(today) is Place.OUTDOORS
    years = tree.years_since_planting(today)
    if years is None or not 0 <= years < FRESH_YEARS:
        return False
    water = situation.water
    return water is None or not (water.is_saturated or water.due_in_days == 0)


def _maximum_c(situation: Situation, day: date) -> float | None:
    """Return a day's read or forecast maximum; a gap is NaN, which is never hot."""
    series = situation.weather
    if series is None or not series.covers(day):
        return None
    if series.origin_on(day) is Origin.NORMAL:
        return None
    return float(series.tmax_c[series.index(day)])


def _is_hot(situation: Situation, day: date) -> bool:
    maximum_c = _maximum_c(situation, day)
    return maximum_c is not None and maximum_c >= ALARM_C


def _days(first: date, last: date) -> list[date]:
    return [first + timedelta(days=n) for n in range((last - first).days + 1)]


def _first_hot(situation: Situation) -> date | None:
    today = situation.today
    ahead = _days(today, today + timedelta(days=DAYS_AHEAD))
    return next((day for day in ahead if _is_hot(situation, day)), None)


def _is_seen_to(situation: Situation, hot_on: date) -> bool:
    """Whether somebody prepared it for this spell, or said not now."""
    work = situation.logged(KIND)
    if not work:
        return False
    last = work[-1]
    if last.what != "done":
        return (situation.today - last.on).days < SKIP_DAYS
    hot = [day for day in _days(last.on, hot_on) if _is_hot(situation, day)]
    steps = zip([last.on, *hot], hot, strict=False)
    return all((later - before).days <= SPELL_GAP_DAYS for before, later in steps)


def _prepare(situation: Situation, hot_on: date) -> Proposal:
    tree, today = situation.tree, situation.today
    is_pot = tree.in_container
    code = "heat_pot" if is_pot else "heat_fresh"
    maximum_c = _maximum_c(situation, hot_on)
    return Proposal(
        tree_id=tree.id,
        kind=KIND,
        key=KEY,
        action="shade_pots" if is_pot else "water_early",
        earliest=today,
        due=hot_on,
        latest=hot_on,
        reason=Reason(
            code,
            (
                ("maximum_c", None if maximum_c is None else round(maximum_c, 1)),
                ("hot_on", hot_on),
                ("alarm_c", ALARM_C),
                ("planted_on", tree.planted_on),
            ),
            ("cooler_forecast", "pot_moved") if is_pot else ("cooler_forecast",),
        ),
        sources=("common_practice",),
        cautions=_cautions(situation),
        effort_minutes=10 if is_pot else 5,
        is_urgent=(hot_on - today).days <= URGENT_DAYS,
    )


def _cautions(situation: Situation) -> tuple[str, ...]:
    tree = situation.tree
    if not tree.in_container:
        return ("heat_work_early", "not_when_soil_wet")
    is_heavy = tree.container_litres is None or tree.container_litres >= HEAVY_POT_L
    lift = ("two_people_lift",) if is_heavy else ()
    return ("heat_work_early", "move_before_watering", *lift)
