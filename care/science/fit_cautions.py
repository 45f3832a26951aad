"""What wet months of a place mean for some kinds: cautions, never verdicts."""

from collections.abc import Iterable
from dataclasses import dataclass

from care.facts import Array, SiteFacts, Span, SpeciesFacts
from care.facts.fit import FitCaution
from care.science.season import MONTHS, local_month

# Where Köppen draws the line between wet and dry months of the tropics; from memory.
WET_MONTH_MM = 60.0
WINTER = (11, 12, 1, 2)  # northern
STONE = frozenset(
    {
        "apricot",
        "sweet_cherry",
        "sour_cherry",
        "peach",
        "nectarine",
        "european_plum",
        "japanese_plum",
        "almond",
    }
)


@dataclass(frozen=True, slots=True)
class _Risk:
    """What may go wrong for which kinds in which wet part of the year."""

    code: str
    kinds: frozenset[str]
    part: str  # bloom | harvest | winter
    source: str


# Eutypa and canker of stone fruit pruned into rain: UC Master Gardeners of Butte County.
# The others: common practice, no source.
_RISKS = (
    _Risk(
        "prune_in_dry_summer",
        frozenset({"apricot", "sweet_cherry", "sour_cherry"}),
        "winter",
        "uc_eutypa",
    ),
    _Risk(
        "prune_stone_dry",
        STONE - {"apricot", "sweet_cherry", "sour_cherry"},
        "winter",
        "uc_eutypa",
    ),
    _Risk("leaf_curl", frozenset({"peach", "nectarine"}), "bloom", "common_practice"),
    _Risk(
        "blossom_rot",
        STONE - {"peach", "nectarine"},
        "bloom",
        "common_practice",
    ),
    _Risk(
        "flowers_rot",
        frozenset({"mango", "avocado", "lychee"}),
        "bloom",
        "common_practice",
    ),
    _Risk(
        "fruit_splits",
        frozenset({"sweet_cherry", "fig", "pomegranate", "asian_persimmon"}),
        "harvest",
        "common_practice",
    ),
    _Risk(
        "fruit_rots",
        STONE - {"sweet_cherry", "almond"} | {"grape", "raspberry", "blackberry"},
        "harvest",
        "common_practice",
    ),
)


def rain_cautions(
    kind: SpeciesFacts, site: SiteFacts, rain_mm: Array | None
) -> tuple[FitCaution, ...]:
    """Return what rain at the wrong time may do to a kind at a place.

    Parameters
    ----------
    kind : SpeciesFacts
    site : SiteFacts
        For its hemisphere.
    rain_mm : array (12,) or None
        Usual rain of each calendar month [mm]; ``None`` gives no caution.
    """
    if rain_mm is None:
        return ()
    found = []
    for risk in _RISKS:
        if kind.key not in risk.kinds:
            continue
        wettest = _wettest(_months(kind, risk.part), site, rain_mm)
        if wettest is not None:
            month, fell_mm = wettest
            found.append(FitCaution(risk.code, month, fell_mm, (risk.source,)))
    return tuple(found)


def _months(kind: SpeciesFacts, part: str) -> Iterable[int]:
    if part == "winter":
        return WINTER
    span = kind.bloom if part == "bloom" else kind.harvest
    return () if span is None else months_of_span(span)


def months_of_span(span: Span) -> tuple[int, ...]:
    """Return the northern months of a span, wrapped or not."""
    count = (span.end_month - span.start_month) % MONTHS + 1
    return tuple((span.start_month + place - 1) % MONTHS + 1 for place in range(count))


def _wettest(
    northern: Iterable[int], site: SiteFacts, rain_mm: Array
) -> tuple[int, float] | None:
    """Return the wettest of some months, ``None`` where none is wet."""
    local = [local_month(month, southern=site.is_southern) for month in northern]
    wet = [month for month in local if rain_mm[month - 1] >= WET_MONTH_MM]
    if not wet:
        return None
    wettest = max(wet, key=lambda month: float(rain_mm[month - 1]))
    return wettest, float(rain_mm[wettest - 1])
