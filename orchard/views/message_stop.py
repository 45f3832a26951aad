"""Stopping mail of messages by a link in the mail, signed in or not (RFC 8058)."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.cache import never_cache
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_http_methods

from orchard.actions.message_mail import person_of_stop_token
from orchard.actions.message_ways import stop_mails, ways_of


# A mail program posts on its own, without a page or a cookie of ours.
@csrf_exempt
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def message_stop(request: HttpRequest, stop_token: str) -> HttpResponse:
    """Ask whether mail shall stop; posted, stop it, or let it come again."""
    person = person_of_stop_token(stop_token)
    if person is None:
        raise Http404
    if request.method == "POST":
        stop_mails(person=person, is_stopped="again" not in request.POST)
    context = {
        "is_stopped": ways_of(person).is_mail_stopped,
        "was_asked": request.method == "POST",
    }
    return render(request, "orchard/message_stop.html", context)
