"""A strict reader of calendar files: what RFC 5545 says and the usual programs forgive.

Calendar libraries and servers accept files without UID or with lines of any length; a
subscriber's program may not. :func:`problems` names every rule that a file breaks, from
RFC 5545 (section given beside each rule) and RFC 7986, and a few of our own ("own").

Only what a calendar of events uses is known here; anything else is a problem too.
"""

import re
import unicodedata
from collections import Counter
from dataclasses import dataclass, field
from datetime import datetime
from urllib.parse import urlsplit

LONGEST_LINE_OCTETS = 75

(
    TEXT,
    DATE_OR_TIME,
    CLOCK_TIME,
    OFFSET,
    YEARLY,
    UTC_TIME,
    INTEGER,
    DURATION,
    URI,
    WORD,
) = (
    "text",
    "date or time",
    "clock time",
    "offset",
    "yearly rule",
    "UTC time",
    "integer",
    "duration",
    "URI",
    "word",
)

# Property: (type, least, most). RFC 5545 3.6 and 3.7; RFC 7986 section 5.
# NAME and DESCRIPTION may return in another language; this project has one ("own").
CALENDAR_TABLE = {
    "VERSION": (WORD, 1, 1),
    "PRODID": (TEXT, 1, 1),
    "CALSCALE": (WORD, 0, 1),
    "NAME": (TEXT, 0, 1),
    "DESCRIPTION": (TEXT, 0, 1),
    "REFRESH-INTERVAL": (DURATION, 0, 1),
    "X-WR-CALNAME": (TEXT, 0, 1),
    "X-PUBLISHED-TTL": (DURATION, 0, 1),
}

# RFC 5545 3.6.1. Without METHOD, DTSTART is required. LAST-MODIFIED and DTEND are
# optional there and required here ("own").
EVENT_TABLE = {
    "UID": (TEXT, 1, 1),
    "DTSTAMP": (UTC_TIME, 1, 1),
    "DTSTART": (DATE_OR_TIME, 1, 1),
    "DTEND": (DATE_OR_TIME, 1, 1),
    "LAST-MODIFIED": (UTC_TIME, 1, 1),
    "SEQUENCE": (INTEGER, 0, 1),
    "SUMMARY": (TEXT, 0, 1),
    "DESCRIPTION": (TEXT, 0, 1),
    "LOCATION": (TEXT, 0, 1),
    "CREATED": (UTC_TIME, 0, 1),
    "CLASS": (WORD, 0, 1),
    "STATUS": (WORD, 0, 1),
    "TRANSP": (WORD, 0, 1),
    "URL": (URI, 0, 1),
    "X-MICROSOFT-CDO-BUSYSTATUS": (WORD, 0, 1),
}

# RFC 5545 3.6.5. A rule, never a table of dates: some programs ignore one ("own").
ZONE_TABLE = {"TZID": (TEXT, 1, 1)}
RULE_TABLE = {
    "DTSTART": (CLOCK_TIME, 1, 1),
    "TZOFFSETFROM": (OFFSET, 1, 1),
    "TZOFFSETTO": (OFFSET, 1, 1),
    "RRULE": (YEARLY, 0, 1),
}

TABLES = {
    "VCALENDAR": CALENDAR_TABLE,
    "VEVENT": EVENT_TABLE,
    "VTIMEZONE": ZONE_TABLE,
    "STANDARD": RULE_TABLE,
    "DAYLIGHT": RULE_TABLE,
}

# RFC 5545 3.7.1, 3.7.4, 3.8.1.3, 3.8.1.11, 3.8.2.7; the last one Microsoft's.
WORDS = {
    "VERSION": {"2.0"},
    "CALSCALE": {"GREGORIAN"},
    "CLASS": {"PUBLIC", "PRIVATE", "CONFIDENTIAL"},
    "STATUS": {"TENTATIVE", "CONFIRMED", "CANCELLED"},
    "TRANSP": {"OPAQUE", "TRANSPARENT"},
    "X-MICROSOFT-CDO-BUSYSTATUS": {"FREE", "TENTATIVE", "BUSY", "OOF"},
}

