"""Photos of a tree: added, seen by day and season, described, taken back."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import require_POST, require_safe

from care.actions.photo_changes import (
    KEPT_BACK,
    describe_photo,
    put_back_photo,
    take_back_photo,
)
from care.actions.photos import keep_photos
from care.forms.photos import PhotoForm, PhotosForm, read_photos
from care.models import Photo
from care.views.log_people import name_of
from care.views.photo_files import find_photo
from care.views.photo_keeping import photo_limit
from care.views.photo_lines import (
    before_and_after,
    photo_line,
    photos_of,
    side_by_side,
)
from care.views.photo_words import tell_fates, too_large_words
from care.views.tree_sheet import find_tree
from orchard.access import May
from orchard.languages import day_and_month
from orchard.models import Tree
from orchard.views.site_page import SitePage, back_to, let_in
from orchard.views.upload_limit import UploadLimit

ON_A_PAGE = 60


@require_safe
@login_required
def tree_photos(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Show the photos of a tree by day, and the same seasons side by side."""
    page = let_in(request, site)
    found = find_tree(page, tree)
    return _show(request, page, found, PhotosForm(today=page.today))


def _show(
    request: HttpRequest,
    page: SitePage,
    tree: Tree,
    form: PhotosForm,
    status: int = 200,
) -> HttpResponse:
    photos = photos_of(page.site.pk).filter(tree=tree)
    shown = Paginator(photos, ON_A_PAGE).get_page(request.GET.get("page"))
    seasons = side_by_side(photos, page.site.latitude_deg, page.today)
    context = page.context(
        "trees",
        tree=tree,
        shown=shown,
        photos=[photo_line(photo, page.today) for photo in shown],
        seasons=seasons,
        photos_form=form,
    )
    return render(request, "care/photos.html", context, status=status)


@require_POST
@login_required
@csrf_exempt  # the limit must stand before anything reads the request; see below
def tree_photo(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Set the limit, then check the form's token and keep the photos."""
    limit = photo_limit(request)
    return _add(request, site, tree, limit)


@csrf_protect
def _add(
    request: HttpRequest, site: str, tree: object, limit: UploadLimit
) -> HttpResponse:
    """Keep photos of a tree; each that cannot be kept is told of."""
    page = let_in(request, site, May.TICK)
    found = find_tree(page, tree)
    form = PhotosForm(request.POST, request.FILES, today=page.today)
    if limit.is_exceeded:
        form.errors["photo"] = form.error_class([too_large_words()])
    if not form.is_valid():
        return _show(request, page, found, form, 422)
    given = form.cleaned_data
    fates = keep_photos(
        site=page.site,
        tree=found,
        person=page.person,
        helper=None,
        on=given["on"],
        today=page.today,
        now=page.now,
        pictures=read_photos(given["photo"]),
        caption=given["caption"],
    )
    tell_fates(request, fates, given["photo"])
    target = redirect("tree_photos", page.site.slug, found.public_id)
    return back_to(request, target["Location"])


@require_safe
@login_required
def photo_page(request: HttpRequest, site: str, photo: object) -> HttpResponse:
    """Show one photo, with who added it and what it shows."""
    page = let_in(request, site)
    found = find_photo(page, photo)
    initial = {"caption": found.caption, "on": found.on}
    form = PhotoForm(today=page.today, initial=initial)
    return _show_one(request, page, found, form)


def _show_one(
    request: HttpRequest,
    page: SitePage,
    photo: Photo,
    form: PhotoForm,
    status: int = 200,
) -> HttpResponse:
    others = photos_of(page.site.pk).filter(tree=photo.tree)
    newer, older = before_and_after(
        list(others.values_list("public_id", flat=True)), photo.public_id
    )
    context = page.context(
        "trees",
        photo=photo,
        tree=photo.tree,
        line=photo_line(photo, page.today),
        newer=newer,
        older=older,
        form=form,
        hidden=_hidden_words(photo),
    )
    return render(request, "care/photo.html", context, status=status)


def _hidden_words(photo: Photo) -> str:
    """Return who took a photo back and until when it can be put back."""
    if photo.voided_at is None:
        return ""
    return gettext(
        "Taken back by {name}. It is removed for good on {day}; until then it can be "
        "put back."
    ).format(
        name=name_of(photo.voided_by, photo.voided_by_helper),
        day=day_and_month(photo.site.today(photo.voided_at) + KEPT_BACK),
    )


@require_POST
@login_required
def photo_edit(request: HttpRequest, site: str, photo: object) -> HttpResponse:
    """Say anew what a photo shows and of which day it is."""
    page = let_in(request, site, May.TICK)
    found = find_photo(page, photo)
    form = PhotoForm(request.POST, today=page.today)
    if not form.is_valid():
        return _show_one(request, page, found, form, 422)
    given = form.cleaned_data
    describe_photo(photo=found, caption=given["caption"], on=given["on"])
    messages.success(request, gettext("Noted."))
    return redirect("photo_page", page.site.slug, found.public_id)


@require_POST
@login_required
def photo_remove(request: HttpRequest, site: str, photo: object) -> HttpResponse:
    """Take a photo back; its page can put it back for a while."""
    page = let_in(request, site, May.TICK)
    found = find_photo(page, photo)
    take_back_photo(photo=found, person=page.person, now=page.now)
    messages.success(
        request,
        gettext("The photo is taken back. For thirty days you can put it back here."),
    )
    return redirect("photo_page", page.site.slug, found.public_id)


@require_POST
@login_required
def photo_back(request: HttpRequest, site: str, photo: object) -> HttpResponse:
    """Put a photo back that was taken back."""
    page = let_in(request, site, May.TICK)
    found = find_photo(page, photo)
    if put_back_photo(photo=found):
        messages.success(request, gettext("The photo is back."))
    else:
        messages.warning(
            request,
            gettext("Nothing was changed: this photo is here already."),
        )
    return redirect("photo_page", page.site.slug, found.public_id)
