"""Rain on its way: whether it is worth a day's wait with the watering can."""

from dataclasses import dataclass
from datetime import date, timedelta

from care.facts import Origin, Place, RainReach, Situation, WaterOutlook

# Ours: below it, much of a rain stays on leaves and in the mulch.
WORTH_MM = 10.0
# Ours: what is forecast to fall on the watered ground, over what it wants.
WORTH_SHARE = 0.5
UNSTRESSED_KS = 0.9  # a tree that suffers already is not kept waiting; ours
TRUSTED_DAYS = 7  # of a store that nobody spoke of for longer too little is known; ours


@dataclass(frozen=True, slots=True)
class ComingRain:
    """Rain forecast for a day [mm]."""

    day: date
    rain_mm: float


def rain_worth_waiting_for(
    situation: Situation, water: WaterOutlook
) -> ComingRain | None:
    """Return tomorrow's rain where it will likely do the watering due today.

    Today's rain is in the balance already. Only for grown trees in open ground that
    bear another day: a pot or a fresh ball gets little of a rain. Rain that does not
    come leaves the watering due tomorrow.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    water : WaterOutlook
        Its own.
    """
    if not _can_wait(situation, water):
        return None
    series, tomorrow = situation.weather, situation.today + timedelta(days=1)
    if series is None or not series.covers(tomorrow):
        return None
    if series.origin_on(tomorrow) is not Origin.FORECAST:
        return None
    rain_mm = float(series.rain_mm[series.index(tomorrow)])
    is_worth = rain_mm >= WORTH_MM
    reaches = rain_mm * water.basin_area_m2 >= WORTH_SHARE * water.water_net_l
    return ComingRain(tomorrow, rain_mm) if is_worth and reaches else None


def _can_wait(situation: Situation, water: WaterOutlook) -> bool:
    tree = situation.tree
    return (
        water.due_in_days == 0
        and (water.latest_in_days or 0) >= 1
        and water.stress_ks >= UNSTRESSED_KS
        and water.unknown_water_days <= TRUSTED_DAYS
        and water.is_established
        and not water.is_container
        and tree.rain_reach is RainReach.YES
        and tree.place_on(situation.today) is Place.OUTDOORS
    )
