"""Verdicts on kinds in words: one sentence a factor, what helps, and how sure it is."""

from calendar import month_name
from collections.abc import Callable

from care.facts.fit import (
    Factor,
    FitBasis,
    FitCaution,
    KindFit,
    PlaceFit,
    Topic,
    Verdict,
)
from care.views.fit_terms import CAUTIONS, FIXES, FactorTeller
from orchard.units import UnitSystem, format_quantity

OPENED, CLOSED = "\N{LEFT SINGLE QUOTATION MARK}", "\N{RIGHT SINGLE QUOTATION MARK}"


def factor_words(factor: Factor, units: UnitSystem) -> str:
    """Return one factor as a sentence or two."""
    return _SENTENCES[factor.code](FactorTeller(factor, units))


def _chill_met(it: FactorTeller) -> str:
    met = it.of("met_surely", "met_perhaps", "winters")
    return (
        f"Enough chill in {met} winters: it asks for {it.chill('need_least', 'need_most')}, "
        f"and {it.chill('usual_low', 'usual_high')} are usual."
    )


def _chill_short(it: FactorTeller) -> str:
    met = it.of("met_surely", "met_perhaps", "winters")
    return (
        f"Too little chill: it asks for {it.chill('need_least')} or more, which {met} "
        f"winters bring; {it.chill('usual_low', 'usual_high')} are usual."
    )


def _chill_few_hours(it: FactorTeller) -> str:
    met = it.of("met_surely", "met_perhaps", "winters")
    return (
        f"Perhaps too little chill: it asks for {it.chill('need_least')}, which {met} "
        "winters bring. Hours of cold tell little where winters are this mild: ask who "
        "grows it near you."
    )


def _chill_short_all(it: FactorTeller) -> str:
    return (
        f"Too little chill: even the cultivars that ask for least, "
        f"{it.chill('need_floor')}, get it in "
        f"{it.of('floor_met_surely', 'floor_met_perhaps', 'winters')} winters. This one "
        f"is said to ask for {it.chill('need_least', 'need_most')}."
    )


def _chill_soft(it: FactorTeller) -> str:
    return (
        f"It flowers better after {it.chill('need_least')} of chill, which "
        f"{it.of('met_surely', 'met_perhaps', 'winters')} winters bring; it can do without."
    )


def _chill_choose_low(it: FactorTeller) -> str:
    return (
        f"Enough chill for cultivars that ask for {it.chill('need_least')}; those that "
        f"ask for {it.chill('need_most')} get it in "
        f"{it.of('most_met_surely', 'most_met_perhaps', 'winters')} winters."
    )


def _chill_may_ask_more(it: FactorTeller) -> str:
    return (
        f"Sources put its need at {it.chill('need_least', 'need_most')}: the lower is met "
        f"in {it.of('met_surely', 'met_perhaps', 'winters')} winters, the higher in "
        f"{it.of('most_met_surely', 'most_met_perhaps', 'winters')}."
    )


def _reckoned(it: FactorTeller) -> str:
    words = f"The coldest of {it.count('years')} years was {it.night('coldest_c')}"
    if it.number("coldest_c") - it.number("reckoned_c") < NOTABLE_C:
        return f"{words}."
    return f"{words}; in thirty, reckon with {it.night('reckoned_c')}."


NOTABLE_C = 0.5
FEW_DAYS = 30  # of record, that add nothing to twelve months; ours


def _cold_good(it: FactorTeller) -> str:
    return f"In the ground it bears {it.night('bears_c')}. {_reckoned(it)}"


def _cold_hurts(it: FactorTeller) -> str:
    nights = _nights_of(it, "share", "tried_c", "bears_c")
    return f"In the ground, nights of {it.night('bears_c')} hurt it: {nights}. {_reckoned(it)}"


def _cold_young(it: FactorTeller) -> str:
    nights = _nights_of(it, "young_share", "tried_young_c", "bears_young_c")
    return (
        f"Young, it is hurt from {it.night('bears_young_c')} on: {nights}. Grown, it "
        f"bears {it.night('bears_c')}."
    )


