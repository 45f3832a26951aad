"""Why a place is open, in words, the cheapest cure first."""

from datetime import date
from types import SimpleNamespace

import pytest

from care.planning.rota_changes import Change, RotaChange
from care.planning.rota_plan import Why
from care.scheduling.rota import OpenPlace, Stops
from care.views.rota_words import change_words, name_list, why_words

DAY = date(2025, 6, 14)
NAMES = {1: "Ana", 2: "Per", 3: "Cleo", 4: "Dai", 5: "Eli", 6: "Fay"}


def why(skill="", *, free=(), offered=(), skilled=(), better=None, **known):
    facts = {
        "stopped": (),
        "busy_people": 0,
        "busy_places": 0,
        "skill_without_day": (),
        "day_without_skill": (),
        "said_no": (),
        **known,
    }
    return Why(
        place=SimpleNamespace(skill=skill),
        shift=SimpleNamespace(day=DAY),
        known=OpenPlace("1", **facts),
        free=free,
        offered=offered,
        skilled=skilled,
        better_day=better,
    )


CASES = [
    (
        why(
            "first_aid",
            offered=(3, 4, 5),
            skilled=(1, 2),
            skill_without_day=(1, 2),
            day_without_skill=(3, 4, 5),
        ),
        [
            "Nobody with first aid offered Saturday 14 June. 3 people offered the day: "
            "let this place ask for no skill; or ask Ana or Per (who have the skill)."
        ],
    ),
    (
        why("saw", offered=(3,), day_without_skill=(3,)),
        [
            "Nobody who may use saws offered Saturday 14 June. 1 person offered the "
            "day: leave that work out of the shift, so that nobody needs the skill; or "
            "ask a coordinator whose skill can be confirmed."
        ],
    ),
    (
        why("grafting", skilled=(1,), skill_without_day=(1,)),
        [
            "Nobody with the skill Grafting offered Saturday 14 June. Ask Ana (who has "
            "the skill).",
            "Nobody offered Saturday 14 June. Ask people which days suit them.",
        ],
    ),
    (
        why(better=(date(2025, 6, 15), 4)),
        [
            "Nobody offered Saturday 14 June. 4 people offered Sunday 15 June: move the "
            "shift there."
        ],
    ),
    (
        why(
            offered=(1, 2, 3, 4),
            stopped=(
                (1, Stops.SAME_DAY),
                (2, Stops.WEEK_FULL),
                (3, Stops.SEASON_FULL),
            ),
            said_no=(4,),
            busy_people=3,
            busy_places=2,
        ),
        [
            "Per offered the day but has enough shifts that week: ask for one more.",
            "Cleo offered the day but has enough shifts this season: ask for one more.",
            "Ana is on a shift that day already.",
            "Dai said no to this shift.",
            "3 people who could be asked hold 2 places already; handing those on frees "
            "nobody for this one.",
        ],
    ),
    (
        why(free=(1, 2), offered=(1, 2)),
        ["Ana or Per could come, and nothing stands in the way: ask them."],
    ),
]


@pytest.mark.parametrize(("known", "words"), CASES)
def test_the_cheapest_cure_comes_first(known, words):
    assert list(why_words(known, NAMES)) == words


def test_of_many_names_a_few_are_said():
    assert name_list([1, 2, 3, 4, 5], NAMES) == "Ana, Per, Cleo, Dai and Eli"
    assert name_list(range(1, 7), NAMES) == "Ana, Per, Cleo, Dai and 2 others"


def test_changes_say_who_which_and_when():
    said = [
        change_words(RotaChange(what, "Watering", DAY, "Ana", "Per")) for what in Change
    ]
    assert said == [
        "Saturday 14 June, Watering: Per instead of Ana",
        "Watering: Per instead of Ana",
        "Saturday 14 June, Watering: cancelled. Per",
        "Saturday 14 June, Watering: new",
        "Saturday 14 June, Watering: no more",
    ]
