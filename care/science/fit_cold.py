"""Whether a kind lives through a place's coldest nights, in the ground and in a pot.

In the ground its damage temperature decides, grown and young; in a pot the one from
which it is moved in, for roots in a pot bear far less than roots in the ground. A pot's
figure is never the ground's plus something.
"""

from collections.abc import Sequence

import numpy as np

from care.facts import Flags, SpeciesFacts
from care.facts.fit import Factor, Number, Topic, Verdict
from care.science.cold_limits import TENDER_POT_C, UNVERIFIED_MARGIN_C
from care.science.extreme_cold import ZoneEstimate
from care.science.fit_verdicts import (
    at_worst,
    share_at_or_below,
    within,
    worse,
)
from care.science.fit_years import FitYears, months_of
from care.science.frost import ROUNDING_C
from care.science.season import is_tender

MOST_SHARE = 0.5  # of winters with damage, from which a kind does not fit; ours
FEW_SHARE = 0.1  # of winters with damage, beyond which it fits poorly; ours
# A light row cover is worth 2 to 5 degF, a medium one 6 to 8 (extension, as relayed);
# a wall that faces the sun two or three, common practice, no source.
COVER_C = 8 / 1.8
WALL_C = 3 / 1.8
SPAN_C = 10.0  # of a margin of 1
HALF_A_YEAR_DAYS = 183
MIDSUMMER_AFTER_MONTHS = 8  # from November to July, from May to January
USUAL_MONTH_SHARE = 0.5  # of years, for a month to be one of moving in; ours


def ground_factors(
    kinds: Sequence[SpeciesFacts], years: FitYears | None, zone: ZoneEstimate | None
) -> list[Factor]:
    """Return the verdict on the cold of each kind in the ground, in their order."""
    if years is None:
        return [_no_weather("cold_no_weather") for _ in kinds]
    grown, young = (
        [_limit_c(kind, field) for kind in kinds]
        for field in ("damage_temp_mature_c", "damage_temp_young_c")
    )
    shares = share_at_or_below(years.minima_c, grown)
    young_shares = share_at_or_below(years.minima_c, young)
    return [
        _ground(kind, years, zone, share, young_share)
        for kind, share, young_share in zip(kinds, shares, young_shares, strict=True)
    ]


def _no_weather(code: str) -> Factor:
    return Factor(Topic.COLD, Verdict.UNKNOWN, code)


def _limit_c(kind: SpeciesFacts, field: str) -> float | None:
    """Return a figure; one that nobody could check is taken warmer, as alarms do."""
    value: float | None = getattr(kind, field)
    if value is None:
        return None
    return value + (UNVERIFIED_MARGIN_C if field in kind.unverified else 0.0)


def _ground(
    kind: SpeciesFacts,
    years: FitYears,
    zone: ZoneEstimate | None,
    share: float,
    young_share: float,
) -> Factor:
    limit_c = _limit_c(kind, "damage_temp_mature_c")
    if limit_c is None:
        return _by_zone(kind, zone)
    is_unverified = "damage_temp_mature_c" in kind.unverified
    grown = _by_share(share, limit_c, years)
    if is_unverified:
        grown = at_worst(grown, Verdict.POOR)
    young = _of_young(kind, young_share, years)
    verdict = worse(grown, young)
    is_young_worse = verdict is not grown
    code = "cold_good" if verdict is Verdict.GOOD else "cold_hurts"
    fields = ("damage_temp_mature_c", "damage_temp_young_c")[: 1 + is_young_worse]
    return Factor(
        Topic.COLD,
        verdict,
        "cold_young" if is_young_worse else code,
        (
            ("bears_c", kind.damage_temp_mature_c),
            ("bears_young_c", kind.damage_temp_young_c),
            ("tried_c", limit_c),
            ("tried_young_c", _limit_c(kind, "damage_temp_young_c")),
            ("share", share),
            ("young_share", None if np.isnan(young_share) else young_share),
            *_nights(years, zone),
            *_zones(kind),
        ),
        margin=within((years.reckoned_c - limit_c) / SPAN_C),
        is_unverified=any(field in kind.unverified for field in fields),
        sources=tuple(kind.source_of(field) for field in fields),
        fixes=_fixes(kind, verdict, _asked_c(kind, fields[-1]) - years.reckoned_c),
    )


def _asked_c(kind: SpeciesFacts, field: str) -> float:
    """Return the limit that a cover would have to keep to."""
    limit_c = _limit_c(kind, field)
    return -np.inf if limit_c is None else limit_c


def _by_share(share: float, limit_c: float, years: FitYears) -> Verdict:
    if share >= MOST_SHARE:
        return Verdict.NO
    if share > FEW_SHARE:
        return Verdict.POOR
    is_near = share > 0 or years.reckoned_c <= limit_c + ROUNDING_C
    return Verdict.FAIR if is_near else Verdict.GOOD


def _of_young(kind: SpeciesFacts, share: float, years: FitYears) -> Verdict:
    """Return the verdict on the first years, which pass under covers.

    Fair where a cover keeps off the coldest night of a usual winter, poor beyond.
    """
    limit_c = _limit_c(kind, "damage_temp_young_c")
    if limit_c is None:
        return Verdict.GOOD
    found = _by_share(share, limit_c, years)
    if found in (Verdict.GOOD, Verdict.FAIR):
        return Verdict.GOOD
    is_unverified = "damage_temp_young_c" in kind.unverified
    is_covered = float(np.median(years.minima_c)) >= limit_c - COVER_C
    return Verdict.FAIR if is_covered or is_unverified else Verdict.POOR


