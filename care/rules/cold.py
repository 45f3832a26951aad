"""Cold: which pots come in tonight, what to cover, when pots may go out again."""

from datetime import date, timedelta

from care.facts import Place, Situation, WorkDone
from care.proposals import Proposal, Reason, Scalar
from care.science.citrus_freeze import is_young_citrus
from care.science.cold_alarm import Alarm, alarm_facts, alarm_of, first_alarm
from care.science.cold_limits import Limit, warmest_limit
from care.science.cold_nights import Night, is_radiation_night, nights_ahead
from care.science.cold_spells import COVER_HEIGHT_M, thaw_after_sunrise_h
from care.science.frost import must_protect
from care.science.pot_carrying import Carried, carried_by, carried_kg
from care.science.potting import pot_litres
from care.science.season import is_frost_season, next_on

KIND = "cold"
KEY, GROUP_KEY = "next", "next/group"

NIGHTS_AHEAD = 2
OUT_NIGHTS = 5
LEAST_OUT_NIGHTS = 3
LATE_DAYS = 42  # before the first frost no pot goes out again; no source
OUT_MARGIN_C = 1.0  # warmer than the alarm, or pots go in and out; no source
COVERED_DAYS = 2
COVER_HOLDS_C = 8 / 1.8  # a medium row cover at best, 6-8 degF; a light one 2-5
FAR_NIGHTS = 10  # looked at for the day on which a pot likely goes out again
CARRYING = ("niosh_lifting", "hse_l23")
GROUP_BAND_C = 3 / 1.8  # above the alarm: pots huddle before they must come in; ours
GROUPED_DAYS = 60


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return at most one task: bring in, cover, huddle, or take out again.

    Only readings, forecasts, the evening and a minimum somebody typed count; normals
    never alarm.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    tree = situation.tree
    if tree.in_container and tree.place_on(situation.today).is_indoors:
        return _move_out(situation)
    found = _tonight(situation)
    return () if found is None else (found,)


def _logged(situation: Situation, key: str) -> tuple[WorkDone, ...]:
    return tuple(work for work in situation.logged(KIND) if work.key == key)


def _was_grouped(situation: Situation) -> bool:
    since = situation.today - timedelta(days=GROUPED_DAYS)
    return any(work.on > since for work in _logged(situation, GROUP_KEY))


def _act_on(situation: Situation, cold_on: date) -> date:
    """Return the day to act: a minimum falls in the early morning of its day."""
    return max(situation.today, cold_on - timedelta(days=1))


def _tonight(situation: Situation) -> Proposal | None:
    alarm = first_alarm(situation, NIGHTS_AHEAD)
    if alarm is None:
        return _group(situation)
    act_on = _act_on(situation, alarm.night.day)
    if _is_seen_to(situation, act_on):
        return None
    action, code, effort = _what_to_do(situation)
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=KEY,
        action=action,
        earliest=situation.today,
        due=act_on,
        latest=act_on,
        reason=Reason(
            code,
            (
                *alarm_facts(situation, alarm),
                ("beyond_cover", _is_beyond_cover(alarm)),
                *_facts_of(situation, alarm, action),
            ),
            ("warmer_forecast", "stage_seen"),
        ),
        sources=_sources(situation, alarm, action),
        cautions=_cautions(situation, alarm, action),
        effort_minutes=effort,
        is_urgent=act_on == situation.today,
    )


def _facts_of(
    situation: Situation, alarm: Alarm, action: str
) -> tuple[tuple[str, Scalar], ...]:
    """Return how a pot is carried and when it goes out, or when a cover comes off."""
    if action == "move_in":
        return (*_carrying(situation), *_going_out(situation, alarm.limit))
    if action == "cover":
        hours = thaw_after_sunrise_h(situation, alarm.night)
        told = None if hours is None else round(hours, 1)
        return (("thaw_after_sunrise_h", told),)
    return ()


