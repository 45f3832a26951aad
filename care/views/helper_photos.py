"""Photos a helper adds: they see those of their own link, and no others."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import require_POST, require_safe

from care.actions.photo_changes import take_back_photo
from care.actions.photos import keep_photos
from care.forms.photos import PhotosForm, read_photos
from care.models import Photo
from care.views.helper import HelperPage, for_helpers
from care.views.helper_photo_lines import photos_of_link
from care.views.helper_sheet import helper_tasks
from care.views.photo_files import photo_file
from care.views.photo_keeping import photo_limit
from care.views.photo_words import tell_fates, too_large_words
from orchard.access import May
from orchard.views.upload_limit import UploadLimit

#: Who holds a link is nobody known: the place's room is not theirs to fill.
#: Common practice, no source.
MOST_OF_LINK = 100


@require_POST
@csrf_exempt  # the limit must stand before anything reads the request; see below
def helper_photo_add(request: HttpRequest, task: object) -> HttpResponse:
    """Set the limit, then check the form's token and keep the photos."""
    limit = photo_limit(request)
    return _add(request, task=task, limit=limit)


@csrf_protect
@for_helpers(May.TICK)
def _add(
    request: HttpRequest, page: HelperPage, task: object, limit: UploadLimit
) -> HttpResponse:
    """Keep photos of the tree of one task."""
    mine = helper_tasks(page.helper, page.round, page.today)
    found = get_object_or_404(mine, public_id=task)
    form = PhotosForm(request.POST, request.FILES, today=page.today)
    target = redirect("helper")
    target["Location"] += f"#task-{found.public_id}"
    if limit.is_exceeded:
        form.errors["photo"] = form.error_class([too_large_words()])
    if not form.is_valid():
        messages.warning(request, "".join(map(str, form.errors.get("photo", []))))
        return target
    files = form.cleaned_data["photo"]
    if Photo.objects.filter(helper__link=page.helper.link).count() >= MOST_OF_LINK:
        messages.warning(
            request,
            gettext("This link has taken as many photos as it may. Ask a member."),
        )
        return target
    fates = keep_photos(
        site=page.site,
        tree=found.tree,
        person=None,
        helper=page.helper,
        on=page.today,
        today=page.today,
        now=page.now,
        pictures=read_photos(files),
    )
    tell_fates(request, fates, files)
    return target


@require_safe
@for_helpers(May.SEE)
def helper_photo(request: HttpRequest, page: HelperPage, photo: object) -> HttpResponse:
    """Send the thumbnail of a photo that came by the helper's own link."""
    found = get_object_or_404(photos_of_link(page.helper), public_id=photo)
    return photo_file(found, found.small_file_name)


@require_POST
@for_helpers(May.TICK)
def helper_photo_undo(
    request: HttpRequest, page: HelperPage, photo: object
) -> HttpResponse:
    """Take a photo of one's own back."""
    own = photos_of_link(page.helper).filter(helper=page.helper)
    found = get_object_or_404(own, public_id=photo)
    take_back_photo(photo=found, person=None, helper=page.helper, now=page.now)
    messages.success(request, gettext("The photo is taken back."))
    return redirect("helper")