# RFC 5545 3.8.2.2, 3.8.2.4; RFC 7986 5.7 makes VALUE compulsory there.
PARAMETERS = {
    "DTSTART": {"VALUE", "TZID"},
    "DTEND": {"VALUE", "TZID"},
    "REFRESH-INTERVAL": {"VALUE"},
}

# RFC 5545 3.1: a name, parameters with quoted or plain values, a value.
NAME = r"[A-Za-z0-9-]+"
PARAMETER = rf'({NAME})=("[^"\x00-\x08\x0a-\x1f\x7f]*"|[^";:,\x00-\x08\x0a-\x1f\x7f]*)'
LINE = re.compile(rf"({NAME})((?:;{PARAMETER})*):(.*)", re.DOTALL)

# RFC 5545 3.3.11: a backslash, ";" and "," are escaped; nothing else is.
GOOD_TEXT = re.compile(r"(?:[^\\;,]|\\[\\;,nN])*", re.DOTALL)

# RFC 5545 3.3.6, positive only: neither interval here can be negative.
GOOD_DURATION = re.compile(
    r"\+?P(?:\d+W|\d+D(?:T(?=\d)(?:\d+H)?(?:\d+M)?(?:\d+S)?)?"
    r"|T(?=\d)(?:\d+H)?(?:\d+M)?(?:\d+S)?)"
)

# RFC 5545 3.3.14, 3.3.10; one weekday of one month each year ("own").
GOOD_OFFSET = re.compile(r"(?!-0000$)[+-](?:[01]\d|2[0-3])[0-5]\d(?:[0-5]\d)?")
GOOD_RULE = re.compile(
    r"FREQ=YEARLY;BYDAY=(?:-1|[1-4])(?:MO|TU|WE|TH|FR|SA|SU);BYMONTH=(?:1[0-2]|[1-9])"
)

RANDOM_UID = re.compile(r"[0-9a-f]{8}-(?:[0-9a-f]{4}-){3}[0-9a-f]{12}")


@dataclass
class Property:
    """One unfolded line."""

    name: str
    parameters: dict[str, str]
    value: str

    @property
    def text(self) -> str:
        """The value with its escapes undone, each character once."""
        return re.sub(
            r"\\(.)",
            lambda found: "\n" if found[1] in "nN" else found[1],
            self.value,
        )


@dataclass
class Component:
    """A BEGIN with all up to its END."""

    name: str
    properties: list[Property] = field(default_factory=list)
    components: list["Component"] = field(default_factory=list)

    def all(self, name: str) -> list[Property]:
        """Return the properties of one name."""
        return [one for one in self.properties if one.name == name]

    def text(self, name: str) -> str:
        """Return the text of a property that is there once."""
        (only,) = self.all(name)
        return only.text


def problems(content: bytes) -> set[str]:
    """Return a short name for each rule that the file breaks; empty if none."""
    found = set(_line_problems(content))
    calendar = read(content, found)
    if calendar is not None:
        found |= _calendar_problems(calendar)
    return found


def read(content: bytes, found: set[str] | None = None) -> Component | None:
    """Return the calendar of a file, adding what is wrong to ``found``."""
    found = set() if found is None else found
    outermost = _nest(_properties(content, found), found)
    if outermost.properties:
        found.add("line outside the VCALENDAR")
    if [one.name for one in outermost.components] != ["VCALENDAR"]:
        found.add("not one VCALENDAR")
        return None
    return outermost.components[0]


def _nest(lines: list[Property], found: set[str]) -> Component:
    """Put the lines between each BEGIN and its END into a component of their own."""
    stack = [Component("file")]
    for one in lines:
        if one.name == "BEGIN":
            inner = Component(one.value)
            stack[-1].components.append(inner)
            stack.append(inner)
        elif one.name != "END":
            stack[-1].properties.append(one)
        elif stack[-1].name == one.value:
            stack.pop()
        else:
            found.add("END without its BEGIN")
    if len(stack) > 1:
        found.add("BEGIN without its END")
    return stack[0]