def _nights(
    years: FitYears, zone: ZoneEstimate | None
) -> tuple[tuple[str, Number], ...]:
    return (
        ("coldest_c", years.coldest_c),
        ("reckoned_c", years.reckoned_c),
        ("years", float(len(years.minima_c))),
        ("zone", None if zone is None else zone.zone),
        ("zone_colder", None if zone is None else zone.colder_zone),
        ("zone_warmer", None if zone is None else zone.warmer_zone),
    )


def _zones(kind: SpeciesFacts) -> tuple[tuple[str, Number], ...]:
    return (
        ("zone_min", kind.usda_zone_min or None),
        ("zone_max", kind.usda_zone_max or None),
    )


def zone_rank(zone: str, *, is_warm_end: bool = False) -> float:
    """Return the place of a zone in the order of warmth, half a zone a half.

    Parameters
    ----------
    zone : str
        Such as ``9b``; without a letter its colder half, or its warmer one.
    is_warm_end : bool
        Whether the zone ends a range.
    """
    number = float(zone.rstrip("ab"))
    is_b = zone.endswith("b") or (is_warm_end and not zone.endswith("a"))
    return number + (0.5 if is_b else 0.0)


def _by_zone(kind: SpeciesFacts, zone: ZoneEstimate | None) -> Factor:
    """Return what the zones hint at where no damage temperature is known."""
    if zone is None or not kind.usda_zone_min:
        return _no_weather("cold_no_figure")
    is_colder = zone_rank(zone.warmer_zone) < zone_rank(kind.usda_zone_min)
    return Factor(
        Topic.COLD,
        Verdict.POOR if is_colder else Verdict.UNKNOWN,
        "cold_by_zone" if is_colder else "cold_no_figure",
        (("zone", zone.zone), *_zones(kind)),
        is_unverified=True,
        sources=(kind.source_of("usda_zone_min"),),
    )


def _fixes(kind: SpeciesFacts, verdict: Verdict, short_c: float) -> tuple[str, ...]:
    """Return what would help, what keeps it in the ground first."""
    if verdict is Verdict.GOOD:
        return ()
    found = []
    if short_c <= COVER_C:
        found.append("cover")
    if short_c <= WALL_C:
        found.append("warm_wall")
    if kind.container_ok in ("good", "fair"):
        found.append("pot_indoors")
    return tuple(found)


def pot_factors(kinds: Sequence[SpeciesFacts], years: FitYears | None) -> list[Factor]:
    """Return the verdict on the cold of each kind in a pot, in their order."""
    if years is None:
        return [_no_weather("cold_no_weather") for _ in kinds]
    shares = share_at_or_below(years.minima_c, [pot_limit_c(kind) for kind in kinds])
    return [_pot(kind, years, share) for kind, share in zip(kinds, shares, strict=True)]


def pot_limit_c(kind: SpeciesFacts) -> float | None:
    """Return the night from which a pot of a kind comes in [degC], if it is known.

    Frost-tender kinds without a figure come in below 40 degF, as growers have it.
    """
    if kind.move_in_temp_c is not None:
        return kind.move_in_temp_c
    return TENDER_POT_C if is_tender(kind) else None


def _pot(kind: SpeciesFacts, years: FitYears, share: float) -> Factor:
    limit_c = pot_limit_c(kind)
    if limit_c is None:
        return _no_weather("cold_no_figure")
    is_cold = years.tmin_c <= limit_c + ROUNDING_C
    nights = float(is_cold.sum(axis=1).mean())
    verdict = Verdict.GOOD
    if share > FEW_SHARE or years.reckoned_c <= limit_c:
        verdict = Verdict.FAIR
    if nights > HALF_A_YEAR_DAYS:
        verdict = Verdict.POOR
    first_month, last_month = _months_in(is_cold, years)
    is_bare = kind.leaf == "deciduous"
    return Factor(
        Topic.COLD,
        verdict,
        "pot_stays_out" if verdict is Verdict.GOOD else "pot_comes_in",
        (
            ("bears_pot_c", limit_c),
            ("share", share),
            ("nights", nights),
            ("first_month", first_month),
            ("last_month", last_month),
            *_nights(years, None),
        ),
        margin=within((years.reckoned_c - limit_c) / SPAN_C),
        is_unverified="move_in_temp_c" in kind.unverified
        or kind.move_in_temp_c is None,
        sources=(_pot_source(kind),),
        fixes=()
        if verdict is Verdict.GOOD
        else ("pot_shed" if is_bare else "pot_indoors",),
    )


def _months_in(is_cold: Flags, years: FitYears) -> tuple[float | None, float | None]:
    """Return the first and the last month in which half of the years are too cold.

    Counted from the month after midsummer, so that a winter is never split.
    """
    months = months_of(years.starts)
    midsummer = years.starts[0].month + MIDSUMMER_AFTER_MONTHS
    in_order = [(midsummer + place - 1) % 12 + 1 for place in range(12)]
    found = [
        float(month)
        for month in in_order
        if is_cold[:, months == month].any(axis=1).mean() >= USUAL_MONTH_SHARE
    ]
    return (found[0], found[-1]) if found else (None, None)


def _pot_source(kind: SpeciesFacts) -> str:
    if kind.move_in_temp_c is None:
        return "common_practice"
    return kind.source_of("move_in_temp_c")
