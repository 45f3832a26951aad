"""Verdicts on kinds in words: one sentence a factor, what helps, and how sure it is."""

from collections.abc import Callable
from datetime import date

from django.utils.text import capfirst
from django.utils.translation import gettext, gettext_noop, ngettext

from care.facts.fit import (
    Factor,
    FitBasis,
    FitCaution,
    KindFit,
    PlaceFit,
    Topic,
    Verdict,
)
from care.views.fit_chill_words import CHILL
from care.views.fit_terms import CAUTIONS, FIXES, FactorTeller, said
from orchard.catalogue.search import called
from orchard.languages import day_and_month, localised, month_name, whole
from orchard.units import UnitSystem, format_quantity

OPENED, CLOSED = "\N{LEFT SINGLE QUOTATION MARK}", "\N{RIGHT SINGLE QUOTATION MARK}"


def factor_words(factor: Factor, units: UnitSystem) -> str:
    """Return one factor as a sentence or two."""
    return _SENTENCES[factor.code](FactorTeller(factor, units))


def _reckoned(it: FactorTeller) -> str:
    words = gettext("The coldest of {years} years was {coldest}.")
    if it.number("coldest_c") - it.number("reckoned_c") < NOTABLE_C:
        return words.format(years=it.count("years"), coldest=it.night("coldest_c"))
    return gettext(
        "The coldest of {years} years was {coldest}; in thirty, reckon with {reckoned}."
    ).format(
        years=it.count("years"),
        coldest=it.night("coldest_c"),
        reckoned=it.night("reckoned_c"),
    )


NOTABLE_C = 0.5
LEAP = 2004  # any year that has every day
FEW_DAYS = 30  # of record, that add nothing to twelve months; ours


def _cold_good(it: FactorTeller) -> str:
    return gettext("In the ground it bears {bears}. {reckoned}").format(
        bears=it.night("bears_c"), reckoned=_reckoned(it)
    )


def _cold_hurts(it: FactorTeller) -> str:
    nights = _nights_of(it, "share", "tried_c", "bears_c")
    return gettext(
        "In the ground, nights of {bears} hurt it: {nights}. {reckoned}"
    ).format(bears=it.night("bears_c"), nights=nights, reckoned=_reckoned(it))


def _cold_young(it: FactorTeller) -> str:
    nights = _nights_of(it, "young_share", "tried_young_c", "bears_young_c")
    return gettext(
        "Young, it is hurt from {bears_young} on: {nights}. Grown, it bears {bears}."
    ).format(
        bears_young=it.night("bears_young_c"), nights=nights, bears=it.night("bears_c")
    )


def _nights_of(it: FactorTeller, share: str, tried: str, bears: str) -> str:
    """Return how many years had such a night, or a milder one that doubt counts too."""
    times = _times(it.number(share), it.number("years"))
    if it.number(tried) == it.number(bears):
        return gettext("{times} had such a night").format(times=times)
    return gettext("{times} had a night of {night} or colder").format(
        times=times, night=it.night(tried)
    )


def _times(share: float, total: float) -> str:
    count = round(share * total)
    if count == 0:
        words = ngettext("none of {total} year", "none of {total} years", round(total))
    else:
        words = ngettext(
            "{count} of {total} year", "{count} of {total} years", round(total)
        )
    return words.format(count=count, total=whole(total))


def _cold_by_zone(it: FactorTeller) -> str:
    return gettext(
        "No damage temperature is known. This place is in zone {zone}, "
        "colder than where it is grown, from zone {zone_min} on."
    ).format(zone=it.factor.number("zone"), zone_min=it.factor.number("zone_min"))


def _pot_stays_out(it: FactorTeller) -> str:
    return gettext(
        "In a pot it bears {bears_pot}, so it can stand outdoors all year. {reckoned}"
    ).format(bears_pot=it.night("bears_pot_c"), reckoned=_reckoned(it))


def _pot_comes_in(it: FactorTeller) -> str:
    bears = it.night("bears_pot_c")
    nights = round(it.number("nights"))
    if nights == 0:
        times = _times(it.number("share"), it.number("years"))
        return gettext(
            "In a pot it comes in from {bears} on: {times} had such a night. {reckoned}"
        ).format(bears=bears, times=times, reckoned=_reckoned(it))
    return ngettext(
        "In a pot it comes in from {bears} on: about one night a year{months}.",
        "In a pot it comes in from {bears} on: about {nights} nights a year{months}.",
        nights,
    ).format(bears=bears, nights=nights, months=_months(it))


