"""What arrived from a phone: who sent it, what it holds, and how it is refused."""

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from uuid import UUID
from zoneinfo import ZoneInfo

from django.core.files.uploadedfile import UploadedFile
from django.forms import BaseForm
from django.http import HttpRequest, QueryDict
from django.utils.datastructures import MultiValueDict
from django.utils.translation import gettext

from care.actions.picture import PhotoError, Picture
from orchard.views.site_page import SitePage

#: The files that are photos, in every form that takes some.
PHOTO = "photo"
#: What may differ when a phone sends the same again.
OF_THE_TRY = frozenset({"id", "sent_at", "csrfmiddlewaretoken"})


class NotKeptError(Exception):
    """Something sent was not written down; the phone keeps it and shows ``words``."""

    def __init__(self, status: int, state: str, words: str, **more: object) -> None:
        super().__init__(words)
        self.status, self.state, self.words, self.more = status, state, words, more


def refused(words: str, **fields: list[str]) -> NotKeptError:
    """Return what to raise where something cannot be as it was typed."""
    return NotKeptError(422, "refused", words, fields=fields)


def refused_form(form: BaseForm) -> NotKeptError:
    """Return what to raise where a page's form was filled in wrongly."""
    fields = {
        name: [str(error) for error in errors] for name, errors in form.errors.items()
    }
    return refused(_first_words(form, fields), **fields)


def _first_words(form: BaseForm, fields: Mapping[str, list[str]]) -> str:
    name, errors = next(iter(fields.items()))
    label = form.fields[name].label if name in form.fields else ""
    if not label:
        return errors[0]
    return gettext("{field}: {problem}").format(field=label, problem=errors[0])


def gone(words: str) -> NotKeptError:
    """Return what to raise where what was meant is no longer there."""
    return NotKeptError(404, "gone", words)


@dataclass(frozen=True, slots=True)
class Sent:
    """One thing that a phone sent, let in; ``day`` is the site's day it happened on."""

    request: HttpRequest
    page: SitePage
    day: date
    pictures: Sequence[Picture | PhotoError] = ()

    @property
    def data(self) -> QueryDict:
        """The fields, as the page's own form has them."""
        return self.request.POST

    @property
    def dated(self) -> QueryDict:
        """The fields, with the day it happened on where the form names none."""
        data = self.data.copy()
        if not data.get("on"):
            data["on"] = self.day.isoformat()
        return data

    @property
    def that_day(self) -> SitePage:
        """The page as it was on the day on which it happened."""
        return replace(self.page, today=self.day)

    def public_id(self, field: str) -> UUID:
        """Return the id in one field.

        Raises
        ------
        NotKeptError
            There is none.
        """
        try:
            return UUID(self.data.get(field, ""))
        except ValueError:
            raise refused(
                gettext("Part of it was lost on the phone, so nobody knows what it is.")
            ) from None


def day_of(page: SitePage, happened_at: datetime) -> date:
    """Return the site's day at a moment; a demonstration counts back from its own."""
    zone = ZoneInfo(page.site.time_zone)
    days_ago = page.now.astimezone(zone).date() - happened_at.astimezone(zone).date()
    return page.today - days_ago


def body_sha256(
    data: QueryDict, files: "MultiValueDict[str, UploadedFile[bytes]]"
) -> str:
    """Return a hash of all that was sent but what belongs to this try alone."""
    fields = sorted(
        (name, values) for name, values in data.lists() if name not in OF_THE_TRY
    )
    attached = sorted(
        (name, _sha256(one)) for name, found in files.lists() for one in found
    )
    text = json.dumps([fields, attached], ensure_ascii=True)
    return hashlib.sha256(text.encode()).hexdigest()


def _sha256(file: "UploadedFile[bytes]") -> str:
    digest = hashlib.sha256()
    for chunk in file.chunks():
        digest.update(chunk)
    file.seek(0)
    return digest.hexdigest()