def _nights_of(it: FactorTeller, share: str, tried: str, bears: str) -> str:
    """Return how many years had such a night, or a milder one that doubt counts too."""
    times = _times(it.number(share), it.number("years"))
    if it.number(tried) == it.number(bears):
        return f"{times} had such a night"
    return f"{times} had a night of {it.night(tried)} or colder"


def _times(share: float, total: float) -> str:
    count = round(share * total)
    years = "year" if total == 1 else "years"
    return f"{'none' if count == 0 else count} of {total:,.0f} {years}"


def _cold_by_zone(it: FactorTeller) -> str:
    return (
        f"No damage temperature is known. This place is in zone {it.factor.number('zone')}, "
        f"colder than where it is grown, from zone {it.factor.number('zone_min')} on."
    )


def _pot_stays_out(it: FactorTeller) -> str:
    return (
        f"In a pot it bears {it.night('bears_pot_c')}, so it can stand outdoors all "
        f"year. {_reckoned(it)}"
    )


def _pot_comes_in(it: FactorTeller) -> str:
    start = f"In a pot it comes in from {it.night('bears_pot_c')} on"
    nights = round(it.number("nights"))
    if nights == 0:
        times = _times(it.number("share"), it.number("years"))
        return f"{start}: {times} had such a night. {_reckoned(it)}"
    count = "one night" if nights == 1 else f"{nights} nights"
    return f"{start}: about {count} a year{_months(it)}."


def _months(it: FactorTeller) -> str:
    if not it.has("first_month"):
        return ""
    first, last = (
        month_name[int(it.number(name))] for name in ("first_month", "last_month")
    )
    return f", in {first}" if first == last else f", from {first} to {last}"


def _bloom(it: FactorTeller) -> str:
    killing, springs = it.number("killing"), it.number("springs")
    how = (
        ""
        if it.factor.code == "bloom_modelled"
        else ", by the months, which is a guess"
    )
    count = "None" if killing == 0 else f"{killing:,.0f}"
    return (
        f"{count} of {springs:,.0f} springs had a night of {it.night('bears_c')} or "
        f"colder at bloom, about {it.count('day')} {month_name[int(it.number('month'))]}{how}."
    )


def _heat_beyond(it: FactorTeller) -> str:
    return (
        f"Winters are milder here, zone {it.factor.number('zone')}, than where it is "
        f"usually grown, up to zone {it.factor.number('zone_max')}, and "
        f"{it.count('hot_days')} days a year are hot: it may be too warm. That is a hint, "
        "no limit."
    )


def _heat_unknown(it: FactorTeller) -> str:
    words = "Nobody of our sources says what heat it bears."
    if not it.has("hot_days"):
        return words
    bound = format_quantity(30, "°C", it.units)
    return f"{words} {it.count('hot_days')} days a year pass {bound} here."


def _soil(it: FactorTeller) -> str:
    likes = f"it likes pH {it.number('ph_min'):g} to {it.number('ph_max'):g}"
    start = {
        "soil_good": "Your soil suits it",
        "soil_too_acid": "Your soil is too acid",
        "soil_too_alkaline": "Your soil is not acid enough",
    }[it.factor.code]
    return f"{start}: pH {it.number('ph'):g}, and {likes}."


def _space(it: FactorTeller) -> str:
    room, wide = it.amount("room_m", "m"), it.amount("spread_m", "m")
    if it.factor.code == "space_good":
        return f"Grown, it is {wide} wide; your plan has a free circle {room} wide."
    return (
        f"Grown, it is {wide} wide, but the widest free circle on your plan is {room}."
    )


def _pot(it: FactorTeller) -> str:
    takes = {"good": "It lives well", "fair": "It can live", "poor": "It lives poorly"}
    words = f"{takes[str(it.factor.number('takes'))]} in a pot"
    return (
        f"{words} of {it.amount('least_l', 'L')} or more."
        if it.has("least_l")
        else f"{words}."
    )


def _said(words: str) -> Callable[[FactorTeller], str]:
    def say(it: FactorTeller) -> str:
        del it
        return words

    return say


