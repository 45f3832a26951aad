"""Places of shifts in words: why somebody may not take one, and what there is to say."""

from collections.abc import Iterable
from fractions import Fraction

from care.actions.place_changes import Trouble
from care.planning.place_rules import Against, Stop

STOP_WORDS: dict[Stop | Trouble, str] = {
    Stop.NOT_MEMBER: "They are not among those who may help in this orchard now.",
    Stop.NOT_ON: "This shift does not take place as it stands.",
    Stop.OVER: "This shift has begun or is over, so its places stay as they are.",
    Stop.OFFERED_TO_ANOTHER: "Somebody else is asked for cover here.",
    Stop.FOR_A_SWAP: "This place is offered for a swap, not for cover.",
    Stop.SAME_DAY: "There is a shift that day already: one a day is enough.",
    Stop.NO_SKILL: "This place asks for a skill that a coordinator has not confirmed.",
    Stop.UNDER_18_HAZARD: "Nobody under 18 is on a shift with a ladder, a saw or a spray.",
    Stop.UNDER_18_COUNTED: "Young helpers come along to learn, on a learner's place.",
    Stop.UNDER_18_TWO: (
        "A young helper needs two grown-ups on the shift, one of them a mentor of theirs."
    ),
    Stop.LEARNER_COUNTED: "Learners take a learner's place: they come on top.",
    Stop.NO_MENTOR: "None of the learner's mentors is on this shift.",
    Stop.NOT_LEARNER: "This place is for somebody who learns.",
    Trouble.QUICKER: "Somebody was quicker: this place is taken.",
    Trouble.NOT_YOURS: "This place is not yours, so it stays as it is.",
    Trouble.NOT_OFFERED: "Nobody asks you for this place any more.",
    Trouble.NO_SWAP: "That swap is not asked for any more. Nothing was changed.",
    Trouble.NOT_YET: "The shift is not over yet. Come back when it is.",
    Trouble.ONESELF: "Somebody else says who was there: this place is your own.",
    Trouble.NOBODY_THERE: "Nobody held this place, so there is nothing to write down.",
}

#: Said to the one who takes a place: it is theirs all the same.
AGAINST_WORDS = {
    Against.DAY_NOT_OFFERED: "you did not offer this day",
    Against.WEEK_FULL: "it is more than you wanted in one week",
    Against.SEASON_FULL: "it is more than you wanted this season",
}
HALVES = {0: "", 1: "½"}


def stop_words(codes: Iterable[Stop | Trouble]) -> str:
    """Return why a place cannot change so, in sentences."""
    return " ".join(STOP_WORDS[code] for code in codes)


def against_words(codes: Iterable[Against]) -> str:
    """Return what speaks against a place, such as "Note: you did not offer this day."."""
    found = [AGAINST_WORDS[code] for code in codes]
    return f"Note: {' and '.join(found)}." if found else ""


def count_words(number: Fraction) -> str:
    """Return a number of shifts to the half: "4½"."""
    halves = round(number * 2)
    whole, half = divmod(halves, 2)
    return f"{whole or ('' if half else 0)}{HALVES[half]}"


def share_words(done: Fraction, fair: Fraction | None) -> str:
    """Return what one did of a fair share: "You: 4 of about 5 this season."."""
    if fair is None:
        shifts = "shift" if done == 1 else "shifts"
        return f"You: {count_words(done)} {shifts} this season."
    return f"You: {count_words(done)} of about {max(round(fair), 1)} this season."
