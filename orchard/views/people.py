"""The people of an orchard: who is in it, as what, and who is on the way in."""

from collections.abc import Callable
from dataclasses import dataclass

import segno
from django.conf import settings
from django.contrib import messages
from django.contrib.auth import logout
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.db.models import Exists, OuterRef
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from orchard.access import May, invitable_roles
from orchard.actions.invites import (
    InviteState,
    address_of,
    make_invite,
    revoke_invite,
    state_of,
)
from orchard.actions.members import (
    LAST_OWNER,
    RefusedError,
    change_role,
    help_back_in,
    leave,
    remove_member,
    why_no_link,
)
from orchard.forms.people import InviteForm, PeopleListForm, RoleForm
from orchard.models import Invite, Membership, Role
from orchard.views.people_words import (
    ROLE_ORDER,
    a_role,
    invite_words,
    name_of,
    role_choices,
    role_words,
    seen_words,
)
from orchard.views.site_page import SitePage, let_in

SEARCH_FROM = 12  # fewer are found by looking
ON_A_PAGE = 100
CLOSED_SHOWN = 20
THIS_COMPUTER = ("//localhost", "//127.", "//[::1]")


@dataclass(frozen=True, slots=True)
class MemberRow:
    """One member, as the person who asks may see them."""

    pk: int
    name: str
    username: str
    role: str
    role_words: str
    is_you: bool
    seen: str
    why_no_link: str


@dataclass(frozen=True, slots=True)
class InviteRow:
    """One invitation, as somebody who may invite sees it."""

    pk: int
    note: str
    role: str
    by: str
    is_open: bool
    what: str
    may_close: bool


@dataclass(frozen=True, slots=True)
class Secret:
    """An address that is shown this once."""

    address: str
    lead: str
    square: SafeString
    is_this_computer_only: bool


@never_cache
@require_safe
@login_required
def people(request: HttpRequest, site: str) -> HttpResponse:
    """Show who belongs to the orchard, and what may be done about it."""
    return _show(request, let_in(request, site, page="more"))


def _show(
    request: HttpRequest,
    page: SitePage,
    *,
    form: InviteForm | None = None,
    secret: Secret | None = None,
) -> HttpResponse:
    everybody = list(_members(page))
    listed = PeopleListForm(request.GET)
    wanted = listed.cleaned_data if listed.is_valid() else {}
    found = _arranged(everybody, wanted.get("find", ""), wanted.get("sort", ""))
    shown = Paginator(found, ON_A_PAGE).get_page(request.GET.get("page"))
    owners = sum(each.role == Role.OWNER for each in everybody)
    roles = role_choices(invitable_roles(page.membership.role))
    context = page.context(
        shown=shown,
        rows=[_row(page, each) for each in shown],
        count=len(everybody),
        has_search=len(everybody) > SEARCH_FROM,
        listed=listed,
        query={key: value for key, value in wanted.items() if value},
        governs=page.allows(May.GOVERN),
        arranges=page.allows(May.ARRANGE),
        form=form or (InviteForm(roles=roles) if roles else None),
        invites=_invites(page),
        secret=secret,
        roles=role_choices(tuple(Role.values)),
        why_stay=(
            gettext(LAST_OWNER)
            if page.membership.role == Role.OWNER and owners == 1
            else ""
        ),
    )
    status = 422 if form and form.errors else 200
    return render(request, "orchard/people.html", context, status=status)


def _members(page: SitePage) -> list[Membership]:
    elsewhere = Membership.objects.filter(person=OuterRef("person")).exclude(
        orchard=page.membership.orchard_id
    )
    members = page.membership.orchard.memberships.select_related("person")
    return list(members.annotate(is_elsewhere=Exists(elsewhere)).order_by("id"))


def _arranged(members: list[Membership], find: str, sort: str) -> list[Membership]:
    looked_for = find.casefold().strip()
    found = [
        each
        for each in members
        if looked_for in each.person.shown_name.casefold()
        or looked_for in each.person.username.casefold()
    ]
    found.sort(key=lambda each: each.person.shown_name.casefold())
    if sort == "role":
        found.sort(key=lambda each: ROLE_ORDER[each.role])
    if sort == "seen":
        found.sort(
            key=lambda each: (
                -each.person.last_login.timestamp() if each.person.last_login else 0
            )
        )
    return found


def _row(page: SitePage, member: Membership) -> MemberRow:
    arranges = page.allows(May.ARRANGE)
    return MemberRow(
        pk=member.pk,
        name=member.person.shown_name,
        username=member.person.username if arranges else "",
        role=member.role,
        role_words=role_words(member.role),
        is_you=member.pk == page.membership.pk,
        seen=seen_words(member.person.last_login, page.now) if arranges else "",
        why_no_link=why_no_link(
            page.membership, member, getattr(member, "is_elsewhere", False)
        ),
    )


def _invites(page: SitePage) -> list[InviteRow]:
    if not page.allows(May.ARRANGE):
        return []
    rows = page.membership.orchard.invites.select_related("made_by", "used_by")
    found = [_invite_row(page, each) for each in rows[: ON_A_PAGE + CLOSED_SHOWN]]
    still_open = [row for row in found if row.is_open]
    closed = [row for row in found if not row.is_open]
    return [*still_open, *closed[:CLOSED_SHOWN]]


