"""Photos somebody adds: several at once, by the camera or from those they have."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date

from django import forms
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import UploadedFile
from django.utils.translation import gettext, gettext_lazy

from care.actions.photos import MOST_AT_ONCE
from care.actions.picture import MOST_BYTES, PhotoError, Picture, read_picture
from care.forms.past_days import PastDayField

CAPTION_LENGTH = 200
#: Whoever has old photos of an old tree may add them.
DAYS_BACK = 36_525
#: A script that makes a photo smaller loses the day in it, and writes it here instead.
TAKEN_NAME = re.compile(r"taken-(\d{4}-\d{2}-\d{2})\b")


class SeveralFiles(forms.ClearableFileInput):
    """A choice of files, of which all come."""

    allow_multiple_selected = True


class PhotosField(forms.FileField):
    """Photos, from one box or several of the same name; empty boxes are left out."""

    widget = SeveralFiles

    def clean(
        self, data: object, initial: object = None
    ) -> "list[UploadedFile[bytes]]":  # a list, where one file would be usual
        """Return the files that were chosen.

        Raises
        ------
        ValidationError
            None was chosen, and one is needed.
        """
        files = data if isinstance(data, Sequence) else [data]
        chosen = [one for one in files if isinstance(one, UploadedFile) and one.name]
        if not chosen and self.required:
            raise ValidationError(self.error_messages["required"], code="required")
        return chosen


class DayTakenField(PastDayField):
    """The day of a photo; left empty, nobody said."""

    def __init__(self, *, today: date, label: str, **more: str) -> None:
        super().__init__(today=today, label=label, days_back=DAYS_BACK, required=False)
        self.initial = None
        self.help_text = more.get("help_text", "")

    def clean(self, value: object) -> date | None:
        """Return the day, or ``None`` where the box is empty."""
        return super().clean(value) if value else None


def caption_field() -> forms.CharField:
    """Return the box for the words below a photo."""
    return forms.CharField(
        required=False,
        max_length=CAPTION_LENGTH,
        label=gettext_lazy("What it shows"),
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
        error_messages={"max_length": gettext_lazy("Write it in at most 200 letters.")},
    )


class PhotosForm(forms.Form):
    """Photos of one tree, with words and a day for all of them."""

    photo = PhotosField(
        label=gettext_lazy("Photos"),
        error_messages={
            "required": gettext_lazy("Take a photo or choose one first."),
        },
    )
    caption = caption_field()

    def __init__(
        self, data: object = None, files: object = None, *, today: date
    ) -> None:
        super().__init__(data, files, auto_id="photos_%s")  # type: ignore[arg-type]  # a QueryDict, a dictionary of files, or None
        self.fields["on"] = DayTakenField(
            today=today,
            label=gettext("Day it was taken"),
            help_text=gettext(
                "Leave it empty, and the day counts that the photo itself tells."
            ),
        )


class PhotoForm(forms.Form):
    """What is said of one photo that is kept already."""

    caption = caption_field()

    def __init__(self, data: object = None, *, today: date, **more: object) -> None:
        super().__init__(data, auto_id="photo_%s", **more)  # type: ignore[arg-type]  # a QueryDict or None
        self.fields["on"] = PastDayField(
            today=today, label=gettext("Day it was taken"), days_back=DAYS_BACK
        )


def read_photos(files: "Iterable[UploadedFile[bytes]]") -> list[Picture | PhotoError]:
    """Return each file made ready to keep, or why it cannot be; the first twenty.

    It takes long: better done before a transaction begins.
    """
    return [_read(file) for file in list(files)[:MOST_AT_ONCE]]


def _read(file: "UploadedFile[bytes]") -> Picture | PhotoError:
    file.seek(0)
    try:
        picture = read_picture(file.read(MOST_BYTES + 1))
    except PhotoError as error:
        return error
    return replace(picture, taken_on=_day_named(file) or picture.taken_on)


def _day_named(file: "UploadedFile[bytes]") -> date | None:
    """Return the day that a script wrote into a file's name, if it did."""
    found = TAKEN_NAME.match(file.name or "")
    try:
        return date.fromisoformat(found[1]) if found else None
    except ValueError:
        return None
