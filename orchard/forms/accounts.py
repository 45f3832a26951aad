"""How people come in: who may make an account, and what needs a mail server."""

from collections.abc import Iterable
from importlib import import_module
from typing import Any

from allauth.account.adapter import DefaultAccountAdapter, get_adapter
from allauth.account.forms import AddEmailForm
from allauth.account.models import EmailAddress
from allauth.core import context
from allauth.socialaccount.adapter import DefaultSocialAccountAdapter
from allauth.usersessions.adapter import DefaultUserSessionsAdapter
from allauth.usersessions.models import UserSession
from django.conf import settings
from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest
from django.utils import timezone

from orchard.actions.invites import opens_signup
from orchard.actions.people import has_accounts
from orchard.actions.push_devices import forget_devices, forget_other_devices
from orchard.models import Person

#: Where the page of an invitation leaves its hash until the account is made.
INVITE_IN_SESSION = "invite_hash"
#: Where a browser that takes messages keeps what ties it to this session.
DEVICE_IN_SESSION = "device_key"
EMAIL_IS_CHANGED = "account/messages/email_changed.txt"


def is_invited(request: HttpRequest) -> bool:
    """Whether this browser opened an invitation that can still be used."""
    return opens_signup(request.session.get(INVITE_IN_SESSION), timezone.now())


class AccountAdapter(DefaultAccountAdapter):  # type: ignore[misc]  # allauth ships no types
    """Answers allauth's questions from our settings."""

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        """Return whether a stranger may make an account; the first always may."""
        if settings.SIGNUP == "open" or not has_accounts():
            return True
        return settings.SIGNUP == "invite" and is_invited(request)

    def send_mail(self, template_prefix: str, email: str, context: object) -> None:
        """Send mail only where a mail server is set; without one nothing breaks."""
        if settings.HAS_MAIL:
            super().send_mail(template_prefix, email, context)

    def logout(self, request: HttpRequest) -> None:
        """Sign out; the browser takes no more messages."""
        forget_devices(device_keys=[request.session.get(DEVICE_IN_SESSION, "")])
        super().logout(request)

    def set_password(self, user: Person, password: str) -> None:
        """Set a password; browsers that it signs out take no more messages."""
        super().set_password(user, password)
        session = context.request.session
        forget_other_devices(person=user, device_key=session.get(DEVICE_IN_SESSION, ""))

    def get_password_change_redirect_url(self, request: HttpRequest) -> str:
        """Return where one goes after changing a password."""
        del request
        return "/you/"


class SessionsAdapter(DefaultUserSessionsAdapter):  # type: ignore[misc]  # allauth ships no types
    """Ending sessions of lost phones ends what is sent to them."""

    def end_sessions(self, sessions: Iterable[UserSession]) -> None:
        """End sessions; their browsers take no more messages."""
        ending = list(sessions)
        store = import_module(settings.SESSION_ENGINE).SessionStore
        forget_devices(
            device_keys=[
                store(one.session_key).get(DEVICE_IN_SESSION, "") for one in ending
            ]
        )
        super().end_sessions(ending)


class SignInServerAdapter(DefaultSocialAccountAdapter):  # type: ignore[misc]  # allauth ships no types
    """People who sign in at the host's own server; new ones by the same rule as all."""

    def get_connect_redirect_url(self, request: HttpRequest, socialaccount: Any) -> str:
        """Return where one goes after connecting."""
        del request, socialaccount
        return "/accounts/connected/"


class EmailForm(AddEmailForm):  # type: ignore[misc]  # allauth ships no types
    """The address a person changes to; where mail goes out, once it is confirmed."""

    def save(self, request: HttpRequest) -> EmailAddress:
        """Ask the new address to confirm itself, or take it where nobody can ask."""
        if settings.HAS_MAIL:
            return super().save(request)
        with transaction.atomic():
            EmailAddress.objects.filter(user=self.user).delete()
            address = EmailAddress.objects.create(
                user=self.user, email=self.cleaned_data["email"], verified=False
            )
            address.set_as_primary()
        get_adapter().add_message(request, messages.SUCCESS, EMAIL_IS_CHANGED)
        return address
