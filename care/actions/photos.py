"""Photos are kept: the files first, then the row; what is given up is swept away."""

import errno
import shutil
import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path

from django.conf import settings
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import transaction
from django.db.models import Sum
from django.utils.translation import gettext

from care.actions.picture import PhotoError, Picture, read_picture
from care.models import Helper, LogEntry, Photo
from orchard.actions.places import lock_site
from orchard.models import Person, Site, Tree

__all__ = ["Fate", "PhotoError", "Picture", "keep_photo", "keep_photos", "read_picture"]

#: What a log entry of photos alone is of.
PHOTO = "photo"
MOST_AT_ONCE = 20
#: Photos of a tree that come within this time are one line of the log.
TOGETHER = timedelta(minutes=10)
#: So much of the disk stays free: the database writes to it too.
SPARED_BYTES = 200 * 1024**2


@dataclass(frozen=True, slots=True)
class Fate:
    """What became of one of several photos.

    ``is_new`` is false where it was here already; ``is_full`` tells that there was no
    room, so that it may be kept another time.
    """

    photo: Photo | None
    problem: str = ""
    is_new: bool = False
    is_full: bool = False


def keep_photo(
    *,
    site: Site,
    tree: Tree | None,
    person: Person | None,
    helper: Helper | None,
    on: date,
    now: datetime,
    data: bytes | Picture,
    caption: str = "",
    photo_id: uuid.UUID | None = None,
    entry: LogEntry | None = None,
) -> Photo:
    """Keep one photo; the same one sent again for a tree is returned as it stands.

    ``data`` is what came, or what `read_picture` made of it: that takes long and is
    better done before a transaction begins. A photo without an ``entry`` of the log
    gets one, together with others of the same minutes.

    Raises
    ------
    PhotoError
        It is no photo, broken, too large, or there is no room; said in words.
    """
    picture = data if isinstance(data, Picture) else read_picture(data)
    fate = _keep(
        picture,
        Photo(
            public_id=photo_id or uuid.uuid4(),
            site=site,
            tree=tree,
            entry=entry,
            person=person,
            helper=helper,
            on=on,
            recorded_at=now,
            caption=caption,
        ),
    )
    if fate.photo is None:
        raise PhotoError(fate.problem)
    return fate.photo


def keep_photos(
    *,
    site: Site,
    tree: Tree | None,
    person: Person | None,
    helper: Helper | None,
    on: date | None,
    today: date,
    now: datetime,
    pictures: Iterable[Picture | PhotoError],
    caption: str = "",
    entry: LogEntry | None = None,
) -> list[Fate]:
    """Keep several photos; each has its own fate.

    ``pictures`` are what `read_picture` made of what came, or why it made nothing. Where
    no day is given, the day counts that the camera wrote into the photo, unless it is
    to come, else ``today``.
    """
    fates: list[Fate] = []
    for picture in pictures:
        if isinstance(picture, PhotoError):
            fates.append(Fate(None, str(picture)))
            continue
        draft = Photo(
            public_id=uuid.uuid4(),
            site=site,
            tree=tree,
            entry=entry,
            person=person,
            helper=helper,
            on=on or _day_of(picture, today),
            recorded_at=now,
            caption=caption,
        )
        fates.append(_keep(picture, draft))
    return fates


def _day_of(picture: Picture, today: date) -> date:
    taken_on = picture.taken_on
    return taken_on if taken_on is not None and taken_on <= today else today


def _keep(picture: Picture, draft: Photo) -> Fate:
    """Write the files, then the row; a row that fails takes its files along."""
    draft.width, draft.height = picture.width, picture.height
    draft.size_bytes, draft.sha256 = picture.size_bytes, picture.sha256
    standing = _standing(draft)
    if standing is not None:
        return Fate(standing)
    if problem := _no_room(draft):
        return Fate(None, problem, is_full=True)
    try:
        _write_files(draft, picture)
        fate = _write_row(draft)
    except OSError as error:
        remove_files(draft)
        if error.errno not in (errno.ENOSPC, errno.EDQUOT):
            raise
        return Fate(None, _disk_full(), is_full=True)
    except BaseException:
        remove_files(draft)
        raise
    if not fate.is_new:
        remove_files(draft)
    return fate


@transaction.atomic
def _write_row(draft: Photo) -> Fate:
    lock_site(draft.site_id)  # of two who send the same, the second finds the first's
    standing = _standing(draft)
    if standing is not None:
        return Fate(standing)
    if problem := _no_room(draft):
        return Fate(None, problem, is_full=True)
    if Photo.objects.filter(public_id=draft.public_id).exists():
        draft.public_id = uuid.uuid4()  # another's number is never an answer to us
    if draft.entry is None:
        draft.entry = _entry_for(draft)
    draft.save(force_insert=True)
    return Fate(draft, is_new=True)


def _entry_for(draft: Photo) -> LogEntry:
    """Return the log line of a photo alone; photos added together share one."""
    near = LogEntry.objects.filter(
        site_id=draft.site_id,
        tree=draft.tree,
        person=draft.person,
        helper=draft.helper,
        kind=PHOTO,
        on=draft.on,
        note=draft.caption,
        recorded_at__gt=draft.recorded_at - TOGETHER,
        voided_at=None,
    ).first()
    return near or LogEntry.objects.create(
        site_id=draft.site_id,
        tree=draft.tree,
        person=draft.person,
        helper=draft.helper,
        what=LogEntry.What.NOTE,
        kind=PHOTO,
        on=draft.on,
        recorded_at=draft.recorded_at,
        note=draft.caption,
    )


def _standing(draft: Photo) -> Photo | None:
    """Return the same photo of the same tree, where it was kept before."""
    same = Photo.objects.filter(
        site_id=draft.site_id, sha256=draft.sha256, voided_at=None
    )
    return next((one for one in same if one.tree_id == draft.tree_id), None)


def _no_room(draft: Photo) -> str:
    """Return why there is no room for a photo, or nothing."""
    taken = draft.site.photos.aggregate(taken=Sum("size_bytes"))["taken"] or 0
    if taken + draft.size_bytes > settings.ORCHARD_PHOTOS_BYTES:
        return gettext(
            "There is no room for more photos of this place. Take back some that "
            "nobody needs, or ask whoever runs this server for more room."
        )
    folder = Path(default_storage.path(""))
    folder.mkdir(parents=True, exist_ok=True)
    free = shutil.disk_usage(folder).free
    return _disk_full() if free - draft.size_bytes < SPARED_BYTES else ""


def _disk_full() -> str:
    return gettext(
        "The server's disk is full, so the photo was not kept. Keep it on your phone "
        "and tell whoever runs this server."
    )


def _write_files(draft: Photo, picture: Picture) -> None:
    for name, content in (
        (draft.file_name, picture.whole),
        (draft.small_file_name, picture.small),
    ):
        default_storage.save(name, ContentFile(content))


def remove_files(photo: Photo) -> None:
    """Remove both files of a photo; those that are gone already are no error."""
    for name in (photo.file_name, photo.small_file_name):
        default_storage.delete(name)
