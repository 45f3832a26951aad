"""Text and addresses as a calendar file holds them."""

import unicodedata
from typing import Final

from icalendar import vText

# Control characters that RFC 5545 section 3.1 keeps out of every line; a newline
# becomes an escape. The byte order mark goes too: some readers drop such a line.
_FORBIDDEN: Final = frozenset({*map(chr, range(0x20)), "\x7f", "\ufeff"} - {"\t", "\n"})

# Python and some calendar programs take these for ends of lines, iCalendar does not.
_OTHER_NEWLINES: Final = ("\r\n", "\r", "\x85", "\u2028", "\u2029")

_ESCAPES: Final = str.maketrans({"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n"})


class Text(vText):
    r"""Text that comes back as it was.

    The library's own escaping turns a backslash before a capital N into a newline.
    """

    __slots__ = ()

    def to_ical(self) -> bytes:
        """Escape as RFC 5545 section 3.3.11 says, each character once."""
        return self.translate(_ESCAPES).encode()


def clean(text: str) -> str:
    """Return the text without what a calendar file cannot hold, newlines as LF.

    That is control characters and halves of surrogate pairs. Blanks at the end of a
    line go too: some programs take them for a flaw in the file and report it.
    """
    for newline in _OTHER_NEWLINES:
        text = text.replace(newline, "\n")
    kept = (
        character
        for character in text
        if character not in _FORBIDDEN and unicodedata.category(character) != "Cs"
    )
    lines = unicodedata.normalize("NFC", "".join(kept)).split("\n")
    return "\n".join(line.rstrip() for line in lines).rstrip()


def one_line(text: str) -> str:
    """Return clean text as one line, which is all a heading has room for."""
    return " ".join(line.strip() for line in clean(text).split("\n")).strip()


def is_plain_address(url: str) -> bool:
    """Whether it is a web address of the characters that RFC 3986 allows alone."""
    return url.startswith(("https://", "http://")) and all(
        "!" <= character <= "~" and character not in '"<>\\^`{|}' for character in url
    )
