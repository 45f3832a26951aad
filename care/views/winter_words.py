"""Winter chill in words: so far, and what a tree needs of it."""

from datetime import date

from django.utils.translation import gettext, ngettext

from care.facts import Place, SpeciesFacts, Stay
from care.planning.winter import Chill, Winter, WinterOutlook
from care.views.days import DASH, count_days, short_day
from care.views.tree_lines import QUOTES
from orchard.languages import whole

HOURS_STEP = 10  # hours reckoned from two temperatures a day are no better known


def hours_words(chill: Chill) -> str:
    """Return such as ``about 610 hours``, halfway between the two reckonings."""
    middle = (chill.hours_low + chill.hours_high) / 2
    return (
        gettext("about {middle} hours").format(middle=round_hours(middle))
        if middle >= HOURS_STEP
        else gettext("hardly any")
    )


def portions_words(chill: Chill) -> str:
    """Return such as ``41 to 44`` with a dash, or one number."""
    low, high = round(chill.portions_low), round(chill.portions_high)
    return f"{low}" if low == high else f"{low}{DASH}{high}"


def span_words(low_hours: float, high_hours: float) -> str:
    """Return hours between two reckonings in tens, as one number where they agree."""
    low, high = round_hours(low_hours), round_hours(high_hours)
    return low if low == high else f"{low}{DASH}{high}"


def units_words(chill: Chill) -> str:
    """Return Utah units in tens; a dash where warm hours took more than cold gave."""
    if chill.units_low <= 0:
        return DASH
    return span_words(chill.units_low, chill.units_high)


def winter_name(winter: Winter) -> str:
    """Return such as ``2013-14`` with a dash, or one year in the south."""
    if winter.first.year == winter.last.year:
        return str(winter.first.year)
    return f"{winter.first.year}{DASH}{winter.last.year % 100:02d}"


def chill_words(outlook: WinterOutlook, today: date) -> str:
    """Return the site's chill in one or two sentences, and what is doubtful of it."""
    return _told(outlook, today, need="")


def tree_chill_words(
    outlook: WinterOutlook | None,
    species: SpeciesFacts | None,
    stays: tuple[Stay, ...],
    today: date,
) -> str:
    """Return a tree's chill beside its need; nothing for a species without one.

    ``stays`` are those of a pot, in order; a tree in the ground has none.
    """
    need = need_words(species)
    if not need:
        return ""
    if outlook is None:
        return gettext("Unknown without weather ({need}).").format(need=need)
    words = _told(outlook, today, need)
    return f"{words} {_kept_warm(outlook.latest, stays)}".strip()


def need_words(species: SpeciesFacts | None) -> str:
    """Return such as ``needs 200 to 450 by cultivar``, or nothing."""
    if species is None or species.leaf != "deciduous":
        return ""
    least, most = species.chill_hours_min, species.chill_hours_max
    if least is None:
        return ""
    span = whole(least)
    if most is not None and most != least:
        span = f"{span}{DASH}{whole(most)}"
    named = QUOTES.format(species.chill_of)
    words = (
        gettext("{named} needs {span}").format(named=named, span=span)
        if species.chill_of
        else gettext("needs {span} by cultivar").format(span=span)
    )
    is_unverified = "chill_hours_min" in species.unverified
    return (
        gettext("{words}, unverified").format(words=words) if is_unverified else words
    )


def _told(outlook: WinterOutlook, today: date, need: str) -> str:
    winter = outlook.latest
    bracket = f" ({need})" if need else ""
    if not winter.is_told:
        return f"{_too_little(winter, today)}{bracket}."
    said = hours_words(winter.chill)
    when = gettext("last winter") if winter.is_over else gettext("so far")
    portions = portions_words(winter.chill)
    words = ngettext(
        "{said} {when}{bracket}; {portions} portion.",
        "{said} {when}{bracket}; {portions} portions.",
        1 if portions == "1" else 2,
    ).format(
        said=f"{said[0].upper()}{said[1:]}",
        when=when,
        bracket=bracket,
        portions=portions,
    )
    return f"{words} {_doubt(winter)}".strip()


def _too_little(winter: Winter, today: date) -> str:
    if winter.days == 0:
        return gettext("Counted from today on, until {last}").format(
            last=short_day(winter.last, today)
        )
    known = winter.observed_days + winter.estimated_days
    when = gettext("last winter") if winter.is_over else gettext("this winter")
    return gettext(
        "Unknown: the weather of only {known} of {days} {when} is known"
    ).format(known=known, days=count_days(winter.days), when=when)


def _doubt(winter: Winter) -> str:
    words = []
    if winter.observed_days == 0:
        words.append(
            gettext(
                "Nobody observed it: this is what the usual weather here brings, "
                "which has no single cold nights and no warm spells."
            )
        )
    elif winter.estimated_days:
        days = gettext("{estimated_days} of {days}").format(
            estimated_days=winter.estimated_days, days=count_days(winter.days)
        )
        words.append(
            gettext("For {days} the usual weather or a forecast stands in.").format(
                days=days
            )
        )
    if winter.missing_days:
        words.append(
            ngettext(
                "{days} is unknown and not counted, so it may be more.",
                "{days} are unknown and not counted, so it may be more.",
                winter.missing_days,
            ).format(days=count_days(winter.missing_days))
        )
    return " ".join(words)


def _kept_warm(winter: Winter, stays: tuple[Stay, ...]) -> str:
    warm = sum(
        _place_on(date.fromordinal(winter.first.toordinal() + day), stays)
        is Place.INDOORS_HEATED
        for day in range(winter.days)
    )
    if not warm:
        return ""
    return gettext(
        "That is outdoors: this pot stood in a heated room for {warm} of these "
        "{days}, so its own chill is less."
    ).format(warm=warm, days=count_days(winter.days))


def _place_on(day: date, stays: tuple[Stay, ...]) -> Place:
    places = [stay.place for stay in stays if stay.since <= day]
    return places[-1] if places else Place.OUTDOORS


def round_hours(hours: float) -> str:
    """Return hours in tens, as well as they are known."""
    return whole(round(hours / HOURS_STEP) * HOURS_STEP)
