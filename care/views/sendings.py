"""Where phones send what they kept while there was no network.

The address answers in JSON alone. Who signs in again, or another person, is told apart
by ``person``, so that nothing is sent under a name that is not whose it is.
"""

import logging
from http import HTTPStatus

from django.core.exceptions import (
    PermissionDenied,
    RequestDataTooBig,
    TooManyFieldsSent,
    TooManyFilesSent,
)
from django.db import OperationalError
from django.http import (
    Http404,
    HttpRequest,
    HttpResponse,
    JsonResponse,
)
from django.http.multipartparser import MultiPartParserError
from django.middleware.csrf import get_token
from django.utils.translation import gettext
from django.views.decorators.cache import never_cache
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import require_http_methods

from care.actions.phone_clock import phone_time
from care.actions.sendings import Arrived, OtherBodyError, do_once
from care.forms.photos import read_photos
from care.forms.sendings import SendingForm
from care.views.sending_acts import ACTS
from care.views.sending_body import (
    PHOTO,
    NotKeptError,
    Sent,
    body_sha256,
    day_of,
    refused,
    refused_form,
)
from orchard.access import May
from orchard.models import Person
from orchard.views.phone import person_mark
from orchard.views.site_page import SitePage, let_in

MEGABYTE = 1024 * 1024
#: Several photos of a phone fit; more is sent as several.
MOST_BYTES = 40 * MEGABYTE
READ_ANYWAY_BYTES = 250 * MEGABYTE
ID_LENGTH = 36
TOO_LARGE = (RequestDataTooBig, TooManyFieldsSent, TooManyFilesSent)

logger = logging.getLogger(__name__)


@csrf_exempt  # asked for below: it reads the fields, and the limit comes before
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def sendings(request: HttpRequest, site: str) -> HttpResponse:
    """Say who is signed in (GET), or do one thing that a phone kept (POST)."""
    try:
        _check_size(request)
        answer = _guarded(request, site)
    except NotKeptError as why:
        return _not_kept(request, why)
    except TOO_LARGE:
        return _not_kept(request, _too_large())
    except MultiPartParserError:
        return _not_kept(request, refused(gettext("It arrived in pieces.")))
    if answer.status_code == HTTPStatus.FORBIDDEN and not isinstance(
        answer, JsonResponse
    ):
        # Django's own answer to a form's key that has gone old: the phone asks anew.
        return _not_kept(request, _busy())
    return answer


def _check_size(request: HttpRequest) -> None:
    """Refuse what says that it is too large.

    Its body is read to the end all the same: hanging up in the middle would look to the
    phone like a lost connection, and it would try again for ever.
    """
    announced = _announced_bytes(request)
    if announced <= MOST_BYTES:
        return
    if announced <= READ_ANYWAY_BYTES:
        while request.read(MEGABYTE):
            pass
    raise _too_large()


def _announced_bytes(request: HttpRequest) -> int:
    return int(request.META.get("CONTENT_LENGTH") or 0)


@csrf_protect
def _guarded(request: HttpRequest, slug: str) -> HttpResponse:
    if not isinstance(request.user, Person):
        return JsonResponse({"state": "signed_out"}, status=401)
    try:
        if request.method == "POST":
            return _take(request, let_in(request, slug, May.TICK))
        page = let_in(request, slug)
    except Http404:
        return _not_kept(request, _no_member(request.user))
    except PermissionDenied as denied:
        return _not_kept(request, NotKeptError(403, "may_not", str(denied)))
    return JsonResponse(
        {
            "csrf": get_token(request),
            "person": person_mark(page.person),
            "now": page.now.isoformat(),
        }
    )


def _take(request: HttpRequest, page: SitePage) -> HttpResponse:
    form = SendingForm(request.POST)
    if not form.is_valid():
        raise refused_form(form)
    given = form.cleaned_data
    act = ACTS.get(given["what"])
    if act is None:
        raise refused(gettext("This phone sent something that is not known here."))
    when = phone_time(
        happened_at=given["happened_at"], sent_at=given["sent_at"], now=page.now
    )
    arrived = Arrived(
        id=given["id"],
        person=page.person,
        site=page.site,
        what=given["what"],
        body_sha256=body_sha256(request.POST, request.FILES),
        when=when,
        now=page.now,
    )
    day = day_of(page, when.happened_at)
    # Read before the transaction, which would last as long as they take.
    pictures = read_photos(request.FILES.getlist(PHOTO))
    sent = Sent(request, page, day, pictures)
    try:
        answer = do_once(arrived, lambda: act(sent))
    except OtherBodyError:
        words = gettext("Something else was sent under this id, so this was left.")
        raise NotKeptError(422, "other_body", words, fields={}) from None
    except Http404:
        words = gettext("What this was about is no longer there.")
        raise NotKeptError(404, "gone", words) from None
    except OperationalError:
        # Two writers in each other's way: the phone tries again by itself.
        logger.warning("Something sent by a phone has to come again.", exc_info=True)
        raise _busy() from None
    return JsonResponse({"id": str(given["id"]), **answer})


def _busy() -> NotKeptError:
    words = gettext("It could not be written just now. The phone tries again.")
    return NotKeptError(409, "busy", words)


def _too_large() -> NotKeptError:
    words = gettext(
        "That is more than {number} MB at once. Send fewer photos, or smaller ones."
    ).format(number=MOST_BYTES // MEGABYTE)
    return NotKeptError(413, "too_large", words)


def _no_member(person: Person) -> NotKeptError:
    """Return what to raise; it names who is meant, as a phone may serve several."""
    words = gettext(
        "You are no longer a member of that orchard, or it is gone, so nothing was "
        "written there. Ask an owner or coordinator of it."
    )
    return NotKeptError(404, "gone", words, person=person_mark(person))


def _id_of(request: HttpRequest) -> str:
    """Return the id that came, as far as what came could be read."""
    if _announced_bytes(request) > MOST_BYTES:
        return ""  # looking for it would store all that is too large
    try:
        return request.POST.get("id", "")[:ID_LENGTH]
    except TOO_LARGE:
        return ""


def _not_kept(request: HttpRequest, why: NotKeptError) -> HttpResponse:
    """Say why nothing was written, with the id that came."""
    body = {
        "id": _id_of(request),
        "state": why.state,
        "words": why.words,
        **why.more,
    }
    return JsonResponse(body, status=why.status)
