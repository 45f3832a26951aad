"""How soon a poor phone shows the Round: ``python -m tests.benchmarks.phone``.

Starts the real program on a folder of its own with the demonstration, signs in by a
one-time link as a person would, and opens the Round in Chromium as a first and as a
repeated visit, over 1.6 Mbit/s with 150 ms each way and back on a processor slowed
four times. Prints what came over the network, compressed as it came, the largest
contentful paint and the layout shift, each beside its goal.
"""

import json
import os
import shutil
import socket
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from urllib.error import URLError
from urllib.parse import urlsplit

from playwright.sync_api import BrowserContext, sync_playwright

from tests.browser.chromium import ARGUMENTS, CHROMIUM

ROOT = Path(__file__).resolve().parent.parent.parent
RUNS = 5
KILOBYTE = 1000
#: A slow 4G line: 1.6 Mbit/s each way, 150 ms there and back.
SLOW_LINE = {
    "offline": False,
    "latency": 150,
    "downloadThroughput": 1.6e6 / 8,
    "uploadThroughput": 1.6e6 / 8,
}
SLOWER = 4
GOALS = {"first kB": 60, "repeat kB": 15, "LCP s": 2.0, "layout shift": 0.0}
#: A dry July morning: pots and young trees want water.
BUSY = """
from orchard.models import Site
Site.objects.filter(slug='alder-row').update(own_today='2014-07-14')
"""
WATCH = """
window.seen = {lcp: 0, shift: 0};
new PerformanceObserver(list => {
  for (const entry of list.getEntries()) window.seen.lcp = entry.startTime;
}).observe({type: 'largest-contentful-paint', buffered: true});
new PerformanceObserver(list => {
  for (const entry of list.getEntries())
    if (!entry.hadRecentInput) window.seen.shift += entry.value;
}).observe({type: 'layout-shift', buffered: true});
"""


@dataclass(frozen=True, slots=True)
class Visit:
    """What one opening of the page cost."""

    bytes_received: int
    lcp_s: float
    shift: float
    by_kind: dict[str, int]


@contextmanager
def running(folder: Path) -> Iterator[str]:
    """Run the whole program on ``folder``; give its address."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    address = f"http://localhost:{port}"
    environment = {**os.environ, "ORCHARD_BASE_URL": address}
    command = ["-m", "deploy.supervisor", "--port", str(port), "--data", str(folder)]
    started = subprocess.Popen(
        [sys.executable, *command],
        cwd=ROOT,
        env=environment,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        wait_for(f"{address}/healthz")
        yield address
    finally:
        started.terminate()
        started.wait(20)


def wait_for(address: str, seconds: int = 180) -> None:
    """Return once an address answers."""
    deadline = time.monotonic() + seconds
    while True:
        try:
            urllib.request.urlopen(address, timeout=5)  # noqa: S310 (our own address)
        except URLError:
            if time.monotonic() > deadline:
                raise
            time.sleep(0.5)
        else:
            return


def manage(folder: Path, address: str, *arguments: str) -> str:
    """Run a command of the program; return what it printed."""
    environment = {
        **os.environ,
        "ORCHARD_BASE_URL": address,
        "ORCHARD_DATA": str(folder),
    }
    done = subprocess.run(
        [sys.executable, "manage.py", *arguments],
        cwd=ROOT,
        env=environment,
        check=True,
        capture_output=True,
        text=True,
    )
    return done.stdout


def way_in(folder: Path, address: str) -> str:
    """Return a one-time link for the demonstration's owner, on a busy day."""
    manage(folder, address, "shell", "-c", BUSY)
    answer = manage(folder, address, "signin_link", "marta", "--json")
    return str(json.loads(answer)["url"])


def sign_in(context: BrowserContext, link: str) -> str:
    """Sign in and return the Round's address."""
    page = context.new_page()
    page.goto(link)
    page.get_by_role("button").first.click()
    page.wait_for_url("**/s/*/")
    address = page.url
    page.close()
    return address


def visit(context: BrowserContext, address: str, *, is_first: bool) -> Visit:
    """Open the page once on the slow line; a first visit has nothing kept."""
    page = context.new_page()
    session = context.new_cdp_session(page)
    session.send("Network.enable")
    if is_first:
        forget(session, address)
    session.send("Network.emulateNetworkConditions", SLOW_LINE)
    session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    received: dict[str, int] = {}
    kinds: dict[str, str] = {}
    session.on(
        "Network.responseReceived",
        lambda said: kinds.update({said["requestId"]: said["type"]}),
    )
    session.on(
        "Network.loadingFinished",
        lambda said: received.update({said["requestId"]: said["encodedDataLength"]}),
    )
    page.add_init_script(WATCH)
    page.goto(address, wait_until="networkidle")
    page.wait_for_timeout(500)
    seen = page.evaluate("window.seen")
    page.close()
    by_kind: dict[str, int] = {}
    for request, size in received.items():
        kind = kinds.get(request, "Other")
        by_kind[kind] = by_kind.get(kind, 0) + int(size)
    return Visit(
        sum(by_kind.values()), seen["lcp"] / 1000, float(seen["shift"]), by_kind
    )


def forget(session: object, address: str) -> None:
    """Throw away what the browser kept of the program, but who is signed in."""
    parts = urlsplit(address)
    send = session.send  # type: ignore[attr-defined]
    send("Network.clearBrowserCache")
    send(
        "Storage.clearDataForOrigin",
        {
            "origin": f"{parts.scheme}://{parts.netloc}",
            "storageTypes": "cache_storage,indexeddb",
        },
    )


def say(name: str, value: float) -> None:
    """Print one figure beside its goal."""
    goal = GOALS[name]
    ratio = f"{value / goal:5.2f} of it" if goal else ""
    sys.stdout.write(f"{name:14} {value:8.2f}   goal {goal:5.1f}   {ratio}\n")


def main() -> None:
    """Measure and print."""
    folder = Path(tempfile.mkdtemp())
    try:
        with running(folder) as address, sync_playwright() as driver:
            link = way_in(folder, address)
            browser = driver.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
            context = browser.new_context(
                viewport={"width": 390, "height": 844},
                device_scale_factor=2,
                has_touch=True,
                is_mobile=True,
                # What a worker fetches is neither slowed nor counted by the page's own
                # session: measured is the page without one, which is the worse case.
                service_workers="block",
            )
            page = sign_in(context, link)
            first = [visit(context, page, is_first=True) for _ in range(RUNS)]
            again = [visit(context, page, is_first=False) for _ in range(RUNS)]
            browser.close()
    finally:
        shutil.rmtree(folder)
    say("first kB", statistics.median(one.bytes_received for one in first) / KILOBYTE)
    sys.stdout.write(f"  of which {first[0].by_kind}\n")
    say("repeat kB", statistics.median(one.bytes_received for one in again) / KILOBYTE)
    say("LCP s", statistics.median(one.lcp_s for one in first))
    say("layout shift", max(one.shift for one in [*first, *again]))


if __name__ == "__main__":
    main()