_SENTENCES: dict[str, Callable[[FactorTeller], str]] = {
    "chill_met": _chill_met,
    "chill_short": _chill_short,
    "chill_short_all": _chill_short_all,
    "chill_few_hours": _chill_few_hours,
    "chill_soft": _chill_soft,
    "chill_choose_low": _chill_choose_low,
    "chill_may_ask_more": _chill_may_ask_more,
    "chill_none_needed": _said("It asks for no winter chill."),
    "chill_no_figure": _said("What chill it asks for was not found."),
    "chill_no_weather": _said(
        "Without weather nobody can say whether it gets its chill."
    ),
    "cold_good": _cold_good,
    "cold_hurts": _cold_hurts,
    "cold_young": _cold_young,
    "cold_by_zone": _cold_by_zone,
    "cold_no_figure": _said("What cold it bears was not found."),
    "cold_no_weather": _said("Without weather nobody can say how cold it gets."),
    "pot_stays_out": _pot_stays_out,
    "pot_comes_in": _pot_comes_in,
    "bloom_modelled": _bloom,
    "bloom_by_months": _bloom,
    "bloom_no_weather": _said(
        "Without weather nobody can say how often frost comes at bloom."
    ),
    "bloom_no_figure": _said("What cold its flowers bear was not found."),
    "bloom_no_one_date": _said("It has no one time of bloom that frost could spoil."),
    "heat_beyond_zones": _heat_beyond,
    "heat_no_figure": _heat_unknown,
    "soil_good": _soil,
    "soil_too_acid": _soil,
    "soil_too_alkaline": _soil,
    "soil_no_test": _said("Enter a soil test in the settings, and the pH is compared."),
    "soil_no_figure": _said("What pH it likes was not found."),
    "space_good": _space,
    "space_short": _space,
    "space_no_plan": _said(
        "Draw the boundary or a free area on the plan, and the room is compared."
    ),
    "space_no_figure": _said("How wide it grows was not found."),
    "pot_takes": _pot,
    "pot_unknown": _said("Whether it takes to a pot was not found."),
}


def line_words(place: PlaceFit, units: UnitSystem) -> str:
    """Return the one sentence that counts: what limits it, or would do so first."""
    if place.limiting is not None:
        return factor_words(place.limiting, units)
    nearest = _nearest(place)
    if place.verdict is Verdict.UNKNOWN or nearest is None:
        return "Too little is known to say."
    return factor_words(nearest, units)


def _nearest(place: PlaceFit) -> Factor | None:
    """Return what is nearest to its limit of chill and cold."""
    found = [place.factor(topic) for topic in (Topic.CHILL, Topic.COLD)]
    limited = [each for each in found if each is not None and each.margin is not None]
    return min(limited, key=lambda each: each.margin or 0.0, default=None)


def fix_words(place: PlaceFit) -> str:
    """Return what would help most, empty where nothing needs to or nothing does."""
    fixes = () if place.limiting is None else place.limiting.fixes
    return FIXES[fixes[0]] if fixes else ""


def basis_words(basis: FitBasis) -> str:
    """Return which years lie behind a verdict."""
    if basis.seasons:
        return f"{len(basis.seasons)} observed winters"
    record = f"{basis.observed_days:,} days of record"
    if not basis.is_from_months:
        origin = record
    elif basis.observed_days < FEW_DAYS:
        origin = "your twelve months"
    else:
        origin = f"your twelve months and {record}"
    return f"{basis.made_up} made-up years from {origin}"


def sure_words(place: PlaceFit, basis: FitBasis | None) -> str:
    """Return how sure a verdict is: the years behind it, and figures from memory."""
    words = []
    if basis is not None:
        kind = "observed winters" if basis.seasons else "made-up years"
        words.append(f"{basis.winters} {kind}")
    decides = place.limiting or _nearest(place)
    if decides is not None and decides.is_unverified:
        words.append("unverified figure")
    return "; ".join(words)


def caution_sentence(caution: FitCaution, units: UnitSystem) -> str:
    """Return a caution with the rain behind it."""
    words = CAUTIONS[caution.code]
    if caution.month is None or caution.rain_mm is None:
        return words
    rain = format_quantity(caution.rain_mm, "mm", units)
    return f"{words} {month_name[caution.month]} brings {rain} of rain."


def name_words(fit: KindFit) -> str:
    """Return a kind's name, a cultivar's in quotes."""
    if fit.cultivar is None:
        return fit.species.name
    return f"{fit.species.name} {OPENED}{fit.cultivar.name}{CLOSED}"
