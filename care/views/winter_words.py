"""Winter chill in words: so far, and what a tree needs of it."""

from datetime import date

from care.facts import Place, SpeciesFacts, Stay
from care.planning.winter import Chill, Winter, WinterOutlook
from care.views.days import DASH, count_days, short_day
from care.views.tree_lines import QUOTES

HOURS_STEP = 10  # hours reckoned from two temperatures a day are no better known


def hours_words(chill: Chill) -> str:
    """Return such as ``about 610 hours``, halfway between the two reckonings."""
    middle = (chill.hours_low + chill.hours_high) / 2
    return (
        f"about {round_hours(middle)} hours" if middle >= HOURS_STEP else "hardly any"
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
        return f"Unknown without weather ({need})."
    words = _told(outlook, today, need)
    return f"{words} {_kept_warm(outlook.latest, stays)}".strip()


def need_words(species: SpeciesFacts | None) -> str:
    """Return such as ``needs 200 to 450 by cultivar``, or nothing."""
    if species is None or species.leaf != "deciduous":
        return ""
    least, most = species.chill_hours_min, species.chill_hours_max
    if least is None:
        return ""
    span = f"{least:,.0f}"
    if most is not None and most != least:
        span = f"{span}{DASH}{most:,.0f}"
    named = QUOTES.format(species.chill_of)
    words = f"{named} needs {span}" if species.chill_of else f"needs {span} by cultivar"
    is_unverified = "chill_hours_min" in species.unverified
    return f"{words}, unverified" if is_unverified else words


def _told(outlook: WinterOutlook, today: date, need: str) -> str:
    winter = outlook.latest
    bracket = f" ({need})" if need else ""
    if not winter.is_told:
        return f"{_too_little(winter, today)}{bracket}."
    said = hours_words(winter.chill)
    when = "last winter" if winter.is_over else "so far"
    portions = portions_words(winter.chill)
    unit = "portion" if portions == "1" else "portions"
    words = f"{said[0].upper()}{said[1:]} {when}{bracket}; {portions} {unit}."
    return f"{words} {_doubt(winter)}".strip()


def _too_little(winter: Winter, today: date) -> str:
    if winter.days == 0:
        return f"Counted from today on, until {short_day(winter.last, today)}"
    known = winter.observed_days + winter.estimated_days
    when = "last winter" if winter.is_over else "this winter"
    return (
        f"Unknown: the weather of only {known} of {count_days(winter.days)} "
        f"{when} is known"
    )


def _doubt(winter: Winter) -> str:
    words = []
    if winter.observed_days == 0:
        words.append(
            "Nobody observed it: this is what the usual weather here brings, which has "
            "no single cold nights and no warm spells."
        )
    elif winter.estimated_days:
        days = f"{winter.estimated_days} of {count_days(winter.days)}"
        words.append(f"For {days} the usual weather or a forecast stands in.")
    if winter.missing_days:
        verb = "is" if winter.missing_days == 1 else "are"
        words.append(
            f"{count_days(winter.missing_days)} {verb} unknown and not counted, so it "
            "may be more."
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
    return (
        f"That is outdoors: this pot stood in a heated room for {warm} of these "
        f"{count_days(winter.days)}, so its own chill is less."
    )


def _place_on(day: date, stays: tuple[Stay, ...]) -> Place:
    places = [stay.place for stay in stays if stay.since <= day]
    return places[-1] if places else Place.OUTDOORS


def round_hours(hours: float) -> str:
    """Return hours in tens, as well as they are known."""
    return f"{round(hours / HOURS_STEP) * HOURS_STEP:,}"