def _invite_row(page: SitePage, invite: Invite) -> InviteRow:
    state = state_of(invite, page.now)
    is_open = state is InviteState.OPEN
    return InviteRow(
        pk=invite.pk,
        note=invite.note,
        role=str(Role(invite.role).label),
        by=name_of(invite.made_by),
        is_open=is_open,
        what=invite_words(invite, state),
        may_close=is_open and invite.role in invitable_roles(page.membership.role),
    )


def _secret(address: str, lead: str, square_says: str) -> Secret:
    square = segno.make(address, error="m", micro=False)
    drawn = square.svg_inline(
        scale=4, omitsize=True, light="#fff", svgclass="square", title=square_says
    )
    is_here_only = any(mark in settings.BASE_URL for mark in THIS_COMPUTER)
    # The drawing is made of numbers and our own words; nothing typed is in it.
    return Secret(address, lead, mark_safe(drawn), is_here_only)  # noqa: S308


@never_cache
@require_POST
@login_required
def people_invite(request: HttpRequest, site: str) -> HttpResponse:
    """Make an invitation and show its address this once."""
    page = let_in(request, site, May.ARRANGE, page="more")
    roles = role_choices(invitable_roles(page.membership.role))
    form = InviteForm(request.POST, roles=roles)
    if not form.is_valid():
        return _show(request, page, form=form)
    note, role = form.cleaned_data["note"], form.cleaned_data["role"]
    _, token = make_invite(
        membership=page.membership, role=role, note=note, now=page.now
    )
    lead = gettext(
        "The invitation for {note} as {role}. It works once, for a week."
    ).format(note=note, role=a_role(role))
    secret = _secret(
        address_of(token), lead, gettext("The invitation, for a phone's camera")
    )
    return _show(request, page, secret=secret)


@require_POST
@login_required
def invite_revoke(request: HttpRequest, site: str, invite: int) -> HttpResponse:
    """Close an invitation that was not used."""
    page = let_in(request, site, May.ARRANGE)
    found = get_object_or_404(page.membership.orchard.invites, pk=invite)
    is_closed = revoke_invite(
        membership=page.membership, invite_id=found.pk, now=page.now
    )
    said = (
        gettext("The invitation is closed.")
        if is_closed
        else gettext("It was not open any more.")
    )
    messages.success(request, said)
    return redirect("people", page.site.slug)


@require_POST
@login_required
def people_role(request: HttpRequest, site: str, member: int) -> HttpResponse:
    """Give a member another role."""
    page = let_in(request, site, May.GOVERN)
    form = RoleForm(request.POST)
    if not form.is_valid():
        messages.error(request, gettext("Choose one of the roles."))
        return redirect("people", page.site.slug)
    role = form.cleaned_data["role"]

    def act() -> str:
        is_changed = change_role(
            by=page.membership, member_id=member, role=role, now=page.now
        )
        words = gettext("Now {role}.") if is_changed else gettext("Already {role}.")
        return words.format(role=a_role(role))

    return _do(request, page, act)


@require_POST
@login_required
def people_remove(request: HttpRequest, site: str, member: int) -> HttpResponse:
    """Take a member out of the orchard."""
    page = let_in(request, site, May.GOVERN)
    if member == page.membership.pk:
        messages.error(request, gettext("To go yourself, use “Leave” below."))
        return redirect("people", page.site.slug)

    def act() -> str:
        gone = remove_member(by=page.membership, member_id=member, now=page.now)
        return gettext(
            "{name} is out, and sees nothing of the orchard any more."
        ).format(name=gone.shown_name)

    return _do(request, page, act)


def _do(request: HttpRequest, page: SitePage, act: Callable[[], str]) -> HttpResponse:
    try:
        messages.success(request, act())
    except RefusedError as refusal:
        messages.error(request, str(refusal))
    except Membership.DoesNotExist:
        raise Http404 from None
    return redirect("people", page.site.slug)


@never_cache
@require_POST
@login_required
def people_help_in(request: HttpRequest, site: str, member: int) -> HttpResponse:
    """Make a one-time way in for a member and show it this once."""
    page = let_in(request, site, May.GOVERN, page="more")
    try:
        address = help_back_in(by=page.membership, member_id=member, now=page.now)
    except RefusedError as refusal:
        messages.error(request, str(refusal))
        return redirect("people", page.site.slug)
    except Membership.DoesNotExist:
        raise Http404 from None
    lead = gettext(
        "Hand this over yourself: it signs them in once, within ten minutes."
    )
    secret = _secret(address, lead, gettext("The way in, for a phone's camera"))
    return _show(request, page, secret=secret)


@require_POST
@login_required
def people_leave(request: HttpRequest, site: str) -> HttpResponse:
    """Leave the orchard."""
    page = let_in(request, site)
    orchard = page.membership.orchard.name
    try:
        is_last_orchard = leave(membership=page.membership, now=page.now)
    except RefusedError as refusal:
        messages.error(request, str(refusal))
        return redirect("people", page.site.slug)
    except Membership.DoesNotExist:
        raise Http404 from None
    if is_last_orchard:
        logout(request)
    messages.success(
        request, gettext("You have left {orchard}.").format(orchard=orchard)
    )
    return redirect("home")