def _carrying(situation: Situation) -> tuple[tuple[str, Scalar], ...]:
    tree = situation.tree
    litres = pot_litres(tree)
    medium = tree.container_medium
    weight_kg = None if litres is None else round(carried_kg(litres, medium))
    return (
        ("wet_kg", weight_kg),
        ("carried_by", carried_by(litres, medium).value),
        ("last_indoors", _last_indoors(situation) or ""),
        ("is_evergreen", tree.species.is_evergreen),
    )


def _last_indoors(situation: Situation) -> Place | None:
    """Return in what kind of room the pot stood last, or ``None`` if in none yet."""
    stays = sorted(situation.tree.stays, key=lambda stay: stay.since)
    rooms = [stay.place for stay in stays if stay.place.is_indoors]
    return rooms[-1] if rooms else None


def _going_out(situation: Situation, limit: Limit) -> tuple[tuple[str, Scalar], ...]:
    """Return when the pot likely goes out again, or until when frosts keep it in."""
    today, site = situation.today, situation.site
    room = _last_indoors(situation) or Place.INDOORS_UNHEATED
    nights = nights_ahead(situation, FAR_NIGHTS)
    ahead = (today + timedelta(days=days) for days in range(1, FAR_NIGHTS))
    out_on = next(
        (day for day in ahead if _is_fit(situation, limit, nights, day, room)), None
    )
    is_winter = is_frost_season(today, site) and site.last_frost is not None
    until = next_on(site.last_frost, today) if is_winter and site.last_frost else None
    return (("likely_out_on", out_on), ("frosts_until", None if out_on else until))


def _is_fit(
    situation: Situation,
    limit: Limit,
    nights: tuple[Night, ...],
    day: date,
    room: Place,
) -> bool:
    last = day + timedelta(days=OUT_NIGHTS)
    span = tuple(night for night in nights if day <= night.day <= last)
    is_known = len(span) >= LEAST_OUT_NIGHTS and not _stays_in(situation, day, room)
    return is_known and _if_warm(situation, limit, span) is not None


def _is_beyond_cover(alarm: Alarm) -> bool:
    """Whether even a medium row cover leaves the night below the limit."""
    return alarm.night.minimum_c + COVER_HOLDS_C < alarm.limit.threshold_c


def _is_seen_to(situation: Situation, act_on: date) -> bool:
    """Whether the tree was protected already, or the person said not now."""
    for work in _logged(situation, KEY):
        if work.what != "done":
            if work.on == situation.today:
                return True
        elif not situation.tree.in_container and (
            act_on - work.on <= timedelta(days=COVERED_DAYS)
        ):
            return True
    return False


def _what_to_do(situation: Situation) -> tuple[str, str, int]:
    """Return action, reason code and minutes."""
    if situation.tree.in_container:
        return "move_in", "cold_move_in", 10
    if _is_tall(situation):
        return "check", "cold_too_tall_to_cover", 5
    return "cover", "cold_cover", 15


def _is_tall(situation: Situation) -> bool:
    height_m = situation.tree.height_m
    return height_m is not None and height_m > COVER_HEIGHT_M


def _pulls_mulch(situation: Situation, alarm: Alarm, action: str) -> bool:
    """Whether bare ground under a young citrus would give its warmth tonight."""
    is_mulched = action == "cover" and situation.tree.mulch is not None
    is_clear = is_radiation_night(situation.weather, alarm.night.day)
    return is_mulched and is_clear and is_young_citrus(situation)


def _sources(situation: Situation, alarm: Alarm, action: str) -> tuple[str, ...]:
    pulled = _pulls_mulch(situation, alarm, action)
    lifting = _lifting(situation) if action == "move_in" else ()
    keys = (alarm.limit.source, *(("lsu_citrus_freeze",) if pulled else ()), *lifting)
    return tuple(dict.fromkeys(keys))


