"""The rota in words: why a place is open and what would help, how much each does."""

from collections.abc import Callable, Iterable, Mapping, Sequence

from django.utils.translation import gettext, gettext_noop, ngettext

from care.planning.place_rules import Against
from care.planning.rota_changes import Change, RotaChange
from care.planning.rota_plan import PersonLoad, Why
from care.scheduling.rota import Stops
from care.views.days import full_day
from care.views.place_words import count_words
from care.views.shift_words import cancelled_words
from orchard.languages import either, listed
from orchard.models import Skill, is_hazard_skill, skill_words

MOST_NAMED = 4
Names = Mapping[int, str]

WITH_SKILL = {
    Skill.LADDER: gettext_noop("who may use ladders"),
    Skill.SAW: gettext_noop("who may use saws"),
    Skill.SPRAY: gettext_noop("who may spray"),
    Skill.FIRST_AID: gettext_noop("with first aid"),
}
#: What speaks against somebody, said beside their name.
AGAINST = {
    Against.DAY_NOT_OFFERED: gettext_noop("did not offer this day"),
    Against.WEEK_FULL: gettext_noop("has enough shifts that week"),
    Against.SEASON_FULL: gettext_noop("has enough shifts this season"),
}
WISHES = {
    -1: gettext_noop("would rather not"),
    0: gettext_noop("can come"),
    1: gettext_noop("gladly"),
}


def why_words(why: Why, names: Names) -> tuple[str, ...]:
    """Return why a place is open, in sentences, the cheapest cure first."""
    day = full_day(why.shift.day)
    found = [
        _free(why, names),
        _skill(why, names, day),
        _enough(why, names, Stops.WEEK_FULL),
        _enough(why, names, Stops.SEASON_FULL),
        _nobody(why, day),
        _same_day(why, names),
        _said_no(why, names),
        _all_busy(why),
    ]
    return tuple(words for words in found if words)


def short_why(why: Why, names: Names) -> str:
    """Return the first of those sentences."""
    return next(iter(why_words(why, names)), "")


def name_list(
    people: Iterable[int],
    names: Names,
    join: Callable[[Sequence[str]], str] = listed,
) -> str:
    """Return such as "Ana, Ben and Cleo"; of many the first, and how many more."""
    known = [names[person] for person in people if person in names]
    rest = len(known) - MOST_NAMED
    if rest > 1:
        known = [*known[:MOST_NAMED], gettext("{rest} others").format(rest=rest)]
    return join(known)


def _free(why: Why, names: Names) -> str:
    if not why.free:
        return ""
    who = name_list(why.free, names, either)
    return gettext("{who} could come, and nothing stands in the way: ask them.").format(
        who=who
    )


def _skill(why: Why, names: Names, day: str) -> str:
    """Return the want of a skill, and both ways round it."""
    skill = why.place.skill
    if not skill or why.free or why.known.stopped:
        return ""
    nobody = gettext("Nobody {with_skill} offered {day}.").format(
        with_skill=with_skill(skill), day=day
    )
    ask = name_list(why.known.skill_without_day, names, either)
    ways = []
    if why.known.day_without_skill:
        number = _people(len(why.known.day_without_skill))
        ways.append(
            ngettext(
                "{people} offered the day: {way}",
                "{people} offered the day: {way}",
                len(why.known.day_without_skill),
            ).format(people=number, way=_without(skill))
        )
    if ask:
        ways.append(
            ngettext(
                "ask {names} (who has the skill)",
                "ask {names} (who have the skill)",
                len(why.known.skill_without_day),
            ).format(names=ask)
        )
    if not why.skilled:
        ways.append(gettext("ask a coordinator whose skill can be confirmed"))
    cure = gettext("; or ").join(ways)
    return f"{nobody} {cure[:1].upper()}{cure[1:]}." if cure else nobody


def with_skill(skill: str) -> str:
    """Return a skill behind "nobody", such as "with first aid"."""
    if skill in WITH_SKILL:
        return gettext(WITH_SKILL[Skill(skill)])
    return gettext("with the skill {skill}").format(skill=skill_words(skill))


