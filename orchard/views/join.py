"""The page behind an invitation: looking uses nothing up, only pressing joins."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from orchard.actions.invites import InviteState, accept_invite, find_invite, state_of
from orchard.forms.accounts import INVITE_IN_SESSION
from orchard.models import Invite, Membership, Orchard, Person, Role
from orchard.views.guess_limit import count_guess, may_guess
from orchard.views.people_words import ROLE_MEANS, a_role

TOO_MANY = gettext_noop(
    "Too many invitations that do not exist. Wait a minute, then try again."
)
CLOSED = {
    None: gettext_noop(
        "There is no such invitation. Look whether the whole address was copied."
    ),
    InviteState.USED: gettext_noop("It was used already; each works once."),
    InviteState.REVOKED: gettext_noop("Whoever made it has closed it."),
    InviteState.EXPIRED: gettext_noop("It is more than a week old."),
}


@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def join(request: HttpRequest, invitation: str) -> HttpResponse:
    """Say who invites to what (GET); join and use the invitation up (POST)."""
    if not may_guess(request):
        return _closed(request, TOO_MANY, status=429)
    invite = find_invite(invitation)
    if invite is None:
        count_guess(request)
        return _closed(request, CLOSED[None])
    person = request.user if isinstance(request.user, Person) else None
    state = state_of(invite, timezone.now())
    membership = _membership(person, invite.orchard)
    if membership:
        return _member_already(request, membership, state)
    if state is not InviteState.OPEN:
        return _closed(request, CLOSED[state])
    return _open(request, invite, invitation, person)


def _open(
    request: HttpRequest, invite: Invite, invitation: str, person: Person | None
) -> HttpResponse:
    if person is None:
        return _ask_who(request, invite, invitation)
    if request.method == "POST":
        return _join(request, invitation, person)
    return render(request, "orchard/join.html", _offer(invite))


def _membership(person: Person | None, orchard: Orchard) -> Membership | None:
    if person is None:
        return None
    found = Membership.objects.filter(person=person, orchard=orchard)
    return found.select_related("orchard").first()


def _offer(invite: Invite) -> dict[str, object]:
    role = Role(invite.role)
    return {
        "state": "open",
        "orchard": invite.orchard.name,
        "role": a_role(role),
        "role_means": gettext(ROLE_MEANS[role]),
        "inviter": invite.made_by.shown_name if invite.made_by else "",
        "expires_at": invite.expires_at,
    }


def _ask_who(request: HttpRequest, invite: Invite, invitation: str) -> HttpResponse:
    """Let a stranger sign in or make an account, and come back here."""
    here = reverse("join", args=[invitation])
    if request.method == "POST":
        return redirect(reverse("account_login", query={"next": here}))
    request.session[INVITE_IN_SESSION] = invite.token_hash
    context = _offer(invite) | {
        "state": "who",
        "login_address": reverse("account_login", query={"next": here}),
        "signup_address": reverse("account_signup", query={"next": here}),
    }
    return render(request, "orchard/join.html", context)


def _member_already(
    request: HttpRequest, membership: Membership, state: InviteState
) -> HttpResponse:
    context: dict[str, object] = {
        "state": "member",
        "orchard": membership.orchard.name,
        "role": a_role(membership.role),
        "home": _home_of(membership.orchard),
        "is_unused": state is InviteState.OPEN,
    }
    return render(request, "orchard/join.html", context)


def _join(request: HttpRequest, invitation: str, person: Person) -> HttpResponse:
    joining = accept_invite(token=invitation, person=person, now=timezone.now())
    if joining is None:  # somebody else was faster
        return _closed(request, gettext(CLOSED[InviteState.USED]))
    request.session.pop(INVITE_IN_SESSION, None)
    orchard, role = joining.membership.orchard, joining.membership.role
    messages.success(
        request,
        gettext("You belong to {name} now, as {role}.").format(
            name=orchard.name, role=a_role(role)
        ),
    )
    return redirect(_home_of(orchard))


def _home_of(orchard: Orchard) -> str:
    site = orchard.sites.first()
    return reverse("round", args=[site.slug]) if site else reverse("home")


def _closed(request: HttpRequest, why: str, *, status: int = 410) -> HttpResponse:
    context = {"state": "closed", "why": why}
    return render(request, "orchard/join.html", context, status=status)
