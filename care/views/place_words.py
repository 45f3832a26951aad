"""Places of shifts in words: why somebody may not take one, and what there is to say."""

from collections.abc import Iterable
from fractions import Fraction

from django.utils.translation import gettext, gettext_noop, ngettext

from care.actions.place_changes import Trouble
from care.planning.place_rules import Against, Stop
from orchard.languages import listed

STOP_WORDS: dict[Stop | Trouble, str] = {
    Stop.NOT_MEMBER: gettext_noop(
        "They are not among those who may help in this orchard now."
    ),
    Stop.NOT_ON: gettext_noop("This shift does not take place as it stands."),
    Stop.OVER: gettext_noop(
        "This shift has begun or is over, so its places stay as they are."
    ),
    Stop.OFFERED_TO_ANOTHER: gettext_noop("Somebody else is asked for cover here."),
    Stop.FOR_A_SWAP: gettext_noop("This place is offered for a swap, not for cover."),
    Stop.SAME_DAY: gettext_noop(
        "There is a shift that day already: one a day is enough."
    ),
    Stop.NO_SKILL: gettext_noop(
        "This place asks for a skill that a coordinator has not confirmed."
    ),
    Stop.UNDER_18_HAZARD: gettext_noop(
        "Nobody under 18 is on a shift with a ladder, a saw or a spray."
    ),
    Stop.UNDER_18_COUNTED: gettext_noop(
        "Young helpers come along to learn, on a learner's place."
    ),
    Stop.UNDER_18_TWO: (
        gettext_noop(
            "A young helper needs two grown-ups on the shift, one of them a mentor of theirs."
        )
    ),
    Stop.LEARNER_COUNTED: gettext_noop(
        "Learners take a learner's place: they come on top."
    ),
    Stop.NO_MENTOR: gettext_noop("None of the learner's mentors is on this shift."),
    Stop.NOT_LEARNER: gettext_noop("This place is for somebody who learns."),
    Trouble.QUICKER: gettext_noop("Somebody was quicker: this place is taken."),
    Trouble.NOT_YOURS: gettext_noop("This place is not yours, so it stays as it is."),
    Trouble.NOT_OFFERED: gettext_noop("Nobody asks you for this place any more."),
    Trouble.NO_SWAP: gettext_noop(
        "That swap is not asked for any more. Nothing was changed."
    ),
    Trouble.NOT_YET: gettext_noop("The shift is not over yet. Come back when it is."),
    Trouble.ONESELF: gettext_noop(
        "Somebody else says who was there: this place is your own."
    ),
    Trouble.NOBODY_THERE: gettext_noop(
        "Nobody held this place, so there is nothing to write down."
    ),
}

#: Said to the one who takes a place: it is theirs all the same.
AGAINST_WORDS = {
    Against.DAY_NOT_OFFERED: gettext_noop("you did not offer this day"),
    Against.WEEK_FULL: gettext_noop("it is more than you wanted in one week"),
    Against.SEASON_FULL: gettext_noop("it is more than you wanted this season"),
}
MANY = 2
HALVES = {0: "", 1: "½"}


def stop_words(codes: Iterable[Stop | Trouble]) -> str:
    """Return why a place cannot change so, in sentences."""
    return " ".join(gettext(STOP_WORDS[code]) for code in codes)


def against_words(codes: Iterable[Against]) -> str:
    """Return what speaks against a place, such as "Note: you did not offer this day."."""
    found = [gettext(AGAINST_WORDS[code]) for code in codes]
    return gettext("Note: {words}.").format(words=listed(found)) if found else ""


def count_words(number: Fraction) -> str:
    """Return a number of shifts to the half: "4½"."""
    halves = round(number * 2)
    whole, half = divmod(halves, 2)
    return f"{whole or ('' if half else 0)}{HALVES[half]}"


def share_words(done: Fraction, fair: Fraction | None) -> str:
    """Return what one did of a fair share: "You: 4 of about 5 this season."."""
    if fair is None:
        return ngettext(
            "You: {count} shift this season.",
            "You: {count} shifts this season.",
            1 if done == 1 else MANY,
        ).format(count=count_words(done))
    return gettext("You: {count} of about {fair} this season.").format(
        count=count_words(done), fair=max(round(fair), 1)
    )
