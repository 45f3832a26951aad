"""A place, kept answers of services, and a service that gives them."""

from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from orchard.sources.arriving import AskedPlace

FIXTURES = Path(__file__).parent / "fixtures"


def fixture(name):
    return (FIXTURES / name).read_bytes()


def place(
    zone="America/Los_Angeles", now="2026-11-26T15:00", at=(47.45, -122.31), height=120
):
    moment = datetime.fromisoformat(now).replace(tzinfo=UTC)
    return AskedPlace(at[0], at[1], float(height), ZoneInfo(zone), moment)


def oslo(now="2026-11-26T05:30"):
    return place("Europe/Oslo", now, (59.9, 10.7), 90)


class Service:
    """Answers by the beginning of an address; an exception as answer is raised."""

    def __init__(self, answers, known=None):
        self.answers = answers
        self.known = dict(known or {})
        self.asked = []

    def __call__(self, url, *, is_main=True):
        self.asked.append((url, is_main))
        answer = next(self.answers[key] for key in self.answers if url.startswith(key))
        if isinstance(answer, list):
            answer = answer.pop(0)
        if isinstance(answer, Exception):
            raise answer
        return answer

    def recall(self, name, *, no_older_than):
        assert no_older_than.days == 7
        return self.known.get(name)

    def remember(self, name, value):
        self.known[name] = value
