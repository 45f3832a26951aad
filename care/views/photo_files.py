"""The files of photos, shown to members of their orchard alone."""

from django.contrib.auth.decorators import login_required
from django.core.files.storage import default_storage
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_safe

from care.models import Photo
from orchard.views.site_page import SitePage, let_in

DAY_S = 24 * 60 * 60


@require_safe
@login_required
def photo(request: HttpRequest, site: str, photo: object) -> HttpResponse:
    """Send a photo as it was kept."""
    found = find_photo(let_in(request, site), photo)
    return photo_file(found, found.file_name)


@require_safe
@login_required
def photo_small(request: HttpRequest, site: str, photo: object) -> HttpResponse:
    """Send the thumbnail of a photo."""
    found = find_photo(let_in(request, site), photo)
    return photo_file(found, found.small_file_name)


def find_photo(page: SitePage, photo: object) -> Photo:
    """Return a photo of the site; one taken back, to who may put it back.

    Raises
    ------
    Http404
        The site has no such photo, or it was taken back and the reader only looks on.
    """
    photos = Photo.objects.select_related(
        "site", "tree", "entry", "person", "helper", "voided_by", "voided_by_helper"
    )
    found: Photo = get_object_or_404(photos, site=page.site, public_id=photo)
    if found.voided_at is not None and not page.may_tick:
        raise Http404
    return found


def photo_file(photo: Photo, name: str) -> HttpResponse:
    """Return one file of a photo, for this reader's own browser to keep a day.

    Raises
    ------
    Http404
        The file is gone, such as after a backup without its photos came back.
    """
    try:
        with default_storage.open(name) as file:
            content = file.read()
    except FileNotFoundError as error:
        raise Http404 from error
    response = HttpResponse(content, content_type="image/jpeg")
    response["Content-Disposition"] = f'inline; filename="photo-{photo.on}.jpg"'
    response["Cache-Control"] = f"private, max-age={DAY_S}"
    response["X-Content-Type-Options"] = "nosniff"
    response["Content-Security-Policy"] = "default-src 'none'; sandbox"
    return response
