"""One year's fruit: when it bloomed, when it is thinned, when it ripens.

A crop is named by the care year in which it blooms; fruit that hangs over New Year, as
on citrus, keeps that name.
"""

from dataclasses import dataclass
from datetime import date, timedelta

from care.facts import SiteFacts, Situation, SpeciesFacts, Stage, TreeFacts
from care.science.season import Window, last_frost_in, month_window, season_of

# Common practice, no source: petals fall about a week after full bloom.
FULL_BLOOM_LAG_DAYS = {"full_bloom": 0, "post_bloom": 7}
NEAREST_BLOOM_DAYS = 120  # a reading further from every bloom names no crop; no source
# Common practice, no source: where the last frost is late, bare trees bloom about two
# weeks before it at the earliest.
BLOOM_LEAD_DAYS = 14
LONGEST_BLOOM_DAYS = 153  # five months; what blooms for longer has no crop of one date
YEAR_DAYS = 330

# Days from bloom to harvest by cultivar, earliest and latest. Apple: 110 (Gala) to 185
# (Fuji), extension tables of Gala to Fuji. Mango, peach, apricot, plums and cherries
# from memory.
RIPENING_DAYS = {
    "apple": (110, 185),
    "mango": (100, 150),
    "peach": (70, 150),
    "nectarine": (70, 150),
    "apricot": (95, 120),
    "european_plum": (90, 150),
    "japanese_plum": (80, 150),
    "sweet_cherry": (60, 80),
    "sour_cherry": (60, 80),
}
# The same of single cultivars of apple, give or take ten days (extension tables, read in
# copies; McIntosh: Utah State University Extension).
CULTIVAR_DAYS = {
    ("apple", "gala"): (110, 120),
    ("apple", "gravenstein"): (110, 115),
    ("apple", "mcintosh"): (130, 145),
    ("apple", "golden delicious"): (135, 150),
    ("apple", "red delicious"): (135, 155),
    ("apple", "granny smith"): (165, 180),
    ("apple", "fuji"): (170, 185),
}
CULTIVAR_SLACK_DAYS = 10
QUOTES = " '\"\u2018\u2019"  # as names of cultivars are written
RIPENING_SPREAD = 0.15  # of the usual days, where no range is known; no source

# Millimetres between fruit that stay: usual, least and most. Apple and pear: 6 in (UC
# Master Gardeners, Sacramento), 4-8 in (NC State Extension). Peach and nectarine: 6 in,
# between 3-5 in (UC Master Gardeners, Santa Clara) and 6-8 in. Apricot and plum: 2-4 in.
# Asian pear as pear, from memory.
SPACING_MM = {
    "apple": (150, 100, 200),
    "pear": (150, 100, 200),
    "asian_pear": (150, 100, 200),
    "peach": (150, 75, 200),
    "nectarine": (150, 75, 200),
    "apricot": (75, 50, 100),
    "european_plum": (75, 50, 100),
    "japanese_plum": (75, 50, 100),
}
# How wide the fruit is when it is thinned: 1/2 to 1 in for pome fruit (UC Master
# Gardeners, Santa Clara), 3/4 in for stone fruit (UC Master Gardeners in the Chico
# Enterprise-Record, 2022); a nickel, 21 mm, for all (NC State Extension).
THINNED_AT_MM = {"apple": 21, "pear": 21, "asian_pear": 21}
THINNED_AT_ELSE_MM = 19
# Fruit left on a cluster at most (UC Master Gardeners, Santa Clara; Asian
# pear from memory).
PER_CLUSTER = {"apple": 1, "pear": 2, "asian_pear": 1}


@dataclass(frozen=True, slots=True)
class Bloom:
    """Full bloom of one crop; ``basis`` as of a :class:`~care.facts.StageDay`."""

    crop: int
    full_on: date
    basis: str = "months"

    @property
    def is_seen(self) -> bool:
        """Whether anybody saw it."""
        return self.basis == "seen"