def _properties(content: bytes, found: set[str]) -> list[Property]:
    # RFC 5545 3.1: joined before decoding, a fold may split a character.
    unfolded = re.sub(rb"\r?\n[ \t]", b"", content).decode("utf-8", "replace")
    properties = []
    for line in filter(None, re.split(r"\r?\n", unfolded)):
        one = _property(line)
        if one is None:
            found.add("line is not name:value")
        else:
            properties.append(one)
    return properties


def _property(line: str) -> Property | None:
    match = LINE.fullmatch(line)
    if match is None:
        return None
    parameters = {
        name.upper(): value.strip('"')
        for name, value in re.findall(f";{PARAMETER}", match[2])
    }
    return Property(match[1].upper(), parameters, match[5])


def _line_problems(content: bytes) -> set[str]:
    """Check what RFC 5545 3.1 says of the lines of the file."""
    found = set()
    if not content.endswith(b"\r\n"):
        found.add("last line does not end in CRLF")
    lines = content.removesuffix(b"\r\n").split(b"\r\n")
    if any(b"\r" in line or b"\n" in line for line in lines):
        found.add("bare CR or LF")
    if any(len(line) > LONGEST_LINE_OCTETS for line in lines):
        found.add("line longer than 75 octets")
    if any(not line for line in lines):
        found.add("empty line")
    if content.startswith((b" ", b"\t")):
        found.add("first line is a continuation")
    if content.startswith(b"\xef\xbb\xbf"):
        found.add("byte order mark")
    for line in lines:
        found |= _character_problems(line)
    return found


def _character_problems(line: bytes) -> set[str]:
    try:
        text = line.decode("utf-8")
    except UnicodeDecodeError:
        # The fold may come between any two octets, but many programs decode first.
        return {"line is not whole UTF-8"}
    if any(ord(one) < 0x20 and one not in "\t\r\n" for one in text) or "\x7f" in text:
        return {"control character"}
    return set()


def _calendar_problems(calendar: Component) -> set[str]:
    found = _table_problems(calendar)
    if not calendar.components:
        found.add("no component")  # RFC 5545 3.6
    if calendar.all("METHOD"):
        found.add("METHOD in a published calendar")  # own: METHOD asks for ORGANIZER
    for one in calendar.all("REFRESH-INTERVAL"):
        if one.parameters.get("VALUE") != "DURATION":
            found.add("REFRESH-INTERVAL without VALUE=DURATION")
    zones = [one for one in calendar.components if one.name == "VTIMEZONE"]
    found |= _zone_problems(zones, calendar)
    uids: Counter[str] = Counter()
    for event in calendar.components:
        if event.name == "VTIMEZONE":
            continue
        found |= _event_problems(event)
        uids.update(one.value for one in event.all("UID"))
    if any(count > 1 for count in uids.values()):
        found.add("UID twice")  # RFC 5545 3.8.4.7
    return found


def _zone_problems(zones: list[Component], calendar: Component) -> set[str]:
    """Check RFC 5545 3.6.5 and 3.2.19: each zone whole, and there for each that is named."""
    found = set()
    for zone in zones:
        found |= _table_problems(zone)
        if not zone.components:
            found.add("VTIMEZONE without a rule")
        for rule in zone.components:
            if rule.name not in {"STANDARD", "DAYLIGHT"}:
                found.add(f"component {rule.name}")
            else:
                found |= _table_problems(rule)
    told = {zone.text("TZID") for zone in zones if zone.all("TZID")}
    named = {
        one.parameters["TZID"]
        for event in calendar.components
        for one in event.properties
        if "TZID" in one.parameters
    }
    return found | ({"TZID without its VTIMEZONE"} if named - told else set())


