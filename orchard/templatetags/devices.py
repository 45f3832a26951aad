"""What a browser calls itself, in a person's words."""

from django import template
from django.utils.translation import gettext, gettext_noop

register = template.Library()

# Browsers carry the names of those they descend from; the first that fits is the one.
BROWSERS = {
    "Edg": "Edge",
    "OPR": "Opera",
    "SamsungBrowser": "Samsung Internet",
    "Firefox": "Firefox",
    "FxiOS": "Firefox",
    "CriOS": "Chrome",
    "Chrome": "Chrome",
    "Safari": "Safari",
}
SYSTEMS = {
    "iPhone": "iPhone",
    "iPad": "iPad",
    "Android": "Android",
    "CrOS": gettext_noop("a Chromebook"),
    "Windows": "Windows",
    "Mac OS X": gettext_noop("a Mac"),
    "Linux": "Linux",
}


@register.filter
def device(user_agent: str) -> str:
    """Return the browser and the system, as far as the user agent tells them."""
    browser = next((name for sign, name in BROWSERS.items() if sign in user_agent), "")
    system = next((name for sign, name in SYSTEMS.items() if sign in user_agent), "")
    if not browser:
        if not system:
            return gettext("An unknown program")
        return gettext("A program on {system}").format(system=gettext(system))
    if not system:
        return browser
    return gettext("{browser} on {system}").format(
        browser=browser, system=gettext(system)
    )
