"""What is wrong on the plan of a site, in words, and what to do about it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from django.utils.translation import gettext, gettext_noop

from care.facts import Conflict
from care.planning.layout_check import BRANCH_TO_WIRE_M, UNDER_LINES_M
from care.views.plan_words import Names

TITLES = {
    "near_wires": gettext_noop("Too near wires"),
    "near_septic": gettext_noop("Too near a septic field"),
    "in_water": gettext_noop("In water"),
    "outside_boundary": gettext_noop("Outside the boundary"),
    "below_minimum": gettext_noop("Closer than the least"),
    "near_building": gettext_noop("Too near a building"),
    "near_pipe": gettext_noop("Too near a pipe or cable"),
    "near_wall": gettext_noop("Near a wall"),
    "shading": gettext_noop("Short of sun"),
    "below_recommended": gettext_noop("Closer than usual"),
    "within_setback": gettext_noop("Too near water to be fed"),
    "hedge_without_limit": gettext_noop("Close, with no height declared"),
    "near_paving": gettext_noop("Near paving"),
    "crowns_meet": gettext_noop("Crowns that meet"),
}


@dataclass(frozen=True, slots=True)
class Told:
    """What is wrong, and what to do about it: the same words for all of its sort."""

    what: str
    do: str


def conflict_words(conflict: Conflict, names: Names) -> Told:
    """Return one conflict as a sentence and what to do."""
    return _SAID[conflict.code](conflict, names)


def _pair(conflict: Conflict, names: Names) -> tuple[str, str, str, str]:
    return (
        names.of[conflict.who],
        names.of.get(conflict.whom, ""),
        names.metres(conflict.distance_m),
        names.metres(conflict.least_m),
    )


def _from(do: str) -> Callable[[Conflict, Names], Told]:
    """Return the telling of a distance that is too small, with what to do."""

    def tell(conflict: Conflict, names: Names) -> Told:
        who, whom, distance, least = _pair(conflict, names)
        return Told(
            gettext("{who} stands {distance} from {whom}: keep {least}.").format(
                who=who, distance=distance, whom=whom, least=least
            ),
            gettext(do),
        )

    return tell


def _near_wires(conflict: Conflict, names: Names) -> Told:
    who, whom, distance, least = _pair(conflict, names)
    low = names.metres(UNDER_LINES_M)
    near = names.metres(BRANCH_TO_WIRE_M)
    return Told(
        gettext("{who} stands {distance} from {whom}: keep {least}.").format(
            who=who, distance=distance, whom=whom, least=least
        ),
        gettext(
            "Stop: within {near} of wires nobody prunes, picks or carries a "
            "tool. Ask the utility for what stands there already. For a new "
            "tree choose a place farther away, or a kind that stays below "
            "{low} and clear of the wires."
        ).format(near=near, low=low),
    )


def _in_water(conflict: Conflict, names: Names) -> Told:
    who, whom, _, _ = _pair(conflict, names)
    return Told(
        gettext("{who} stands in {whom}.").format(who=who, whom=whom),
        gettext("Measure again, or choose another place."),
    )


def _outside(conflict: Conflict, names: Names) -> Told:
    who, _, distance, _ = _pair(conflict, names)
    return Told(
        gettext("{who} stands {distance} outside the boundary.").format(
            who=who, distance=distance
        ),
        gettext(
            "Measure again, or draw the boundary anew. A tree beyond it that is not yours "
            "can be written down as a neighbour's."
        ),
    )


def _below_minimum(conflict: Conflict, names: Names) -> Told:
    who, whom, distance, least = _pair(conflict, names)
    if {conflict.who, conflict.whom} & names.pots:
        return Told(
            gettext(
                "{who} and {whom} stand in one spot: {distance} from middle to middle."
            ).format(who=who, whom=whom, distance=distance),
            gettext("Measure again, or move the pot."),
        )
    return Told(
        gettext(
            "{who} and {whom} stand {distance} apart. The least for the two is {least}."
        ).format(who=who, whom=whom, distance=distance, least=least),
        gettext(
            "Choose another place for one of them. If they are a hedge or share a hole on "
            "purpose, say so on their pages, with the height they are kept at."
        ),
    )


def _below_recommended(conflict: Conflict, names: Names) -> Told:
    who, whom, distance, least = _pair(conflict, names)
    return Told(
        gettext(
            "{who} and {whom} stand {distance} apart. Usual for the two is {least}."
        ).format(who=who, whom=whom, distance=distance, least=least),
        gettext(
            "That works where both are kept small by pruning or by a dwarfing rootstock; "
            "else give them more room."
        ),
    )


def _crowns_meet(conflict: Conflict, names: Names) -> Told:
    who, whom, distance, least = _pair(conflict, names)
    if {conflict.who, conflict.whom} & names.pots:
        return Told(
            gettext(
                "The crowns of {who} and {whom} touch: {distance} apart, together "
                "{least} wide to each side."
            ).format(who=who, whom=whom, distance=distance, least=least),
            gettext("Move the pot a little, so that both get light and air."),
        )
    return Told(
        gettext(
            "Grown, the crowns of {who} and {whom} meet: {distance} apart, and "
            "{least} would keep them clear."
        ).format(who=who, whom=whom, distance=distance, least=least),
        gettext("Prune them apart, or give them a little more room."),
    )


def _shading(conflict: Conflict, names: Names) -> Told:
    who, whom, _, _ = _pair(conflict, names)
    hours = round(conflict.sun_hours or 0.0)
    return Told(
        gettext(
            "{who} gets about {hours} hours of sun on a clear day; {whom} "
            "takes most of the rest once all is grown."
        ).format(who=who, hours=hours, whom=whom),
        gettext(
            "Most fruit needs six to eight hours. Choose a sunnier place, keep the other "
            "lower, or grow something that bears shade there."
        ),
    )


def _within_setback(conflict: Conflict, names: Names) -> Told:
    who, whom, distance, least = _pair(conflict, names)
    return Told(
        gettext(
            "{who} stands {distance} from {whom}. Your local rule forbids "
            "feeding within {least}."
        ).format(who=who, distance=distance, whom=whom, least=least),
        gettext("It may stand there, but cannot be fed."),
    )


def _hedge(conflict: Conflict, names: Names) -> Told:
    _, whom, _, _ = _pair(conflict, names)
    return Told(
        gettext("{whom}: its plants stand close, and no height is declared.").format(
            whom=whom
        ),
        gettext(
            "Close is fine for a hedge or a clump that is kept low. Say how high, on the "
            "page of one of its plants."
        ),
    )


_SAID: Mapping[str, Callable[[Conflict, Names], Told]] = {
    "near_wires": _near_wires,
    "near_septic": _from(
        gettext_noop(
            "Roots clog drain pipes. Choose another place; do not dig on a drain field."
        )
    ),
    "in_water": _in_water,
    "outside_boundary": _outside,
    "below_minimum": _below_minimum,
    "near_building": _from(
        gettext_noop(
            "Roots and a leaning crown need that room, and so does a ladder. Choose another "
            "place, or keep it small in a pot."
        )
    ),
    "near_pipe": _from(
        gettext_noop(
            "Roots get in at joints, and digging may hit it. Have it marked by the locate "
            "service before anybody digs; choose another place."
        )
    ),
    "near_wall": _from(
        gettext_noop(
            "If it is trained flat on the wall, that is the way of it. Else give it room."
        )
    ),
    "shading": _shading,
    "below_recommended": _below_recommended,
    "within_setback": _within_setback,
    "hedge_without_limit": _hedge,
    "near_paving": _from(
        gettext_noop("Roots lift paving in time. Give it more room if you can.")
    ),
    "crowns_meet": _crowns_meet,
}