def _months(it: FactorTeller) -> str:
    if not it.has("first_month"):
        return ""
    first, last = (
        month_name(int(it.number(name))) for name in ("first_month", "last_month")
    )
    return (
        gettext(", in {first}").format(first=first)
        if first == last
        else gettext(", from {first} to {last}").format(first=first, last=last)
    )


def _bloom(it: FactorTeller) -> str:
    killing, springs = it.number("killing"), it.number("springs")
    if killing == 0:
        words = gettext(
            "None of {springs} springs had a night of {bears} or colder at bloom, "
            "about {day}{how}."
        )
    else:
        words = gettext(
            "{count} of {springs} springs had a night of {bears} or colder at bloom, "
            "about {day}{how}."
        )
    is_guess = it.factor.code != "bloom_modelled"
    return words.format(
        count=whole(killing),
        springs=whole(springs),
        bears=it.night("bears_c"),
        day=day_and_month(date(LEAP, int(it.number("month")), int(it.number("day")))),
        how=gettext(", by the months, which is a guess") if is_guess else "",
    )


def _heat_beyond(it: FactorTeller) -> str:
    return gettext(
        "Winters are milder here, zone {zone}, than where it is usually "
        "grown, up to zone {zone_max}, and {hot_days} days a year are hot: "
        "it may be too warm. That is a hint, no limit."
    ).format(
        zone=it.factor.number("zone"),
        zone_max=it.factor.number("zone_max"),
        hot_days=it.count("hot_days"),
    )


def _heat_unknown(it: FactorTeller) -> str:
    words = gettext("Nobody of our sources says what heat it bears.")
    if not it.has("hot_days"):
        return words
    bound = format_quantity(30, "°C", it.units)
    return gettext("{words} {hot_days} days a year pass {bound} here.").format(
        words=words, hot_days=it.count("hot_days"), bound=bound
    )


def _soil(it: FactorTeller) -> str:
    words = {
        "soil_good": gettext(
            "Your soil suits it: pH {ph}, and it likes pH {least} to {most}."
        ),
        "soil_too_acid": gettext(
            "Your soil is too acid: pH {ph}, and it likes pH {least} to {most}."
        ),
        "soil_too_alkaline": gettext(
            "Your soil is not acid enough: pH {ph}, and it likes pH {least} to {most}."
        ),
    }[it.factor.code]
    ph, least, most = (
        localised(f"{it.number(name):g}") for name in ("ph", "ph_min", "ph_max")
    )
    return words.format(ph=ph, least=least, most=most)


def _space(it: FactorTeller) -> str:
    room, wide = it.amount("room_m", "m"), it.amount("spread_m", "m")
    if it.factor.code == "space_good":
        return gettext(
            "Grown, it is {wide} wide; your plan has a free circle {room} wide."
        ).format(wide=wide, room=room)
    return gettext(
        "Grown, it is {wide} wide, but the widest free circle on your plan is {room}."
    ).format(wide=wide, room=room)


def _pot(it: FactorTeller) -> str:
    takes = str(it.factor.number("takes"))
    if not it.has("least_l"):
        return {
            "good": gettext("It lives well in a pot."),
            "fair": gettext("It can live in a pot."),
            "poor": gettext("It lives poorly in a pot."),
        }[takes]
    words = {
        "good": gettext("It lives well in a pot of {least} or more."),
        "fair": gettext("It can live in a pot of {least} or more."),
        "poor": gettext("It lives poorly in a pot of {least} or more."),
    }[takes]
    return words.format(least=it.amount("least_l", "L"))


