"""A person's devices that messages are pushed to, and tests of every way."""

import logging
from dataclasses import dataclass
from datetime import datetime

from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext, ngettext
from django.views.decorators.http import require_POST

from orchard.actions.message_mail import confirmed_address, mail_trial
from orchard.actions.message_ways import EMAIL
from orchard.actions.push import EndpointError, PushError
from orchard.actions.push_devices import (
    TooManyDevicesError,
    add_device,
    devices_of,
    new_device_key,
    remove_device,
)
from orchard.actions.push_keys import public_key_text
from orchard.actions.push_messages import NoDeviceError, push_to_devices, trial_notice
from orchard.forms.accounts import DEVICE_IN_SESSION
from orchard.forms.messages import DeviceForm
from orchard.models import Person, PushSubscription

#: Nobody needs tests faster; common practice, no source.
TRIAL_SECONDS = 10
logger = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class DeviceLine:
    """One device as the page shows it; ``key`` tells a browser itself from others."""

    pk: int
    user_agent: str
    sent_at: datetime | None
    state: str
    endpoint: str


@dataclass(frozen=True, slots=True)
class DeviceSection:
    """A person's devices, and what a browser needs to become one."""

    lines: tuple[DeviceLine, ...]
    key: str
    form: DeviceForm


def device_section(person: Person) -> DeviceSection:
    """Return what the page says of a person's devices."""
    lines = tuple(map(_line, devices_of(person)))
    return DeviceSection(lines, public_key_text(), DeviceForm())


def _line(device: PushSubscription) -> DeviceLine:
    return DeviceLine(
        pk=device.pk,
        user_agent=device.user_agent,
        sent_at=device.sent_at,
        state=_state(device),
        endpoint=device.endpoint,
    )


def _state(device: PushSubscription) -> str:
    if device.is_off:
        return gettext(
            "It took nothing for a week, so nothing more is sent to it. Remove it, and "
            "add it again on that device."
        )
    if device.failures:
        return gettext("It did not take the last message. It is tried again.")
    return "" if device.sent_at else gettext("Nothing was sent to it yet.")


def _back() -> HttpResponse:
    return redirect(f"{reverse('you')}#messages")


@require_POST
@login_required
def push_add(request: HttpRequest) -> HttpResponse:
    """Have messages sent to the browser that asks."""
    if not isinstance(request.user, Person):
        raise TypeError
    form = DeviceForm(request.POST)
    if not form.is_valid():
        messages.error(request, gettext("The browser said too little. Try once more."))
        return _back()
    device_key = request.session.setdefault(DEVICE_IN_SESSION, new_device_key())
    try:
        add_device(
            person=request.user,
            endpoint=form.cleaned_data["endpoint"],
            public_key=form.cleaned_data["p256dh"],
            auth_secret=form.cleaned_data["auth"],
            user_agent=request.headers.get("User-Agent", ""),
            device_key=device_key,
            now=timezone.now(),
        )
    except EndpointError:
        logger.warning("A browser's push service was not taken", exc_info=True)
        messages.error(
            request,
            gettext(
                "This server does not know the push service of this browser, so it "
                "sends nothing there. Another browser may do."
            ),
        )
    except TooManyDevicesError:
        messages.error(
            request, gettext("Remove a device that you no longer use first.")
        )
    else:
        messages.success(request, gettext("Messages come to this device from now on."))
    return _back()


@require_POST
@login_required
def push_remove(request: HttpRequest, device: int) -> HttpResponse:
    """Send nothing more to one of the person's own devices."""
    mine = get_object_or_404(PushSubscription, pk=device, person=request.user)
    remove_device(device=mine)
    messages.success(request, gettext("Nothing more is sent to that device."))
    return _back()


@require_POST
@login_required
def message_test(request: HttpRequest) -> HttpResponse:
    """Send the person a test by one way, and say what came of it."""
    if not isinstance(request.user, Person):
        raise TypeError
    trial = _trial_push if request.POST.get("way") == "push" else _trial_mail
    if cache.add(f"message-test:{request.user.pk}", 1, TRIAL_SECONDS):
        is_good, words = trial(request.user)
    else:
        is_good, words = False, gettext("Wait a moment before the next test.")
    (messages.success if is_good else messages.error)(request, words)
    return _back()


def _trial_push(person: Person) -> tuple[bool, str]:
    now = timezone.now()
    try:
        number = push_to_devices(person=person, notice=trial_notice(now), now=now)
    except NoDeviceError:
        return False, gettext("None of your devices takes messages. Add this one.")
    except PushError:
        return False, gettext(
            "No device could be reached: its push service did not take the test. "
            "Try again later."
        )
    return True, ngettext(
        "The test is on its way to {number} device. If it does not show within a "
        "minute, look whether its settings allow notifications.",
        "The test is on its way to {number} devices. If it does not show within a "
        "minute, look whether their settings allow notifications.",
        number,
    ).format(number=number)


def _trial_mail(person: Person) -> tuple[bool, str]:
    address = confirmed_address(person)
    if settings.MESSAGE_CHANNEL != EMAIL:
        return False, gettext("This server sends no mail.")
    if not address:
        return False, gettext("Confirm your email address first.")
    try:
        mail_trial(person)
    except Exception:
        logger.warning("A test was not sent by mail", exc_info=True)
        return False, gettext(
            "The mail server did not take the test. Whoever runs this server finds the "
            "reason in its log."
        )
    return True, gettext(
        "The test was sent to {address}. If it does not come, look among unwanted mail."
    ).format(address=address)
