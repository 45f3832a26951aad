"""Every address of the program."""

from django.http import HttpRequest, HttpResponse
from django.urls import include, path
from django.views.decorators.http import require_safe


@require_safe
def healthz(request: HttpRequest) -> HttpResponse:
    """Answer that the web server lives."""
    del request
    return HttpResponse("ok", content_type="text/plain")


urlpatterns = [
    path("healthz", healthz, name="healthz"),
    path("accounts/", include("allauth.account.urls")),
    path("accounts/second-step/", include("allauth.mfa.urls")),
    path("accounts/sessions/", include("allauth.usersessions.urls")),
    path("accounts/connected/", include("allauth.socialaccount.urls")),
    path("accounts/", include("allauth.socialaccount.providers.openid_connect.urls")),
    path("", include("orchard.urls")),
    path("", include("care.urls")),
]
