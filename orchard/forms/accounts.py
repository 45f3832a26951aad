"""How people come in: whether signing up is open, and no mail without a server."""

from allauth.account.adapter import DefaultAccountAdapter
from django.conf import settings
from django.http import HttpRequest

from orchard.actions.people import has_accounts


class AccountAdapter(DefaultAccountAdapter):  # type: ignore[misc]  # allauth ships no types
    """Answers allauth's questions from our settings."""

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        """Return whether a stranger may make an account; the first always may."""
        del request
        return settings.SIGNUP == "open" or not has_accounts()

    def send_mail(self, template_prefix: str, email: str, context: object) -> None:
        """Send mail only where a mail server is set; without one nothing breaks."""
        if settings.HAS_MAIL:
            super().send_mail(template_prefix, email, context)
