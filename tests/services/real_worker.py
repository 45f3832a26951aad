"""Our own programs, started for real: commands, and workers that take jobs."""

import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
CELERY = [sys.executable, "-m", "celery", "-A", "deploy"]
Environment = dict[str, str]


def manage(environment: Environment, *arguments: str) -> str:
    done = subprocess.run(
        [sys.executable, "manage.py", *arguments],
        cwd=ROOT,
        env=environment,
        check=True,
        capture_output=True,
        timeout=120,
        text=True,
    )
    return done.stdout


@contextmanager
def worker(environment: Environment, log: Path) -> Iterator["subprocess.Popen[bytes]"]:
    """Run one worker until the block ends; what it prints goes to ``log``."""
    quiet = ["--pool", "solo", "--without-gossip", "--without-mingle"]
    with log.open("wb") as output:
        started = subprocess.Popen(
            [*CELERY, "worker", *quiet, "--hostname", f"{log.stem}@test"],
            cwd=ROOT,
            env=environment,
            stdout=output,
            stderr=subprocess.STDOUT,
        )
        try:
            yield started
        finally:
            started.terminate()
            started.wait(20)


def call(environment: Environment, job: str) -> None:
    """Send a job to whatever worker takes it."""
    subprocess.run(
        [*CELERY, "call", job],
        cwd=ROOT,
        env=environment,
        check=True,
        capture_output=True,
        timeout=60,
    )


def ask(folder: Path, question: str) -> list[tuple[object, ...]]:
    """Read or write the database behind the programs' backs."""
    connection = sqlite3.connect(folder / "db.sqlite3", timeout=10)
    try:
        rows = connection.execute(question).fetchall()
        connection.commit()
        return rows
    finally:
        connection.close()


def wait_until(is_so: Callable[[], bool], seconds: int = 60) -> bool:
    """Return whether it came to be so in time."""
    deadline = time.monotonic() + seconds
    while not is_so():
        if time.monotonic() > deadline:
            return False
        time.sleep(0.1)
    return True
