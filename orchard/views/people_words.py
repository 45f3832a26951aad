"""Roles, sign-ins and invitations in words."""

from datetime import datetime, timedelta

from orchard.actions.invites import InviteState
from orchard.models import Invite, Person, Role

ROLE_MEANS = {
    Role.OWNER: "does everything, and decides on roles, local rules and deletion",
    Role.COORDINATOR: "changes trees, weather and settings, and invites people",
    Role.GROWER: "ticks work, writes down what they see",
    Role.VIEWER: "reads everything, changes nothing",
}
ROLE_ORDER = {role: number for number, role in enumerate(Role.values)}

_LATELY = (
    (timedelta(days=1), "signed in within the last day"),
    (timedelta(days=7), "signed in within the last week"),
    (timedelta(days=31), "signed in within the last month"),
)


def role_words(role: str) -> str:
    """Return a role and what it means, such as "Viewer: reads everything, …"."""
    return f"{Role(role).label}: {ROLE_MEANS[Role(role)]}"


def a_role(role: str) -> str:
    """Return a role as one says it: "a Grower", "an Owner"."""
    label = Role(role).label
    return f"{'an' if label[0] in 'AEIOU' else 'a'} {label}"


def role_choices(roles: tuple[str, ...]) -> list[tuple[str, str]]:
    """Return roles to choose from, each with what it means."""
    return [(role, role_words(role)) for role in roles]


def seen_words(last_login: datetime | None, now: datetime) -> str:
    """Return loosely when somebody last signed in; nobody is watched by the minute."""
    if last_login is None:
        return "has not signed in yet"
    for span, words in _LATELY:
        if now - last_login < span:
            return words
    return f"last signed in in {last_login:%B %Y}"


def invite_words(invite: Invite, state: InviteState) -> str:
    """Return what became of an invitation, and when."""
    if state is InviteState.USED:
        return f"{name_of(invite.used_by)} joined with it on {_day(invite.used_at)}"
    if state is InviteState.REVOKED:
        return f"closed on {_day(invite.revoked_at)}, not used"
    if state is InviteState.EXPIRED:
        return f"ran out on {_day(invite.expires_at)}, not used"
    return f"not used yet; works until {_day(invite.expires_at)}"


def name_of(person: Person | None) -> str:
    """Return a person's name, or what stands for somebody whose account is gone."""
    return person.shown_name if person else "somebody who has gone"


def _day(moment: datetime | None) -> str:
    return f"{moment:%-d %B %Y}" if moment else ""