_SENTENCES: dict[str, Callable[[FactorTeller], str]] = {
    **CHILL,
    "cold_good": _cold_good,
    "cold_hurts": _cold_hurts,
    "cold_young": _cold_young,
    "cold_by_zone": _cold_by_zone,
    "cold_no_figure": said(gettext_noop("What cold it bears was not found.")),
    "cold_no_weather": said(
        gettext_noop("Without weather nobody can say how cold it gets.")
    ),
    "pot_stays_out": _pot_stays_out,
    "pot_comes_in": _pot_comes_in,
    "bloom_modelled": _bloom,
    "bloom_by_months": _bloom,
    "bloom_no_weather": said(
        gettext_noop("Without weather nobody can say how often frost comes at bloom.")
    ),
    "bloom_no_figure": said(gettext_noop("What cold its flowers bear was not found.")),
    "bloom_no_one_date": said(
        gettext_noop("It has no one time of bloom that frost could spoil.")
    ),
    "heat_beyond_zones": _heat_beyond,
    "heat_no_figure": _heat_unknown,
    "soil_good": _soil,
    "soil_too_acid": _soil,
    "soil_too_alkaline": _soil,
    "soil_no_test": said(
        gettext_noop("Enter a soil test in the settings, and the pH is compared.")
    ),
    "soil_no_figure": said(gettext_noop("What pH it likes was not found.")),
    "space_good": _space,
    "space_short": _space,
    "space_no_plan": said(
        gettext_noop(
            "Draw the boundary or a free area on the plan, and the room is compared."
        )
    ),
    "space_no_figure": said(gettext_noop("How wide it grows was not found.")),
    "pot_takes": _pot,
    "pot_unknown": said(gettext_noop("Whether it takes to a pot was not found.")),
}


def line_words(place: PlaceFit, units: UnitSystem) -> str:
    """Return the one sentence that counts: what limits it, or would do so first."""
    if place.limiting is not None:
        return factor_words(place.limiting, units)
    nearest = _nearest(place)
    if place.verdict is Verdict.UNKNOWN or nearest is None:
        return gettext("Too little is known to say.")
    return factor_words(nearest, units)


def _nearest(place: PlaceFit) -> Factor | None:
    """Return what is nearest to its limit of chill and cold."""
    found = [place.factor(topic) for topic in (Topic.CHILL, Topic.COLD)]
    limited = [each for each in found if each is not None and each.margin is not None]
    return min(limited, key=lambda each: each.margin or 0.0, default=None)


def fix_words(place: PlaceFit) -> str:
    """Return what would help most, empty where nothing needs to or nothing does."""
    fixes = () if place.limiting is None else place.limiting.fixes
    return gettext(FIXES[fixes[0]]) if fixes else ""


def basis_words(basis: FitBasis) -> str:
    """Return which years lie behind a verdict."""
    if basis.seasons:
        return gettext("{number} observed winters").format(number=len(basis.seasons))
    record = gettext("{observed_days} days of record").format(
        observed_days=whole(basis.observed_days)
    )
    if not basis.is_from_months:
        origin = record
    elif basis.observed_days < FEW_DAYS:
        origin = gettext("your twelve months")
    else:
        origin = gettext("your twelve months and {record}").format(record=record)
    return gettext("{made_up} made-up years from {origin}").format(
        made_up=basis.made_up, origin=origin
    )


def sure_words(place: PlaceFit, basis: FitBasis | None) -> str:
    """Return how sure a verdict is: the years behind it, and figures from memory."""
    words = []
    if basis is not None:
        told = (
            gettext("{number} observed winters")
            if basis.seasons
            else gettext("{number} made-up years")
        )
        words.append(told.format(number=basis.winters))
    decides = place.limiting or _nearest(place)
    if decides is not None and decides.is_unverified:
        words.append(gettext("unverified figure"))
    return "; ".join(words)


def caution_sentence(caution: FitCaution, units: UnitSystem) -> str:
    """Return a caution with the rain behind it."""
    words = gettext(CAUTIONS[caution.code])
    if caution.month is None or caution.rain_mm is None:
        return words
    rain = format_quantity(caution.rain_mm, "mm", units)
    return gettext("{words} {month_name} brings {rain} of rain.").format(
        words=words, month_name=capfirst(month_name(caution.month)), rain=rain
    )


def name_words(fit: KindFit) -> str:
    """Return a kind's name, a cultivar's in quotes."""
    if fit.cultivar is None:
        return called(fit.species.name)
    return f"{called(fit.species.name)} {OPENED}{fit.cultivar.name}{CLOSED}"