def bloom_window(crop: int, species: SpeciesFacts, site: SiteFacts) -> Window | None:
    """Return the catalogue's months of bloom of one crop, or ``None``.

    ``None`` too where the plant blooms for most of the year: its fruit has no one date.
    """
    if species.bloom is None:
        return None
    span = species.bloom
    window = month_window(
        crop, span.start_month, span.end_month, southern=site.is_southern
    )
    days = (window.end - window.start).days
    return window if days <= LONGEST_BLOOM_DAYS else None


def guessed_bloom(crop: int, species: SpeciesFacts, site: SiteFacts) -> date | None:
    """Return a first guess of full bloom: the months' middle, later where frost is."""
    window = bloom_window(crop, species, site)
    if window is None:
        return None
    frost = last_frost_in(crop, site)
    if species.is_evergreen or frost is None:
        return window.middle
    return max(window.middle, min(window.end, frost - timedelta(days=BLOOM_LEAD_DAYS)))


def bloom_of(situation: Situation, crop: int) -> Bloom | None:
    """Return full bloom of one crop: as first seen, else modelled, else guessed."""
    tree, site = situation.tree, situation.site
    guess = guessed_bloom(crop, tree.species, site)
    if guess is None:
        return None
    seen = [
        reading.on - timedelta(days=FULL_BLOOM_LAG_DAYS[reading.word])
        for reading in situation.observed("bloom_stage")
        if reading.word in FULL_BLOOM_LAG_DAYS
        and abs((reading.on - guess).days) <= NEAREST_BLOOM_DAYS
    ]
    if seen:
        return Bloom(crop, seen[0], "seen")
    known = situation.stage_day(Stage.FULL_BLOOM, crop)
    if known is not None:
        return Bloom(crop, known.on, known.basis)
    return Bloom(crop, guess)


def crops_near(situation: Situation) -> tuple[int, ...]:
    """Return the crops whose work may lie around today, oldest first."""
    season = season_of(situation.today, southern=situation.site.is_southern)
    return (season - 2, season - 1, season, season + 1)


def harvest_months(species: SpeciesFacts, site: SiteFacts, ripe_on: date) -> Window:
    """Return the catalogue's harvest months that hold or are nearest to a day.

    Raises
    ------
    ValueError
        The catalogue has no harvest months for the species.
    """
    span = species.harvest
    if span is None:
        message = f"no harvest months: {species.key}"
        raise ValueError(message)
    season = season_of(ripe_on, southern=site.is_southern)
    windows = [
        month_window(year, span.start_month, span.end_month, southern=site.is_southern)
        for year in (season - 1, season, season + 1)
    ]
    return min(windows, key=lambda window: _days_away(window, ripe_on))


def _days_away(window: Window, day: date) -> int:
    return max((window.start - day).days, (day - window.end).days, 0)


def ripening_days(
    species: SpeciesFacts, cultivar: str = ""
) -> tuple[int, int, int] | None:
    """Return the fewest, usual and most days from full bloom to harvest.

    Of the cultivar where its days are published, else of all early and late ones.
    """
    own = CULTIVAR_DAYS.get(_named(species, cultivar))
    if own is not None:
        low, high = own
        slack = CULTIVAR_SLACK_DAYS
        return low - slack, (low + high) // 2, high + slack
    usual = species.days_bloom_to_harvest
    if usual is None:
        return None
    spread = (usual * (1 - RIPENING_SPREAD), usual * (1 + RIPENING_SPREAD))
    least, most = RIPENING_DAYS.get(species.key, spread)
    return min(round(least), usual), usual, max(round(most), usual)


def is_known_cultivar(species: SpeciesFacts, cultivar: str) -> bool:
    """Return whether a cultivar's own days to harvest are published."""
    return _named(species, cultivar) in CULTIVAR_DAYS


def _named(species: SpeciesFacts, cultivar: str) -> tuple[str, str]:
    return species.key, cultivar.strip(QUOTES).casefold()


def is_bearing(tree: TreeFacts, day: date) -> bool:
    """Return whether a tree is old enough to bear; unknown age or figure counts as so."""
    years, first = tree.years_since_planting(day), tree.species.years_to_first_crop
    return years is None or first is None or years >= first