def _cautions(situation: Situation, alarm: Alarm, action: str) -> tuple[str, ...]:
    if action == "move_in":
        lift = _lift(situation)
        return ("move_before_watering", *lift, *(("huddle_by_wall",) if lift else ()))
    water = situation.water
    is_wet = water is not None and water.is_saturated
    soil = () if is_wet else ("water_soil_before_freeze",)
    if action == "check":
        return (*soil, "no_open_flame", "no_ladder_in_ice")
    bank = ("bank_young_citrus",) if is_young_citrus(situation) else ()
    pulled = _pulls_mulch(situation, alarm, action)
    mulch = ("mulch_back_before_frost",) if pulled else ()
    return ("cover_to_ground", "uncover_by_day", *mulch, *bank, *soil, "no_open_flame")


def _lift(situation: Situation) -> tuple[str, ...]:
    tree = situation.tree
    by = carried_by(pot_litres(tree), tree.container_medium)
    return () if by is Carried.ONE else ("two_people_lift",)


def _lifting(situation: Situation) -> tuple[str, ...]:
    return CARRYING if _lift(situation) else ()


def _group(situation: Situation) -> Proposal | None:
    """Return huddling a hardy pot, on a freezing night short of its alarm."""
    if not situation.tree.in_container or _was_grouped(situation):
        return None
    alarm = first_alarm(situation, NIGHTS_AHEAD, GROUP_BAND_C)
    if alarm is None or alarm.night.minimum_c > 0:
        return None
    act_on = _act_on(situation, alarm.night.day)
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=GROUP_KEY,
        action="group",
        earliest=situation.today,
        due=act_on,
        latest=act_on,
        reason=Reason(
            "cold_group",
            (*alarm_facts(situation, alarm), *_carrying(situation)),
            ("warmer_forecast",),
        ),
        sources=("common_practice",),
        cautions=("move_before_watering", *_lift(situation)),
        effort_minutes=5,
    )


def _move_out(situation: Situation) -> tuple[Proposal, ...]:
    """Return taking a pot out, once all forecast nights are warm enough."""
    today = situation.today
    limit = warmest_limit(situation)
    nights = nights_ahead(situation, OUT_NIGHTS)
    room = situation.tree.place_on(today)
    if limit is None or len(nights) < LEAST_OUT_NIGHTS:
        return ()
    if _stays_in(situation, today, room):
        return ()
    if any(work.on == today for work in _logged(situation, KEY)):
        return ()
    alarm = _if_warm(situation, limit, nights)
    return () if alarm is None else (_out(situation, alarm, nights[-1].day),)


def _if_warm(
    situation: Situation, limit: Limit, nights: tuple[Night, ...]
) -> Alarm | None:
    """Return the coldest of some nights held against a limit, if all are warm enough."""
    lowest = min(nights, key=lambda night: night.minimum_c)
    alarm = alarm_of(situation, limit, lowest)
    is_cold = must_protect(
        lowest.minimum_c, limit.alarm_c(alarm.margin_c), OUT_MARGIN_C
    )
    return None if is_cold else alarm


def _stays_in(situation: Situation, day: date, room: Place) -> bool:
    """Whether the pot should stay indoors whatever the week is like.

    Through the frost season and the weeks before it, for which no pot is carried out
    and in again; except a leaf-shedding tree in a heated room in the season itself:
    that one loses its winter chill and goes out as soon as the nights allow.
    """
    site = situation.site
    if not is_frost_season(day, site):
        return is_frost_season(day + timedelta(days=LATE_DAYS), site)
    is_heated = room is Place.INDOORS_HEATED
    return not (situation.tree.species.leaf == "deciduous" and is_heated)


def _out(situation: Situation, alarm: Alarm, nights_to: date) -> Proposal:
    is_winter = is_frost_season(situation.today, situation.site)
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=KEY,
        action="move_out",
        earliest=situation.today,
        due=situation.today,
        latest=nights_to,
        reason=Reason(
            "cold_move_out_for_chill" if is_winter else "cold_move_out",
            (
                *alarm_facts(situation, alarm),
                ("nights_to", nights_to),
                *_carrying(situation),
            ),
            ("colder_forecast",),
        ),
        sources=tuple(dict.fromkeys((alarm.limit.source, *_lifting(situation)))),
        cautions=("harden_gradually", "move_before_watering", *_lift(situation)),
        effort_minutes=10,
    )
