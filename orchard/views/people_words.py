"""Roles, sign-ins and invitations in words."""

from datetime import datetime, timedelta

from django.utils.translation import gettext, gettext_noop

from orchard.actions.invites import InviteState
from orchard.languages import day_of_year, month_and_year
from orchard.models import Invite, Person, Role

ROLE_MEANS = {
    Role.OWNER: gettext_noop(
        "does everything, and decides on roles, local rules and deletion"
    ),
    Role.COORDINATOR: gettext_noop(
        "changes trees, weather and settings, and invites people"
    ),
    Role.GROWER: gettext_noop("ticks work, writes down what they see"),
    Role.VIEWER: gettext_noop("reads everything, changes nothing"),
}
_A_ROLE = {
    Role.OWNER: gettext_noop("an Owner"),
    Role.COORDINATOR: gettext_noop("a Coordinator"),
    Role.GROWER: gettext_noop("a Grower"),
    Role.VIEWER: gettext_noop("a Viewer"),
}
ROLE_ORDER = {role: number for number, role in enumerate(Role.values)}

_LATELY = (
    (timedelta(days=1), gettext_noop("signed in within the last day")),
    (timedelta(days=7), gettext_noop("signed in within the last week")),
    (timedelta(days=31), gettext_noop("signed in within the last month")),
)


def role_words(role: str) -> str:
    """Return a role and what it means, such as "Viewer: reads everything, …"."""
    return f"{Role(role).label}: {gettext(ROLE_MEANS[Role(role)])}"


def a_role(role: str) -> str:
    """Return a role as one says it: "a Grower", "an Owner"."""
    return gettext(_A_ROLE[Role(role)])


def role_choices(roles: tuple[str, ...]) -> list[tuple[str, str]]:
    """Return roles to choose from, each with what it means."""
    return [(role, role_words(role)) for role in roles]


def seen_words(last_login: datetime | None, now: datetime) -> str:
    """Return loosely when somebody last signed in; nobody is watched by the minute."""
    if last_login is None:
        return gettext("has not signed in yet")
    for span, words in _LATELY:
        if now - last_login < span:
            return gettext(words)
    return gettext("last signed in in {month}").format(month=month_and_year(last_login))


def invite_words(invite: Invite, state: InviteState) -> str:
    """Return what became of an invitation, and when."""
    if state is InviteState.USED:
        return gettext("{name} joined with it on {day}").format(
            name=name_of(invite.used_by), day=_day(invite.used_at)
        )
    if state is InviteState.REVOKED:
        return gettext("closed on {day}, not used").format(day=_day(invite.revoked_at))
    if state is InviteState.EXPIRED:
        return gettext("ran out on {day}, not used").format(day=_day(invite.expires_at))
    return gettext("not used yet; works until {day}").format(
        day=_day(invite.expires_at)
    )


def name_of(person: Person | None) -> str:
    """Return a person's name, or what stands for somebody whose account is gone."""
    return person.shown_name if person else gettext("somebody who has gone")


def _day(moment: datetime | None) -> str:
    return day_of_year(moment) if moment else ""
