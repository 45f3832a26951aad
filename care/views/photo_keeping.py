"""How photos come in: how much at once, and beside a tick."""

from collections.abc import Sequence

from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest

from care.actions.photos import MOST_AT_ONCE, Fate, keep_photos
from care.actions.picture import MOST_BYTES as MOST_OF_ONE_BYTES
from care.forms.photos import read_photos
from care.models import LogEntry, Task
from care.views.photo_words import tell_fates
from orchard.views.site_page import SitePage
from orchard.views.upload_limit import UploadLimit

#: As many photos as one form may send, each as large as it may be, and its fields.
MOST_BYTES = MOST_AT_ONCE * MOST_OF_ONE_BYTES + 100_000


def photo_limit(request: HttpRequest) -> UploadLimit:
    """Let a form of photos be no larger than the most it may send; before it is read."""
    limit = UploadLimit(request, MOST_BYTES)
    request.upload_handlers.insert(0, limit)
    return limit


def keep_task_photos(request: HttpRequest, page: SitePage, task: Task) -> None:
    """Keep what was sent with a tick and say on the next page what became of it."""
    files = request.FILES.getlist("photo")
    if files:
        tell_fates(request, photos_of_task(files, page, task), files)


def photos_of_task(
    files: "Sequence[UploadedFile[bytes]]", page: SitePage, task: Task
) -> list[Fate]:
    """Keep photos beside the entry that stands for a task.

    Where none does, such as while somebody is asked whether it is the same work, they
    are the tree's own, so that no photo is lost.
    """
    standing = LogEntry.objects.filter(task=task, voided_at=None)
    entry = standing.order_by("recorded_at").last()
    return keep_photos(
        site=page.site,
        tree=task.tree,
        person=page.person,
        helper=None,
        on=entry.on if entry else page.today,
        today=page.today,
        now=page.now,
        pictures=read_photos(files),
        entry=entry,
    )
