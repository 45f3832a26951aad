import pytest

from orchard.templatetags.devices import device

# User agents as these browsers send them (from memory; only the signs matter).
CHROME = "Mozilla/5.0 (Linux; Android 10; K) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/137.0.0.0 Mobile Safari/537.36"
SAFARI = "Mozilla/5.0 (iPhone; CPU iPhone OS 18_5 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.5 Mobile/15E148 Safari/604.1"
EDGE = "Mozilla/5.0 (Windows NT 10.0; Win64; x64) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/137.0.0.0 Safari/537.36 Edg/137.0.0.0"
FIREFOX = "Mozilla/5.0 (Macintosh; Intel Mac OS X 10.15; rv:139.0) Gecko/20100101 Firefox/139.0"


@pytest.mark.parametrize(
    ("user_agent", "words"),
    [
        (CHROME, "Chrome on Android"),
        (SAFARI, "Safari on iPhone"),
        (EDGE, "Edge on Windows"),
        (FIREFOX, "Firefox on a Mac"),
        ("curl/8.5.0 (Linux)", "A program on Linux"),
        ("Firefox", "Firefox"),
        ("", "An unknown program"),
    ],
)
def test_a_browser_is_named_in_words(user_agent, words):
    assert device(user_agent) == words
