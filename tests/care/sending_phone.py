"""A phone that keeps what is done on it, and sends it as its script does."""

import json
import uuid
from datetime import datetime, timedelta
from typing import Any

from django.test import Client
from django.utils import timezone

PATH = "/s/test-site/sending/"


class Phone:
    """One person's phone; its clock may be ``ahead_h`` ahead of ours."""

    def __init__(self, client: Client, *, ahead_h: float = 0.0) -> None:
        self.client = client
        self.ahead = timedelta(hours=ahead_h)

    def clock(self) -> datetime:
        return timezone.now() + self.ahead

    def keep(
        self, what: str, *, ago_h: float = 0.0, **fields: object
    ) -> dict[str, Any]:
        """Return what the phone keeps of something done ``ago_h`` hours ago."""
        happened_at = self.clock() - timedelta(hours=ago_h)
        return {
            "id": str(uuid.uuid4()),
            "what": what,
            "happened_at": happened_at.isoformat(),
            **fields,
        }

    def post(self, kept: dict[str, Any]) -> tuple[int, dict[str, Any]]:
        body = {"sent_at": self.clock().isoformat(), **kept}
        answer = self.client.post(PATH, body)
        return answer.status_code, json.loads(answer.content)

    def send(self, what: str, **fields: Any) -> tuple[int, dict[str, Any]]:
        return self.post(self.keep(what, **fields))
