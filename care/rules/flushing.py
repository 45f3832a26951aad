"""Flushing: washing salts out of a pot with plain water, in growth only."""

from datetime import date, timedelta

from care.facts import Situation
from care.proposals import Proposal, Reason
from care.science.feeding_record import last_dose_on
from care.science.growing_season import growing_season, next_turn
from care.science.salt_flush import (
    AFTER_FEEDING_DAYS,
    FLUSH_BETWEEN_DAYS,
    FLUSH_POT_VOLUMES,
    flush_litres,
)

KIND = "flushing"
KEY = "next"

EARLY_DAYS = 7
WINDOW_DAYS = 14
EFFORT_FIXED_MINUTES = 5
EFFORT_MINUTES_PER_L = 0.1  # a can of ten litres a minute; no source


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return the next wash of a pot that is fed, or watered with salty water.

    None while it rests, stands wet, frozen or indoors: roots without air die, and what
    runs out below needs somewhere to go.

    Parameters
    ----------
    situation : Situation
        One plant on one morning.
    """
    tree, season = situation.tree, growing_season(situation)
    if not tree.in_container or not tree.container_litres or _must_wait(situation):
        return ()
    fed = _fed_since(situation, season.start)
    if situation.today not in season or not (fed or situation.site.is_water_salty):
        return ()
    due = _due(situation, season.start, fed)
    if due > season.end or tree.place_on(due).is_indoors:
        return ()
    return (_wash(situation, due, fed, tree.container_litres),)


def _must_wait(situation: Situation) -> bool:
    water = situation.water
    return water is not None and (
        water.is_saturated or water.is_frozen or water.is_dormant
    )


def _fed_since(situation: Situation, start: date) -> date | None:
    fed = last_dose_on(situation)
    return fed if fed is not None and fed >= start else None


def _due(situation: Situation, start: date, fed: date | None) -> date:
    """Return a month after growth began or the last wash, a fortnight after feeding.

    A skip counts like the work: whoever looked has decided.
    """
    washed = situation.logged(KIND)
    since = max([start, situation.tree.entered_on, *(work.on for work in washed)])
    due = since + timedelta(days=FLUSH_BETWEEN_DAYS)
    if fed is not None:
        due = max(due, fed + timedelta(days=AFTER_FEEDING_DAYS))
    return next_turn(due, situation.today, FLUSH_BETWEEN_DAYS, WINDOW_DAYS)


def _wash(
    situation: Situation, due: date, fed: date | None, pot_litres: float
) -> Proposal:
    is_salty = situation.site.is_water_salty
    litres = float(round(flush_litres(pot_litres)))
    facts = (
        ("pot_litres", pot_litres),
        ("pot_volumes", FLUSH_POT_VOLUMES),
        ("between_days", FLUSH_BETWEEN_DAYS),
        ("last_feeding_on", fed),
        ("is_water_salty", is_salty),
        ("unverified", True),
    )
    cautions = ("pour_in_portions", "empty_saucer")
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=KEY,
        action="flush",
        earliest=due - timedelta(days=EARLY_DAYS),
        due=due,
        latest=due + timedelta(days=WINDOW_DAYS),
        reason=Reason(
            "flush_salty" if is_salty else "flush_fed",
            facts,
            ("flush_logged", "feeding_logged"),
        ),
        amount=litres,
        unit="L",
        sources=("common_practice",),
        cautions=(*cautions, "plain_water") if is_salty else cautions,
        effort_minutes=EFFORT_FIXED_MINUTES + round(EFFORT_MINUTES_PER_L * litres),
    )
