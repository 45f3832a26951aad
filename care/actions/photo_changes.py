"""A photo's words and day change, it is taken back and put back, and swept away."""

import re
import uuid
from datetime import date, datetime, timedelta
from pathlib import Path

from django.core.files.storage import default_storage
from django.db import transaction

from care.actions.photos import PHOTO, remove_files
from care.models import Helper, LogEntry, Photo
from orchard.actions.places import lock_site
from orchard.models import Person

#: So long a photo that was taken back can be put back.
KEPT_BACK = timedelta(days=30)
#: A file without a row may belong to somebody who is just sending it.
ORPHAN_AGE = timedelta(hours=24)
SWEPT_AT_ONCE = 500
_FILE_NAME = re.compile(
    r"([0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12})(?:-small)?\.jpg"
)


@transaction.atomic
def describe_photo(*, photo: Photo, caption: str, on: date) -> None:
    """Say anew what a photo shows and of which day it is; its own log line follows."""
    lock_site(photo.site_id)
    Photo.objects.filter(pk=photo.pk).update(caption=caption, on=on)
    alone = LogEntry.objects.filter(pk=photo.entry_id or 0, kind=PHOTO)
    if not Photo.objects.filter(entry=photo.entry_id).exclude(pk=photo.pk).exists():
        alone.update(note=caption, on=on)


@transaction.atomic
def take_back_photo(
    *,
    photo: Photo,
    person: Person | None,
    now: datetime,
    helper: Helper | None = None,
) -> bool:
    """Hide a photo; whether this call did it. Its last one takes its log line along."""
    lock_site(photo.site_id)
    by = {"voided_at": now, "voided_by": person, "voided_by_helper": helper}
    if not Photo.objects.filter(pk=photo.pk, voided_at=None).update(**by):
        return False
    if not Photo.objects.filter(entry=photo.entry_id, voided_at=None).exists():
        LogEntry.objects.filter(
            pk=photo.entry_id or 0, kind=PHOTO, voided_at=None
        ).update(**by)
    return True


@transaction.atomic
def put_back_photo(*, photo: Photo) -> bool:
    """Show a photo that was taken back again; whether it is there now.

    Where the same photo was added once more meanwhile, that one stays alone.
    """
    lock_site(photo.site_id)
    by = {"voided_at": None, "voided_by": None, "voided_by_helper": None}
    hidden = Photo.objects.filter(pk=photo.pk, voided_at__isnull=False)
    same = Photo.objects.filter(
        site=photo.site_id, sha256=photo.sha256, voided_at=None
    ).exclude(pk=photo.pk)
    if any(one.tree_id == photo.tree_id for one in same) or not hidden.update(**by):
        return False
    LogEntry.objects.filter(pk=photo.entry_id or 0, kind=PHOTO).update(**by)
    return True


def take_back_photos_of(entry: LogEntry) -> None:
    """Hide the photos of a log line that is about nothing else and was taken back."""
    if entry.kind != PHOTO:
        return
    stored = LogEntry.objects.get(pk=entry.pk)
    Photo.objects.filter(entry=entry, voided_at=None).update(
        voided_at=stored.voided_at,
        voided_by=stored.voided_by,
        voided_by_helper=stored.voided_by_helper,
    )


def sweep_photos(now: datetime) -> int:
    """Remove what was taken back long ago and files of no photo; return how many."""
    return _remove_long_hidden(now) + _remove_orphans(now)


def _remove_long_hidden(now: datetime) -> int:
    hidden = Photo.objects.filter(voided_at__lt=now - KEPT_BACK)
    removed = 0
    for photo in hidden.order_by("pk")[:SWEPT_AT_ONCE]:
        # The row first: a file without a row is swept up next, a row without files not.
        deleted, _ = Photo.objects.filter(
            pk=photo.pk, voided_at__lt=now - KEPT_BACK
        ).delete()
        if deleted:
            remove_files(photo)
            removed += 1
    return removed


def _remove_orphans(now: datetime) -> int:
    """Remove files whose photo was never written, or went with its orchard."""
    folder = Path(default_storage.path(""))
    if not folder.is_dir():
        return 0
    old = (now - ORPHAN_AGE).timestamp()
    found: dict[uuid.UUID, list[Path]] = {}
    for path in folder.iterdir():
        name = _FILE_NAME.fullmatch(path.name)
        if name and path.stat().st_mtime < old:
            found.setdefault(uuid.UUID(name[1]), []).append(path)
    ids = list(found)
    for start in range(0, len(ids), SWEPT_AT_ONCE):
        some = ids[start : start + SWEPT_AT_ONCE]
        for kept in Photo.objects.filter(file_id__in=some):
            found.pop(kept.file_id, None)
    for paths in found.values():
        for path in paths:
            path.unlink(missing_ok=True)
    return len(found)
