"""Start and end the three processes: the web server, one worker, the timetable."""

import argparse
import fcntl
import os
import signal
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from types import FrameType
from typing import IO

STOP_AFTER_S = 8.0
ROOT = Path(__file__).resolve().parent.parent


def read_options(arguments: Sequence[str]) -> argparse.Namespace:
    """Return the options of ``./deploy/run``."""
    parser = argparse.ArgumentParser(prog="./deploy/run")
    parser.add_argument("--host", default="127.0.0.1", help="address to listen on")
    parser.add_argument("--port", type=int, default=8000)
    parser.add_argument("--data", type=Path, help="folder that keeps everything")
    parser.add_argument("--empty", action="store_true", help="no demonstration")
    return parser.parse_args(arguments)


def set_environment(options: argparse.Namespace) -> None:
    """Put the options where the settings read them."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "deploy.settings")
    if options.data:
        os.environ["ORCHARD_DATA"] = str(options.data.expanduser().resolve())
    given = ("ORCHARD_BASE_URL" in os.environ) or (
        "ORCHARD_BASE_URL_FILE" in os.environ
    )
    if not given:
        shown = "localhost"
        if options.host not in ("127.0.0.1", "localhost", "::1", "0.0.0.0", "::"):  # noqa: S104 (recognised, not bound)
            shown = options.host
        os.environ["ORCHARD_BASE_URL"] = f"http://{shown}:{options.port}"


def say(line: str) -> None:
    """Print one line to the person at the terminal, at once."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def take_lock(folder: Path) -> IO[str]:
    """Keep a second copy out of the data folder; the lock dies with the process."""
    handle = (folder / "lock").open("a", encoding="utf-8")
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        sys.exit(f"Another copy already runs on {folder}. Stop it, or choose --data.")
    return handle


def make_ready(*, is_empty: bool) -> None:
    """Migrate, collect the static files and load the demonstration once."""
    import django
    from django.core.management import call_command

    django.setup()
    call_command("migrate", interactive=False, verbosity=0)
    call_command("collectstatic", interactive=False, verbosity=0)
    from orchard.actions.push_keys import make_key_once

    make_key_once()
    if not is_empty:
        call_command("demo", "load", once=True, verbosity=0)


def greet() -> None:
    """Print the address, and a one-time way in where there is somebody to sign in."""
    from django.conf import settings

    from orchard.actions.people import first_person, make_signin_link

    say("")
    say(f"  Orchard care is at {settings.BASE_URL}")
    person = first_person()
    if person is None:
        say(f"  Make the first account: {settings.BASE_URL}/accounts/signup/")
    else:
        link = make_signin_link(person=person)
        say(f"  Sign in as {person.shown_name}, once, within 10 minutes: {link}")
    say("  Ctrl-C ends it.")
    say("")


def commands(options: argparse.Namespace, folder: Path) -> list[list[str]]:
    """Return the three command lines."""
    celery = [sys.executable, "-m", "celery", "--quiet", "-A", "deploy"]
    web = [sys.executable, "-m", "granian", "--interface", "wsgi"]
    web += ["--host", options.host, "--port", str(options.port)]
    web += ["--workers", "1", "--blocking-threads", "4", "--no-access-log"]
    web += ["--log-level", "warning", "deploy.wsgi:application"]
    quiet = ["--loglevel", "warning"]
    worker = [*celery, "worker", "--pool", "solo", *quiet]
    worker += ["--without-gossip", "--without-mingle", "--without-heartbeat"]
    worker += ["--hostname", "worker@localhost"]
    timetable = [*celery, "beat", *quiet, "--schedule", str(folder / "queue" / "beat")]
    timetable += ["--pidfile", ""]
    return [web, worker, timetable]


def serve(lines: list[list[str]]) -> int:
    """Run until a signal comes or a process ends; end them all within ten seconds."""
    is_ending = False

    def end(_number: int, _frame: FrameType | None) -> None:
        nonlocal is_ending
        is_ending = True

    signal.signal(signal.SIGTERM, end)
    signal.signal(signal.SIGINT, end)
    # A group of its own: Ctrl-C reaches only us, and we end the three in order.
    running = [
        subprocess.Popen(line, cwd=ROOT, start_new_session=True)  # noqa: S603 (our own lines)
        for line in lines
    ]
    while not is_ending and all(process.poll() is None for process in running):
        time.sleep(0.2)
    status = 0 if is_ending else 1
    if not is_ending:
        say("A part of the program ended by itself; stopping the rest.")
    for process in running:
        if process.poll() is None:
            process.terminate()
    deadline = time.monotonic() + STOP_AFTER_S
    for process in running:
        try:
            process.wait(max(0.1, deadline - time.monotonic()))
        except subprocess.TimeoutExpired:
            os.killpg(process.pid, signal.SIGKILL)
            process.wait()
    return status


def main() -> int:
    """Run ``./deploy/run``."""
    options = read_options(sys.argv[1:])
    set_environment(options)
    from deploy import environment

    folder = environment.data_folder()
    lock = take_lock(folder)
    make_ready(is_empty=options.empty)
    greet()
    try:
        return serve(commands(options, folder))
    finally:
        lock.close()


if __name__ == "__main__":
    sys.exit(main())
