"""Pages in the language somebody chose, before what their browser asks for."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.utils import translation

from orchard.models import Person


def language_of_person(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Return the middleware: it stands behind Django's own choice by the browser."""

    def answer(request: HttpRequest) -> HttpResponse:
        person = request.user
        if isinstance(person, Person) and person.language:
            translation.activate(person.language)
            request.LANGUAGE_CODE = person.language
        return get_response(request)

    return answer
