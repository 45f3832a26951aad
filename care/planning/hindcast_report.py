"""What was told on many Mondays beside what came: the figures of the look back.

Three sorts of telling are kept apart by what was told alone, never by what came: a
range of days; that day itself, without a doubt; and that nothing would come within
reach. Ranges make the coverage; of the others it is said how often they were right.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

import numpy as np

from care.facts import Array, Flags
from care.planning.ensemble import LikelyAmount, LikelyDay
from care.science.verification import (
    ChanceRow,
    brier_parts,
    brier_score,
    errors,
    is_within,
    range_score,
    reliability,
    skill,
    widths,
)

# Days from the Monday to the middle of what was told; the last goes on without end.
LEADS = ((0, 7), (8, 14), (15, 30), (31, 60), (61, 120), (121, None))
NEAR_DAYS = 10  # of the date, for what other years had then; ours
YEAR_DAYS = 365
LEAST_OTHERS = 3  # Mondays of other years, to be compared with; ours
CHANCE_EDGES = np.array([0.0, 0.1, 0.3, 0.5, 0.7, 0.9, 1.0])
LAYOUT = 2  # of the report; a kept one laid out otherwise is not shown
PLACES = 3  # after the point of what is reported


class Sort(StrEnum):
    """What sort of telling it was."""

    RANGE = "range"
    THAT_DAY = "that_day"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Telling:
    """One thing told on one Monday, and what came.

    Days from the Monday on, infinite where not within ``reach``, or an amount, whose
    reach is infinite and whose ``lead_days`` run to the end of its sum.
    """

    kind: str
    on: date
    low: float
    middle: float
    high: float
    reach: float
    lead_days: float
    came: float
    past_years: int
    is_day: bool

    @property
    def sort(self) -> Sort:
        """What was told, by the telling alone."""
        if not self.is_day:
            return Sort.RANGE
        if self.low > self.reach or self.high < 0:
            return Sort.NOTHING
        return Sort.THAT_DAY if self.low == self.high == 0 else Sort.RANGE

    @property
    def is_right(self) -> bool:
        """Whether it held; that nothing comes holds while nothing does."""
        if self.sort is Sort.NOTHING:
            return self.came > self.reach or self.came < 0
        return self.low <= self.came <= self.high


@dataclass(frozen=True, slots=True)
class ChanceTold:
    """A chance that something comes within some days, and whether it did."""

    on: date
    chance: float
    came: bool
    past_years: int


def _days(on: date, day: date | None) -> float:
    return np.inf if day is None else float((day - on).days)


def day_told(kind: str, on: date, told: LikelyDay, came: date | None) -> Telling:
    """Return a told day beside the day it came, ``None`` for not by ``told.until``."""
    low, middle, high = (_days(on, day) for day in (told.low, told.middle, told.high))
    reach = _days(on, told.until)
    happened = _days(on, came)
    return Telling(
        kind=kind,
        on=on,
        low=low,
        middle=middle,
        high=high,
        reach=reach,
        lead_days=max(min(middle, reach), 0.0),
        came=np.inf if happened > reach else happened,
        past_years=told.members.past_years,
        is_day=True,
    )


def amount_told(kind: str, on: date, told: LikelyAmount, came: float) -> Telling:
    """Return a told amount beside the one that came."""
    return Telling(
        kind=kind,
        on=on,
        low=told.low,
        middle=told.middle,
        high=told.high,
        reach=np.inf,
        lead_days=max(_days(on, told.until), 0.0),
        came=came,
        past_years=told.members.past_years,
        is_day=False,
    )


def report_of(
    tellings: Sequence[Telling],
    chances: Sequence[ChanceTold],
    mondays: Sequence[date],
) -> dict[str, object]:
    """Return the report: coverage first, then by kind and by lead, then the rest.

    Tellings of Mondays that knew no past year count in ``without_past_years`` alone.
    """
    known = [telling for telling in tellings if telling.past_years]
    others = [telling for telling in tellings if not telling.past_years]
    kinds = sorted({telling.kind for telling in known})
    return {
        "coverage_p10_p90": _coverage(_ranges(known)),
        "by_kind": {
            kind: _of_kind([each for each in known if each.kind == kind])
            for kind in kinds
        },
        "by_lead_days": {
            lead_name(lead): _figures(_ranges(known, _leads(lead))) for lead in LEADS
        },
        "chances": _chances([each for each in chances if each.past_years]),
        "count": len(_ranges(known)),
        "layout": LAYOUT,
        "mondays": {
            "count": len(mondays),
            "first": mondays[0].isoformat() if mondays else None,
            "last": mondays[-1].isoformat() if mondays else None,
            "with_past_years": len({each.on for each in known}),
        },
        "without_past_years": {
            "mondays": len({each.on for each in others} - {e.on for e in known}),
            **_figures(_ranges(others)),
        },
    }


def lead_name(lead: tuple[int, int | None]) -> str:
    """Return the name of a span of lead days, as ``8-14``."""
    return f"{lead[0]}+" if lead[1] is None else f"{lead[0]}-{lead[1]}"


def _leads(lead: tuple[int, int | None]) -> Callable[[Telling], bool]:
    first, last = lead

    def has(telling: Telling) -> bool:
        return first <= telling.lead_days and (
            last is None or telling.lead_days <= last
        )

    return has


def _ranges(
    tellings: Iterable[Telling], has: Callable[[Telling], bool] = lambda _each: True
) -> list[Telling]:
    return [each for each in tellings if each.sort is Sort.RANGE and has(each)]


def _column(tellings: Sequence[Telling], name: str) -> Array:
    return np.array([getattr(each, name) for each in tellings], dtype=np.float64)


def _held(tellings: Sequence[Telling]) -> Flags:
    low, high, came = (_column(tellings, name) for name in ("low", "high", "came"))
    return is_within(low, high, came)


def _coverage(ranges: Sequence[Telling]) -> float | None:
    return _mean(_held(ranges))


def _mean(values: Array | Flags) -> float | None:
    return round(float(np.mean(values)), PLACES) if len(values) else None


def _figures(ranges: Sequence[Telling]) -> dict[str, object]:
    """Return the figures of some ranges; errors and widths of days alone."""
    days = [each for each in ranges if each.is_day]
    return {"count": len(ranges), "coverage_p10_p90": _coverage(ranges)} | _off(days)


def _off(ranges: Sequence[Telling], unit: str = "days") -> dict[str, object]:
    off = errors(_column(ranges, "middle"), _column(ranges, "came"))
    width = widths(*(_column(ranges, name) for name in ("low", "high", "reach")))
    return {
        f"mean_absolute_error_{unit}": _mean(np.abs(off)),
        f"mean_error_{unit}": _mean(off),
        f"mean_width_{unit}": _mean(width),
    }


def _of_kind(tellings: Sequence[Telling]) -> dict[str, object]:
    ranges = _ranges(tellings)
    unit = "days" if all(each.is_day for each in tellings) else "portions"
    scores, reference = _scores(ranges, tellings)
    return {
        "by_lead_days": {
            lead_name(lead): {
                "count": len(within),
                "coverage_p10_p90": _coverage(within),
                **_off(within, unit),
            }
            for lead in LEADS
            if (within := _ranges(ranges, _leads(lead)))
        },
        "cases": len({_case(each) for each in ranges}),
        "count": len(ranges),
        "coverage_p10_p90": _coverage(ranges),
        **_off(ranges, unit),
        f"score_{unit}": _mean(scores),
        "skill": _skill(scores, reference),
        **{
            sort.value: {"count": len(right), "right": _mean(np.array(right))}
            for sort in (Sort.THAT_DAY, Sort.NOTHING)
            if (right := [each.is_right for each in tellings if each.sort is sort])
        },
    }


def _case(telling: Telling) -> float | None:
    """Return what tells one case from another: the day it came, or its amount."""
    if np.isinf(telling.came):
        return None
    return telling.came + (telling.on.toordinal() if telling.is_day else 0)


def _skill(scores: Array, reference: Array) -> float | None:
    """Return by how much what other years had at that date is beaten."""
    is_compared = ~np.isnan(reference)
    if not is_compared.any():
        return None
    found = skill(
        float(scores[is_compared].mean()), float(reference[is_compared].mean())
    )
    return None if found is None else round(found, PLACES)


def _scores(
    ranges: Sequence[Telling], tellings: Sequence[Telling]
) -> tuple[Array, Array]:
    """Return the score of each range, and of what other years had at that date.

    The other years are of the whole record, later ones too: a reference that knows
    more than was known.
    """
    quantiles = np.array([[each.low, each.middle, each.high] for each in ranges])
    came = _column(ranges, "came")
    reach = np.where(np.isinf(_column(ranges, "reach")), 1e9, _column(ranges, "reach"))
    if not len(ranges):
        return came, came
    days = np.array([each.on.toordinal() for each in tellings])
    others = _column(tellings, "came")
    usual = np.array([_usual(each, days, others) for each in ranges])
    return range_score(quantiles, came, reach), range_score(usual, came, reach)


def _usual(telling: Telling, days: Array, came: Array) -> tuple[float, ...]:
    apart = days - telling.on.toordinal()
    by_date = np.abs((apart + YEAR_DAYS / 2) % 365.25 - YEAR_DAYS / 2)
    near = came[(by_date <= NEAR_DAYS) & (np.abs(apart) > YEAR_DAYS / 2)]
    if len(near) < LEAST_OTHERS:
        return (np.nan,) * 3
    return tuple(np.quantile(near, (0.1, 0.5, 0.9), method="inverted_cdf"))


def _chances(chances: Sequence[ChanceTold]) -> dict[str, object]:
    """Return how often what was told by chance came, by bins, and the Brier score.

    Of its parts the uncertainty is what a chance that never changes would score.
    """
    if not chances:
        return {"bins": [], "count": 0}
    told = np.array([each.chance for each in chances])
    came = np.array([each.came for each in chances], dtype=bool)
    rows = reliability(told, came, CHANCE_EDGES)
    unreliability, resolution, uncertainty = brier_parts(rows)
    return {
        "bins": _bins(rows),
        "brier_score": round(brier_score(told, came), PLACES),
        "count": len(chances),
        "resolution": round(resolution, PLACES),
        "uncertainty": round(uncertainty, PLACES),
        "unreliability": round(unreliability, PLACES),
    }


def _bins(rows: Sequence[ChanceRow]) -> list[dict[str, object]]:
    return [
        {
            "came": round(row.came, PLACES),
            "count": row.cases,
            "from": row.low,
            "to": row.high,
            "told": round(row.told, PLACES),
        }
        for row in rows
    ]
