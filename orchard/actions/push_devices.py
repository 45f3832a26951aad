"""The browsers that take a person's messages: added, ended, and let go when dead."""

import secrets
from collections.abc import Iterable
from datetime import datetime, timedelta

from django.db import transaction
from django.db.models import F, QuerySet

from orchard.actions.message_ways import choose_devices
from orchard.actions.push import check_endpoint, check_keys
from orchard.models import Person, PushSubscription

#: So many browsers has nobody; common practice, no source.
MOST_DEVICES = 10
#: A push service may be away for a while; common practice, no source.
MOST_FAILURES = 5
FAILING_FOR = timedelta(days=7)
ENDPOINT_LETTERS = 500


class TooManyDevicesError(Exception):
    """The person has as many devices as may be."""


def new_device_key() -> str:
    """Return what ties a device to the session of its browser."""
    return secrets.token_urlsafe(16)


@transaction.atomic
def add_device(
    *,
    person: Person,
    endpoint: str,
    public_key: str,
    auth_secret: str,
    user_agent: str,
    device_key: str,
    now: datetime,
) -> PushSubscription:
    """Have messages sent to a browser; one that is known is its latest person's.

    Raises
    ------
    EndpointError
        What it sent is no address and no keys of a known push service.
    TooManyDevicesError
        The person has too many.
    """
    check_endpoint(endpoint)
    check_keys(public_key, auth_secret)
    Person.objects.select_for_update().get(pk=person.pk)
    others = PushSubscription.objects.filter(person=person).exclude(endpoint=endpoint)
    # The same browser with a new address: its old one is dead or soon will be.
    others.filter(device_key=device_key).delete()
    if others.count() >= MOST_DEVICES:
        raise TooManyDevicesError
    device, _ = PushSubscription.objects.update_or_create(
        endpoint=endpoint,
        defaults={
            "person": person,
            "public_key": public_key,
            "auth_secret": auth_secret,
            "user_agent": user_agent[:200],
            "device_key": device_key,
            "made_at": now,
            "failures": 0,
            "failing_since": None,
            "error": "",
            "is_off": False,
        },
    )
    choose_devices(person=person)
    return device


def devices_of(person: Person) -> QuerySet[PushSubscription]:
    """Return the browsers a person's messages go to, also those that are off."""
    return PushSubscription.objects.filter(person=person)


@transaction.atomic
def remove_device(*, device: PushSubscription) -> None:
    """Send nothing more to a browser."""
    device.delete()


@transaction.atomic
def forget_devices(*, device_keys: Iterable[str]) -> None:
    """Send nothing more to browsers whose sessions end."""
    keys = [key for key in device_keys if key]
    PushSubscription.objects.filter(device_key__in=keys).delete()


@transaction.atomic
def forget_other_devices(*, person: Person, device_key: str) -> None:
    """Send nothing more to a person's browsers but to one, as their password changes."""
    devices_of(person).exclude(device_key=device_key or None).delete()


def note_taken(*, device: PushSubscription, now: datetime) -> None:
    """Note that a browser's push service took a message."""
    PushSubscription.objects.filter(pk=device.pk).update(
        sent_at=now, failures=0, failing_since=None, error=""
    )


@transaction.atomic
def note_refused(*, device: PushSubscription, error: str, now: datetime) -> None:
    """Count a failure; after five of them over a week nothing more is tried."""
    rows = PushSubscription.objects.filter(pk=device.pk)
    rows.filter(failing_since=None).update(failing_since=now)
    rows.update(failures=F("failures") + 1, error=error[:200])
    rows.filter(
        failures__gte=MOST_FAILURES, failing_since__lte=now - FAILING_FOR
    ).update(is_off=True)
