"""Accounts, orchards and one-time ways in."""

import hashlib
import secrets
from datetime import datetime, timedelta

from allauth.mfa.models import Authenticator
from django.conf import settings
from django.contrib.auth.hashers import UNUSABLE_PASSWORD_PREFIX
from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from orchard.actions.audit import note
from orchard.models import Membership, Orchard, Person, Role, SigninLink

SIGNIN_LINK_LIFE = timedelta(minutes=10)


def hash_of(token: str) -> str:
    """Return what is stored of a secret: enough to recognise it, not to use it."""
    return hashlib.sha256(token.encode()).hexdigest()


def has_accounts() -> bool:
    """Whether anybody has made an account; the demonstration's people did not."""
    nobody = Q(password__startswith=UNUSABLE_PASSWORD_PREFIX, socialaccount=None)
    return Person.objects.exclude(nobody).exists()


def first_person() -> Person | None:
    """Return whom a link at the start should sign in: the first owner, if any.

    Somebody with an orchard of their own comes before the demonstration's people.
    """
    active = Person.objects.filter(is_active=True).order_by("id")
    owners = active.filter(memberships__role=Role.OWNER)
    return (
        owners.filter(memberships__orchard__is_demo=False).first()
        or owners.first()
        or active.first()
    )


@transaction.atomic
def make_signin_link(*, person: Person) -> str:
    """Return an address that signs ``person`` in once, within ten minutes."""
    token = secrets.token_urlsafe(32)
    SigninLink.objects.create(
        person=person,
        token_hash=hash_of(token),
        expires_at=timezone.now() + SIGNIN_LINK_LIFE,
    )
    return f"{settings.BASE_URL}/signin/{token}/"


def person_of_signin_link(*, token: str, now: datetime) -> Person | None:
    """Return whom an unused, unexpired link would sign in; does not use it up."""
    link = (
        SigninLink.objects.filter(
            token_hash=hash_of(token),
            used_at=None,
            expires_at__gt=now,
            person__is_active=True,
        )
        .select_related("person")
        .first()
    )
    return link.person if link else None


@transaction.atomic
def use_signin_link(*, token: str, now: datetime) -> Person | None:
    """Use a link up and return its person; of two at once exactly one succeeds."""
    person = person_of_signin_link(token=token, now=now)
    used = SigninLink.objects.filter(
        token_hash=hash_of(token), used_at=None, expires_at__gt=now
    ).update(used_at=now)
    return person if used else None


@transaction.atomic
def drop_second_step(*, person: Person) -> None:
    """Forget a person's passkeys, app and codes: all of them are lost with a phone."""
    Authenticator.objects.filter(user=person).delete()


@transaction.atomic
def found_orchard(*, person: Person, name: str, is_demo: bool = False) -> Orchard:
    """Create an orchard with ``person`` as its owner."""
    orchard = Orchard.objects.create(name=name, is_demo=is_demo)
    Membership.objects.create(person=person, orchard=orchard, role=Role.OWNER)
    note(orchard=orchard, person=person, what="orchard_founded", subject=name)
    return orchard


@transaction.atomic
def choose_units(*, person: Person, units: str) -> None:
    """Set how amounts are shown to ``person``."""
    person.units = units
    person.save(update_fields=["units"])


@transaction.atomic
def choose_language(*, person: Person, language: str) -> None:
    """Set what pages and messages of ``person`` are written in; empty, by browser."""
    person.language = language
    person.save(update_fields=["language"])
