"""The rota in words: why a place is open and what would help, how much each does."""

from collections.abc import Iterable, Mapping

from care.planning.place_rules import Against
from care.planning.rota_changes import Change, RotaChange
from care.planning.rota_plan import PersonLoad, Why
from care.scheduling.rota import Stops
from care.views.days import full_day
from care.views.place_words import count_words
from orchard.models import Skill, is_hazard_skill, skill_words

MOST_NAMED = 4
Names = Mapping[int, str]

WITH_SKILL = {
    Skill.LADDER: "who may use ladders",
    Skill.SAW: "who may use saws",
    Skill.SPRAY: "who may spray",
    Skill.FIRST_AID: "with first aid",
}
#: What speaks against somebody, said beside their name.
AGAINST = {
    Against.DAY_NOT_OFFERED: "did not offer this day",
    Against.WEEK_FULL: "has enough shifts that week",
    Against.SEASON_FULL: "has enough shifts this season",
}
WISHES = {-1: "would rather not", 0: "can come", 1: "gladly"}


def why_words(why: Why, names: Names) -> tuple[str, ...]:
    """Return why a place is open, in sentences, the cheapest cure first."""
    day = full_day(why.shift.day)
    found = [
        _free(why, names),
        _skill(why, names, day),
        _enough(why, names, Stops.WEEK_FULL, "that week"),
        _enough(why, names, Stops.SEASON_FULL, "this season"),
        _nobody(why, day),
        _same_day(why, names),
        _said_no(why, names),
        _all_busy(why),
    ]
    return tuple(words for words in found if words)


def short_why(why: Why, names: Names) -> str:
    """Return the first of those sentences."""
    return next(iter(why_words(why, names)), "")


def name_list(people: Iterable[int], names: Names, last: str = "and") -> str:
    """Return such as "Ana, Ben and Cleo"; of many the first, and how many more."""
    known = [names[person] for person in people if person in names]
    rest = len(known) - MOST_NAMED
    if rest > 1:
        known = [*known[:MOST_NAMED], f"{rest} others"]
    return f" {last} ".join(filter(None, [", ".join(known[:-1]), *known[-1:]]))


def _free(why: Why, names: Names) -> str:
    if not why.free:
        return ""
    who = name_list(why.free, names, "or")
    return f"{who} could come, and nothing stands in the way: ask them."


def _skill(why: Why, names: Names, day: str) -> str:
    """Return the want of a skill, and both ways round it."""
    skill = why.place.skill
    if not skill or why.free or why.known.stopped:
        return ""
    nobody = f"Nobody {with_skill(skill)} offered {day}."
    ask = name_list(why.known.skill_without_day, names, "or")
    ways = []
    if why.known.day_without_skill:
        number = _people(len(why.known.day_without_skill))
        ways.append(f"{number} offered the day: {_without(skill)}")
    if ask:
        verb = "has" if len(why.known.skill_without_day) == 1 else "have"
        ways.append(f"ask {ask} (who {verb} the skill)")
    if not why.skilled:
        ways.append("ask a coordinator whose skill can be confirmed")
    cure = "; or ".join(ways)
    return f"{nobody} {cure[:1].upper()}{cure[1:]}." if cure else nobody


def with_skill(skill: str) -> str:
    """Return a skill behind "nobody", such as "with first aid"."""
    if skill in WITH_SKILL:
        return WITH_SKILL[Skill(skill)]
    return f"with the skill {skill_words(skill)}"


def _without(skill: str) -> str:
    if is_hazard_skill(skill):
        return "leave that work out of the shift, so that nobody needs the skill"
    return "let this place ask for no skill"


def _enough(why: Why, names: Names, stop: Stops, when: str) -> str:
    people = [person for person, what in why.known.stopped if what is stop]
    if not people:
        return ""
    who = name_list(people, names)
    verb = "has" if len(people) == 1 else "have"
    return f"{who} offered the day but {verb} enough shifts {when}: ask for one more."


def _nobody(why: Why, day: str) -> str:
    if why.offered:
        return ""
    words = f"Nobody offered {day}."
    if why.better_day is None:
        return f"{words} Ask people which days suit them."
    better, number = why.better_day
    return (
        f"{words} {_people(number)} offered {full_day(better)}: move the shift there."
    )


def _same_day(why: Why, names: Names) -> str:
    people = [p for p, what in why.known.stopped if what is Stops.SAME_DAY]
    if not people:
        return ""
    verb = "is" if len(people) == 1 else "are"
    return f"{name_list(people, names)} {verb} on a shift that day already."


def _said_no(why: Why, names: Names) -> str:
    if not why.known.said_no:
        return ""
    return f"{name_list(why.known.said_no, names)} said no to this shift."


def _all_busy(why: Why) -> str:
    """Return that no hand-over helps, where the search for one ended nowhere."""
    if why.free or not why.known.busy_places:
        return ""
    people, places = why.known.busy_people, why.known.busy_places
    noun = "place" if places == 1 else "places"
    return (
        f"{_people(people)} who could be asked hold {places} {noun} already; handing "
        "those on frees nobody for this one."
    )


def _people(number: int) -> str:
    return "1 person" if number == 1 else f"{number} people"


def load_words(load: PersonLoad) -> str:
    """Return such as "4 of about 5"."""
    done = count_words(load.done)
    return done if load.fair is None else f"{done} of about {max(round(load.fair), 1)}"


def against_words(codes: Iterable[Against]) -> list[str]:
    """Return what speaks against somebody for a place, said beside their name."""
    return [AGAINST[one] for one in codes]


def candidate_words(name: str, wish: int | None, against: Iterable[str]) -> str:
    """Return somebody to choose for a place, with what they said of it."""
    said = list(against)
    if wish is not None:
        said.insert(0, WISHES[wish])
    return f"{name}: {', '.join(said)}" if said else name


def change_words(change: RotaChange) -> str:
    """Return one change since the last publication."""
    where = f"{full_day(change.day)}, {change.name}"
    if change.what is Change.HOLDER:
        after = change.after or "nobody"
        before = change.before or "nobody"
        return f"{where}: {after} instead of {before}"
    words = {
        Change.MOVED: f"{change.name}: {change.after} instead of {change.before}",
        Change.CANCELLED: f"{where}: cancelled. {change.after}".rstrip(),
        Change.NEW: f"{where}: new",
        Change.GONE: f"{where}: no more",
    }
    return words[change.what]
