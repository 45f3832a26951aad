"""A proposal as a page tells it: its sentence and numbers, for one reader."""

from datetime import date

from care.models import Task
from care.planning.reconcile import reason_values
from care.proposals import Proposal
from care.views.reason_words import Teller
from care.views.reasons import NUMBERS, SENTENCES
from care.views.wording import NOUNS, ROW_VERBS, TITLES, reason_of
from orchard.units import UnitSystem


def told(proposal: Proposal, today: date, units: UnitSystem) -> str:
    """Return the sentence; every word and number that it needs must be there."""
    task = Task(kind=proposal.kind, action=proposal.action)
    task.reason = reason_values(proposal)
    teller = Teller(reason_of(task), task, today, units)
    numbers = NUMBERS.get(proposal.reason.code)
    assert numbers is None or all(one.amount for one in numbers(teller))
    assert (proposal.kind, proposal.action) in TITLES
    assert (proposal.kind, proposal.action) in ROW_VERBS
    assert proposal.kind in NOUNS
    sentence = SENTENCES[proposal.reason.code](teller)
    assert "unknown amount" not in sentence
    assert "unknown day" not in sentence
    assert sentence.endswith(".")
    return sentence
