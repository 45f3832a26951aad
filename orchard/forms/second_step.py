"""Passkeys and authenticator apps: their names, their words, their picture."""

import struct
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO

import segno
from allauth.mfa.adapter import DefaultMFAAdapter
from allauth.mfa.models import Authenticator
from allauth.mfa.totp.forms import ActivateTOTPForm
from allauth.mfa.webauthn.forms import (
    AddWebAuthnForm,
    AuthenticateWebAuthnForm,
    EditWebAuthnForm,
    LoginWebAuthnForm,
    ReauthenticateWebAuthnForm,
)
from django import forms
from django.utils.translation import gettext, gettext_lazy

from orchard.models import Person

LONGEST_NAME = 60
UNREADABLE = gettext_lazy("That passkey could not be read. Try once more.")
_MALFORMED = (AttributeError, IndexError, KeyError, TypeError, ValueError, struct.error)


@contextmanager
def sent_by_anybody() -> Iterator[None]:
    """Refuse what is no passkey's answer; the library would fail on some of it."""
    try:
        yield
    except _MALFORMED as error:
        raise forms.ValidationError(UNREADABLE) from error


class SecondStepAdapter(DefaultMFAAdapter):  # type: ignore[misc]  # allauth ships no types
    """What allauth asks of the ways to sign in beyond a password."""

    def build_totp_svg(self, url: str) -> str:
        """Return the code to scan, black on white also where the page is dark."""
        drawn = BytesIO()
        code = segno.make(url, error="m", micro=False)
        code.save(drawn, kind="svg", scale=4, border=4, dark="#000", light="#fff")
        return drawn.getvalue().decode()

    def generate_authenticator_name(
        self, user: Person, kind: Authenticator.Type
    ) -> str:
        """Return the name a new passkey has until its owner gives it another."""
        held = Authenticator.objects.filter(user_id=user.pk, type=kind).count()
        return gettext("Passkey {number}").format(number=held + 1)


class AddPasskeyForm(AddWebAuthnForm):  # type: ignore[misc]  # allauth ships no types
    """A new passkey: its name, and whether it opens the door by itself."""

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        name = self.fields["name"]
        name.label = gettext("A name for it")
        name.help_text = gettext(
            "So that you know it again: my phone, the key on my ring."
        )
        name.widget.attrs["maxlength"] = LONGEST_NAME
        alone = self.fields["passwordless"]
        alone.label = gettext("Sign in with it alone, without a password")
        alone.help_text = gettext(
            "It asks for your finger, face or PIN. Without this it is a second "
            "step after your password."
        )
        alone.initial = True

    def clean_credential(self) -> dict[str, object]:
        """Refuse what is no answer at all: the library would keep ``false`` as a key."""
        sent: object = self.cleaned_data["credential"]
        if not isinstance(sent, dict):
            raise forms.ValidationError(UNREADABLE)
        return sent

    def clean_name(self) -> str:
        """Return the name, cut to what a line holds: the passkey exists by now."""
        return str(super().clean_name())[:LONGEST_NAME]

    def clean(self) -> dict[str, object]:
        """Check that the browser's answer is a passkey made for this very page."""
        with sent_by_anybody():
            cleaned: dict[str, object] = super().clean()
        return cleaned


class RenamePasskeyForm(EditWebAuthnForm):  # type: ignore[misc]  # allauth ships no types
    """Another name for a passkey."""

    name = forms.CharField(label=gettext_lazy("A name for it"), max_length=LONGEST_NAME)


class _Answer:
    def clean_credential(self) -> Authenticator:
        """Return the passkey that answered."""
        with sent_by_anybody():
            found: Authenticator = super().clean_credential()  # type: ignore[misc]  # the library's form follows
        return found


class PasskeyAloneForm(_Answer, LoginWebAuthnForm):  # type: ignore[misc]  # allauth ships no types
    """A passkey instead of a password."""


class PasskeyAfterPasswordForm(_Answer, AuthenticateWebAuthnForm):  # type: ignore[misc]  # allauth ships no types
    """A passkey as the second step."""


class PasskeyAgainForm(_Answer, ReauthenticateWebAuthnForm):  # type: ignore[misc]  # allauth ships no types
    """A passkey to show once more who is there."""


class AuthenticatorAppForm(ActivateTOTPForm):  # type: ignore[misc]  # allauth ships no types
    """The first code of an authenticator app proves that it holds the secret."""

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        code = self.fields["code"]
        code.label = gettext("The six digits the app shows now")
        code.widget.attrs |= {"inputmode": "numeric", "placeholder": ""}