def _without(skill: str) -> str:
    if is_hazard_skill(skill):
        return gettext(
            "leave that work out of the shift, so that nobody needs the skill"
        )
    return gettext("let this place ask for no skill")


def _enough(why: Why, names: Names, stop: Stops) -> str:
    people = [person for person, what in why.known.stopped if what is stop]
    if not people:
        return ""
    who = name_list(people, names)
    number = len(people)
    if stop is Stops.WEEK_FULL:
        words = ngettext(
            "{who} offered the day but has enough shifts that week: ask for one more.",
            "{who} offered the day but have enough shifts that week: ask for one more.",
            number,
        )
    else:
        words = ngettext(
            "{who} offered the day but has enough shifts this season: ask for one more.",
            "{who} offered the day but have enough shifts this season: ask for one more.",
            number,
        )
    return words.format(who=who)


def _nobody(why: Why, day: str) -> str:
    if why.offered:
        return ""
    words = gettext("Nobody offered {day}.").format(day=day)
    if why.better_day is None:
        return f"{words} " + gettext("Ask people which days suit them.")
    better, number = why.better_day
    move = ngettext(
        "{people} offered {day}: move the shift there.",
        "{people} offered {day}: move the shift there.",
        number,
    ).format(people=_people(number), day=full_day(better))
    return f"{words} {move}"


def _same_day(why: Why, names: Names) -> str:
    people = [p for p, what in why.known.stopped if what is Stops.SAME_DAY]
    if not people:
        return ""
    return ngettext(
        "{names} is on a shift that day already.",
        "{names} are on a shift that day already.",
        len(people),
    ).format(names=name_list(people, names))


def _said_no(why: Why, names: Names) -> str:
    if not why.known.said_no:
        return ""
    return ngettext(
        "{names} said no to this shift.",
        "{names} said no to this shift.",
        len(why.known.said_no),
    ).format(names=name_list(why.known.said_no, names))


def _all_busy(why: Why) -> str:
    """Return that no hand-over helps, where the search for one ended nowhere."""
    if why.free or not why.known.busy_places:
        return ""
    people, places = why.known.busy_people, why.known.busy_places
    return ngettext(
        "{people} who could be asked hold {number} place already; handing those on frees "
        "nobody for this one.",
        "{people} who could be asked hold {number} places already; handing those on "
        "frees nobody for this one.",
        places,
    ).format(people=_people(people), number=places)


def _people(number: int) -> str:
    return ngettext("{number} person", "{number} people", number).format(number=number)


def load_words(load: PersonLoad) -> str:
    """Return such as "4 of about 5"."""
    done = count_words(load.done)
    return (
        done
        if load.fair is None
        else gettext("{done} of about {fair}").format(
            done=done, fair=max(round(load.fair), 1)
        )
    )


def against_words(codes: Iterable[Against]) -> list[str]:
    """Return what speaks against somebody for a place, said beside their name."""
    return [gettext(AGAINST[one]) for one in codes]


def candidate_words(name: str, wish: int | None, against: Iterable[str]) -> str:
    """Return somebody to choose for a place, with what they said of it."""
    said = list(against)
    if wish is not None:
        said.insert(0, gettext(WISHES[wish]))
    return f"{name}: {', '.join(said)}" if said else name


def change_words(change: RotaChange) -> str:
    """Return one change since the last publication."""
    where = f"{full_day(change.day)}, {change.name}"
    if change.what is Change.HOLDER:
        after = change.after or gettext("nobody")
        before = change.before or gettext("nobody")
        return gettext("{where}: {after} instead of {before}").format(
            where=where, after=after, before=before
        )
    words = {
        Change.MOVED: gettext("{name}: {after} instead of {before}").format(
            name=change.name, after=change.after, before=change.before
        ),
        Change.CANCELLED: gettext("{where}: cancelled. {why}")
        .format(where=where, why=cancelled_words(change.after))
        .rstrip(),
        Change.NEW: gettext("{where}: new").format(where=where),
        Change.GONE: gettext("{where}: no more").format(where=where),
    }
    return words[change.what]
