"""What is said about a proposed place, and where there is none, why."""

from django.utils.translation import gettext, gettext_noop

from care.facts import LayoutFacts
from care.planning.partners import WANTING
from care.planning.placing import MOST_TREES, PlacingPlan, Proposal, WhyNot
from care.views.partner_words import partner_words
from orchard.languages import either
from orchard.units import UnitSystem, format_quantity

_WHY_NOT = {
    WhyNot.NOTHING_MARKED: gettext_noop(
        "Nothing on the plan says where trees may stand."
    ),
    WhyNot.NO_ROOM: gettext_noop(
        "What lies on the plan leaves no room for it: walls, wires, pipes "
        "and the boundary together."
    ),
    WhyNot.TAKEN: gettext_noop(
        "The others take the room it needs. Leave one out, or try again."
    ),
    WhyNot.TOO_MANY: gettext_noop(
        "No more than {most} trees are placed in one go. Keep some places first."
    ),
}


def why_not_words(proposal: Proposal, layout: LayoutFacts) -> str:
    """Return why a tree got no place; empty where it got one."""
    if proposal.why_not is None:
        return ""
    if proposal.why_not is not WhyNot.KEPT_OFF:
        return gettext(_WHY_NOT[proposal.why_not]).format(most=MOST_TREES)
    names = {f"feature-{each.id}": each.name for each in layout.features}
    kept_by = either([names[ref] for ref in proposal.whom])
    return gettext("It would stand too near to {kept_by} wherever it stood.").format(
        kept_by=kept_by
    )


def closeness_words(proposal: Proposal, layout: LayoutFacts, units: UnitSystem) -> str:
    """Return what a tree stands too close to, empty where it has its room."""
    if not proposal.is_close or proposal.distance_m is None:
        return ""
    names = {plant.ref: plant.name for plant in layout.plants}
    distance = format_quantity(proposal.distance_m, "m", units)
    better = format_quantity(proposal.recommended_m or 0.0, "m", units)
    return gettext(
        "{distance} from {name}; {better} is recommended, so both need more pruning."
    ).format(distance=distance, name=names[proposal.nearest], better=better)


def partner_line(proposal: Proposal, plan: PlacingPlan, units: UnitSystem) -> str:
    """Return what a tree's flowers would lack there, empty where nothing."""
    return next(
        (
            partner_words(row, units)
            for row in plan.partners
            if row.plant == proposal.ref and row.verdict in WANTING
        ),
        "",
    )
