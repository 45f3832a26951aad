"""The photos of a helper's own link, as their page shows them."""

from dataclasses import dataclass
from datetime import date

from django.db.models import QuerySet

from care.models import Helper, Photo
from care.views.photo_lines import PhotoLine, photo_line


@dataclass(frozen=True, slots=True)
class HelperPhoto:
    """One photo; ``is_own`` tells that this helper may take it back."""

    line: PhotoLine
    is_own: bool


def photos_of_link(helper: Helper) -> QuerySet[Photo]:
    """Return the photos that stand and came by a helper's link, newest first."""
    return Photo.objects.filter(
        helper__link=helper.link_id, site=helper.link.site_id, voided_at=None
    ).select_related("site", "tree", "person", "helper")


def helper_photos(helper: Helper, today: date) -> tuple[HelperPhoto, ...]:
    """Return the photos of a helper's link in words."""
    return tuple(
        HelperPhoto(photo_line(photo, today), photo.helper_id == helper.pk)
        for photo in photos_of_link(helper)
    )
