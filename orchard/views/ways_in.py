"""How to get in: gate, key, tap, whom to call; everybody reads, coordinators write."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from orchard.access import May
from orchard.actions.ways_in import (
    MOST_CONTACTS,
    WAY_IN_FIELDS,
    WayInError,
    add_contact,
    change_contact,
    remove_contact,
    write_way_in,
)
from orchard.forms.ways_in import ContactForm, WayInForm
from orchard.models import EmergencyContact, WayIn
from orchard.views.site_page import SitePage, let_in
from orchard.views.ways_in_words import EMERGENCY_FIRST, way_in_of


@require_safe
@login_required
def ways_in(request: HttpRequest, site: str) -> HttpResponse:
    """Show how to get in and whom to call."""
    page = let_in(request, site, page="more")
    shown = way_in_of(page.site, with_key=page.may_tick)
    context = page.context(
        shown=shown,
        emergency_first=EMERGENCY_FIRST,
        may_add=len(shown.contacts) < MOST_CONTACTS,
    )
    return render(request, "orchard/ways_in.html", context)


@require_http_methods(["GET", "POST"])
@login_required
def way_in_edit(request: HttpRequest, site: str) -> HttpResponse:
    """Write how to get in."""
    page = let_in(request, site, May.ARRANGE, page="more")
    row = WayIn.objects.filter(site=page.site).first() or WayIn(site=page.site)
    data = request.POST if request.method == "POST" else None
    initial = {name: getattr(row, name) for name in WAY_IN_FIELDS}
    form = WayInForm(data, initial=initial)
    if data is not None and form.is_valid():
        is_news = write_way_in(
            by=page.membership, site=page.site, values=form.cleaned_data, now=page.now
        )
        messages.success(
            request, gettext("Kept.") if is_news else gettext("Nothing was changed.")
        )
        return redirect("ways_in", page.site.slug)
    status = 422 if form.is_bound else 200
    context = page.context(form=form)
    return render(request, "orchard/way_in_edit.html", context, status=status)


@require_http_methods(["GET", "POST"])
@login_required
def contact_add(request: HttpRequest, site: str) -> HttpResponse:
    """Write down somebody to call."""
    page = let_in(request, site, May.ARRANGE, page="more")
    data = request.POST if request.method == "POST" else None
    form = ContactForm(data)
    if data is not None and form.is_valid():
        try:
            contact = add_contact(
                by=page.membership,
                site=page.site,
                values=form.cleaned_data,
                now=page.now,
            )
        except WayInError as error:
            form.add_error(None, str(error))
        else:
            messages.success(
                request, gettext("{name} is written down.").format(name=contact.name)
            )
            return redirect("ways_in", page.site.slug)
    return _show_contact(request, page, form)


@require_http_methods(["GET", "POST"])
@login_required
def contact_edit(request: HttpRequest, site: str, contact: int) -> HttpResponse:
    """Change whom to call."""
    page = let_in(request, site, May.ARRANGE, page="more")
    row = _contact(page, contact)
    data = request.POST if request.method == "POST" else None
    initial = {"name": row.name, "phone": row.phone, "note": row.note}
    form = ContactForm(data, initial=initial)
    if data is not None and form.is_valid():
        change_contact(
            by=page.membership, contact=row, values=form.cleaned_data, now=page.now
        )
        messages.success(request, gettext("{name} is kept.").format(name=row.name))
        return redirect("ways_in", page.site.slug)
    return _show_contact(request, page, form, row)


@require_POST
@login_required
def contact_remove(request: HttpRequest, site: str, contact: int) -> HttpResponse:
    """Strike off whom to call."""
    page = let_in(request, site, May.ARRANGE)
    row = _contact(page, contact)
    name = row.name
    remove_contact(by=page.membership, contact=row, now=page.now)
    messages.success(request, gettext("{name} is struck off.").format(name=name))
    return redirect("ways_in", page.site.slug)


def _contact(page: SitePage, pk: int) -> EmergencyContact:
    rows = page.site.emergency_contacts.select_related("site__orchard")
    return get_object_or_404(rows, pk=pk)


def _show_contact(
    request: HttpRequest,
    page: SitePage,
    form: ContactForm,
    row: EmergencyContact | None = None,
) -> HttpResponse:
    status = 422 if form.is_bound else 200
    context = page.context(form=form, contact=row)
    return render(request, "orchard/contact.html", context, status=status)
