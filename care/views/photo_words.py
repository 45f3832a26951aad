"""What is said of photos: how many were kept, and why some were not."""

from collections.abc import Sequence
from datetime import date

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest
from django.utils.translation import gettext, ngettext

from care.actions.photos import MOST_AT_ONCE, Fate
from care.views.days import short_day


def kept_words(fates: Sequence[Fate]) -> str:
    """Return how many of several photos are kept now, or nothing where none is."""
    new = sum(fate.is_new for fate in fates)
    old = sum(fate.photo is not None for fate in fates) - new
    said = []
    if new:
        said.append(
            ngettext("The photo is kept.", "{number} photos are kept.", new).format(
                number=new
            )
        )
    if old:
        said.append(
            ngettext(
                "One photo was here already.",
                "{number} photos were here already.",
                old,
            ).format(number=old)
        )
    return " ".join(said)


def problem_words(fates: Sequence[Fate], sent: int) -> list[str]:
    """Return why photos were not kept, each named by its place among those sent."""
    said = [
        fate.problem
        if sent == 1
        else gettext("Photo {place} of {number}: {problem}").format(
            place=place, number=sent, problem=fate.problem
        )
        for place, fate in enumerate(fates, start=1)
        if fate.photo is None
    ]
    if sent > len(fates):
        said.append(
            gettext(
                "Send {most} photos at once at most. The first {most} were taken in; "
                "send the other {rest} again."
            ).format(most=MOST_AT_ONCE, rest=sent - len(fates))
        )
    return said


def tell_fates(
    request: HttpRequest, fates: Sequence[Fate], files: "Sequence[UploadedFile[bytes]]"
) -> None:
    """Say on the next page what became of photos that were sent."""
    if kept := kept_words(fates):
        messages.success(request, kept)
    for problem in problem_words(fates, len(files)):
        messages.warning(request, problem)


def too_large_words() -> str:
    """Return why photos were not even looked at."""
    return gettext(
        "The photos are too large together. Send fewer of them at once, or smaller ones."
    )


def photo_words(name: str, on: date, today: date) -> str:
    """Return what a photo shows to who cannot see it, where nobody said more."""
    return gettext("Photo of {name}, {day}").format(name=name, day=short_day(on, today))
