"""How often a night at bloom is cold enough to kill flowers.

Full bloom of each spring is modelled where the kind's needs are known, so that one
that asks for little chill blooms early in a cold place, and is caught there. Elsewhere
it is the usual day by the months.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from care.facts import Array, CultivarFacts, SiteFacts, SpeciesFacts
from care.facts.fit import Factor, Topic, Verdict
from care.science.crop import bloom_window, guessed_bloom
from care.science.fit_verdicts import within
from care.science.fit_years import YEAR_DAYS, FitYears
from care.science.frost import ROUNDING_C
from care.science.phenology import bloom_degree_hours, chill_need_hours
from care.science.season import season_of

# Flowers are open for 7 to 15 days (extension, as relayed): so many either side.
EITHER_SIDE_DAYS = 7
MOST_UNREAD_NIGHTS = 1  # of those of one bloom; ours
MOST_UNKNOWN_DAYS = 5  # before a modelled bloom; ours
FEW_SHARE = 0.2  # of springs with a killing night, up to which it is good; ours
MOST_SHARE = 0.5  # of springs, beyond which it fits poorly; ours
# Ours, as for trees that stand: a modelled bloom farther than this from the months is
# not believed.
FARTHEST_FROM_MONTHS_DAYS = 60


@dataclass(frozen=True, slots=True)
class Bloom:
    """Full bloom in each row of some years; places of days, NaN where not known."""

    places: Array
    is_modelled: bool

    @property
    def usual(self) -> float | None:
        """The middle of the known ones, ``None`` without any."""
        known = self.places[~np.isnan(self.places)]
        return float(np.median(known)) if known.size else None


@dataclass(slots=True)
class Springs:
    """The springs of some years, summed once for all kinds."""

    years: FitYears
    site: SiteFacts
    chill: Array
    warmth: Array
    unknown: Array

    @classmethod
    def of(cls, years: FitYears, site: SiteFacts) -> "Springs":
        """Return the running sums of chill and warmth of some years."""
        gaps = np.isnan(years.chill_by_day) | np.isnan(years.warmth_by_day)
        return cls(
            years,
            site,
            np.nancumsum(years.chill_by_day, axis=1),
            np.nancumsum(years.warmth_by_day, axis=1),
            np.cumsum(gaps, axis=1).astype(np.float64),
        )

    def bloom(self, species: SpeciesFacts, cultivar: CultivarFacts | None) -> Bloom:
        """Return when a kind blooms, as modelled where that can be believed."""
        by_months = self._by_months(species)
        degree_hours = bloom_degree_hours(species)
        chill = self._chill(species, cultivar)
        if degree_hours is None or chill is None:
            return by_months
        found = Bloom(self.modelled(chill, degree_hours), is_modelled=True)
        return found if self._is_believed(found, species) else by_months

    def _chill(
        self, species: SpeciesFacts, cultivar: CultivarFacts | None
    ) -> float | None:
        asks = species if cultivar is None or not cultivar.chill_hours_min else cultivar
        return chill_need_hours(
            asks.chill_hours_min, asks.chill_hours_max, self.years.usual_hours
        )

    def modelled(self, chill_hours: float, degree_hours: float) -> Array:
        """Return the place of full bloom in each row; NaN where a need is not met.

        Rest ends by the hours, then the warmth counts: as in care.science.phenology.
        """
        ends = self.chill >= chill_hours - 1e-6
        rest = np.argmax(ends, axis=1)
        rows = np.arange(len(rest))
        since = self.warmth - self.warmth[rows, rest][:, None]
        is_open = since >= degree_hours - 1e-6
        bloom = np.argmax(is_open, axis=1)
        is_known = ends.any(axis=1) & is_open.any(axis=1)
        is_known &= self.unknown[rows, bloom] <= MOST_UNKNOWN_DAYS
        return np.where(is_known, bloom.astype(np.float64), np.nan)

    def _is_believed(self, bloom: Bloom, species: SpeciesFacts) -> bool:
        start = self.years.starts[0]
        season = season_of(start, southern=self.site.is_southern)
        window = bloom_window(season, species, self.site)
        if bloom.usual is None or window is None:
            return False
        slack = timedelta(days=FARTHEST_FROM_MONTHS_DAYS)
        day = start + timedelta(days=int(bloom.usual))
        return window.start - slack <= day <= window.end + slack

    def _by_months(self, species: SpeciesFacts) -> Bloom:
        guesses = {start: self._guess(species, start) for start in self.years.starts}
        places = [guesses[start] for start in self.years.starts]
        return Bloom(np.array(places), is_modelled=False)

    def _guess(self, species: SpeciesFacts, start: date) -> float:
        """Return the place of full bloom by the months, NaN where there is no one day.

        Bloom of autumn and winter bears the name of the care year before.
        """
        season = season_of(start, southern=self.site.is_southern)
        for crop in (season, season - 1):
            day = guessed_bloom(crop, species, self.site)
            if day is not None and 0 <= (day - start).days < YEAR_DAYS:
                return float((day - start).days)
        return float("nan")

    def coldest_at(self, bloom: Bloom) -> Array:
        """Return the coldest night about each bloom [degC], NaN where not known."""
        nights = self.years.tmin_c
        known = np.nan_to_num(bloom.places, nan=-1.0).astype(np.int64)
        about = known[:, None] + np.arange(-EITHER_SIDE_DAYS, EITHER_SIDE_DAYS + 1)
        is_inside = (about >= 0) & (about < nights.shape[1])
        values = np.take_along_axis(nights, np.clip(about, 0, nights.shape[1] - 1), 1)
        values = np.where(is_inside, values, np.nan)
        is_read = np.isnan(values).sum(axis=1) <= MOST_UNREAD_NIGHTS
        is_told = is_read & (known >= 0)
        coldest = np.full(len(values), np.nan)
        coldest[is_told] = np.nanmin(values[is_told], axis=1)
        return coldest


def bloom_factors(
    kinds: Sequence[tuple[SpeciesFacts, CultivarFacts | None]],
    springs: Springs | None,
) -> list[Factor]:
    """Return the verdict on frost at bloom of each kind, in their order."""
    if springs is None:
        return [_unknown("bloom_no_weather") for _ in kinds]
    return [_factor(springs, species, cultivar) for species, cultivar in kinds]


def _unknown(code: str) -> Factor:
    return Factor(Topic.BLOOM_FROST, Verdict.UNKNOWN, code)


def _factor(
    springs: Springs, species: SpeciesFacts, cultivar: CultivarFacts | None
) -> Factor:
    limit_c = species.bloom_damage_temp_c
    if limit_c is None:
        return _unknown("bloom_no_figure")
    bloom = springs.bloom(species, cultivar)
    coldest = springs.coldest_at(bloom)
    told = coldest[~np.isnan(coldest)]
    if not told.size or bloom.usual is None:
        return _unknown("bloom_no_one_date")
    share = float((told <= limit_c + ROUNDING_C).mean())
    verdict = _verdict(share)
    on = springs.years.starts[0] + timedelta(days=round(bloom.usual))
    is_unverified = "bloom_damage_temp_c" in species.unverified
    return Factor(
        Topic.BLOOM_FROST,
        verdict,
        "bloom_modelled" if bloom.is_modelled else "bloom_by_months",
        (
            ("bears_c", limit_c),
            ("share", share),
            ("springs", float(told.size)),
            ("killing", float(round(share * told.size))),
            ("month", float(on.month)),
            ("day", float(on.day)),
            ("coldest_c", float(told.min())),
        ),
        margin=within(FEW_SHARE - share),
        is_unverified=is_unverified,
        sources=(species.source_of("bloom_damage_temp_c"),),
        fixes=() if verdict is Verdict.GOOD else ("late_cultivar", "cover_bloom"),
    )


def _verdict(share: float) -> Verdict:
    if share > MOST_SHARE:
        return Verdict.POOR
    return Verdict.FAIR if share > FEW_SHARE + 1e-9 else Verdict.GOOD
