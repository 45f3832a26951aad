"""Workers that reach for the same messages at the same instant."""

from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from threading import Barrier

import pytest
from django.db import connection

from orchard.actions.messages import Told, lease_next, write_message
from orchard.models import Message, Person

NOW = datetime(2026, 3, 1, 16, 0, tzinfo=UTC)
WORKERS = 4


@pytest.mark.postgresql
@pytest.mark.django_db(transaction=True)
def test_each_message_is_leased_by_one_of_four_workers():
    person = Person.objects.create_user("told")
    for number in range(40):
        write_message(
            person=person,
            orchard=None,
            what=Told.COLD_TONIGHT,
            key=str(number),
            why="A test.",
            title="Cold tonight",
            lines=[],
            due_at=NOW,
        )
    start = Barrier(WORKERS)

    def work(_: int) -> list[int]:
        start.wait(10)
        try:
            taken = []
            while (message := lease_next(now=NOW)) is not None:
                taken.append(message.pk)
            return taken
        finally:
            connection.close()

    with ThreadPoolExecutor(WORKERS) as pool:
        taken = Counter(pk for pks in pool.map(work, range(WORKERS)) for pk in pks)
    assert set(taken.values()) == {1}
    assert len(taken) == 40
    assert not Message.objects.exclude(attempts=1).exists()