def _event_problems(event: Component) -> set[str]:
    if event.name != "VEVENT":
        return {f"component {event.name}"}
    found = _table_problems(event)
    found |= {f"component {one.name}" for one in event.components}  # own: no alarms
    for uid in event.all("UID"):
        if not RANDOM_UID.fullmatch(uid.value):
            found.add("UID is not a random id")  # RFC 7986 5.3
    stamps = [one.value for one in event.all("DTSTAMP")]
    if stamps != [one.value for one in event.all("LAST-MODIFIED")]:
        found.add("DTSTAMP is not LAST-MODIFIED")  # RFC 5545 3.8.7.2
    starts, ends = event.all("DTSTART"), event.all("DTEND")
    if len(starts) == len(ends) == 1:
        found |= _span_problems(starts[0], ends[0])
    return found


def _span_problems(start: Property, end: Property) -> set[str]:
    """Check RFC 5545 3.8.2.2: DTEND is of DTSTART's type and later, as is exclusive."""
    if start.parameters != end.parameters or len(start.value) != len(end.value):
        return {"DTEND of another type"}
    return {"DTEND not after DTSTART"} if end.value <= start.value else set()


def _table_problems(component: Component) -> set[str]:
    """Check how often each property occurs, its parameters and its value."""
    found = set()
    table = TABLES[component.name]
    counts = Counter(one.name for one in component.properties)
    for name, (_, least, most) in table.items():
        if counts[name] < least:
            found.add(f"no {name}")
        if counts[name] > most:
            found.add(f"{name} twice")
    for one in component.properties:
        if one.name not in table:
            found.add(f"unknown {one.name}")
            continue
        if not one.parameters.keys() <= PARAMETERS.get(one.name, set()):
            found.add(f"parameter of {one.name}")
        if not _is_good(one, table[one.name][0]):
            found.add(f"value of {one.name}")
    return found


def _is_good(one: Property, kind: str) -> bool:
    checks = {
        TEXT: lambda: (
            GOOD_TEXT.fullmatch(one.value) is not None
            and unicodedata.is_normalized("NFC", one.value)  # own
        ),
        DATE_OR_TIME: lambda: _is_good_start(one),
        CLOCK_TIME: lambda: (
            not one.parameters and _is_real(one.value, "%Y%m%dT%H%M%S", 15)
        ),
        OFFSET: lambda: GOOD_OFFSET.fullmatch(one.value) is not None,
        YEARLY: lambda: GOOD_RULE.fullmatch(one.value) is not None,
        UTC_TIME: lambda: _is_real(one.value, "%Y%m%dT%H%M%SZ", 16),
        INTEGER: lambda: re.fullmatch(r"\+?\d{1,10}", one.value, re.ASCII) is not None,
        DURATION: lambda: GOOD_DURATION.fullmatch(one.value) is not None,
        URI: lambda: _is_good_address(one.value),
        WORD: lambda: one.value in WORDS[one.name],
    }
    return checks[kind]()


def _is_good_start(one: Property) -> bool:
    """Accept a date, said to be one, a UTC time, or one in a zone; none that floats."""
    if one.parameters == {"VALUE": "DATE"}:
        return _is_real(one.value, "%Y%m%d", 8)
    if one.parameters.keys() == {"TZID"}:
        return _is_real(one.value, "%Y%m%dT%H%M%S", 15)
    if one.parameters in ({}, {"VALUE": "DATE-TIME"}):
        return _is_real(one.value, "%Y%m%dT%H%M%SZ", 16)
    return False


def _is_real(value: str, pattern: str, length: int) -> bool:
    # strptime also takes single digits, hence the length.
    if len(value) != length or not value.isascii():
        return False
    try:
        datetime.strptime(value, pattern)  # noqa: DTZ007 (only whether it can be read)
    except ValueError:
        return False
    return True


def _is_good_address(value: str) -> bool:
    parts = urlsplit(value)
    is_plain = all("!" <= one <= "~" and one not in '"<>\\^`{|}' for one in value)
    return is_plain and parts.scheme in {"http", "https"} and bool(parts.netloc)
