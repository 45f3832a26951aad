"""One command serves, keeps a second copy out, and ends within ten seconds."""

import os
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent
pytestmark = pytest.mark.service


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def start(folder: Path, port: int) -> subprocess.Popen[str]:
    clean = {k: v for k, v in os.environ.items() if not k.startswith("ORCHARD_")}
    clean |= {"DJANGO_SETTINGS_MODULE": "deploy.settings", "PYTHONWARNINGS": "default"}
    line = [sys.executable, "-m", "deploy.supervisor", "--empty", "--data", str(folder)]
    return subprocess.Popen(
        [*line, "--port", str(port)],
        cwd=ROOT,
        env=clean,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )


def answer(url: str) -> str:
    deadline = time.monotonic() + 60
    while True:
        try:
            with urllib.request.urlopen(url, timeout=5) as response:  # noqa: S310 (our own server)
                return str(response.read().decode())
        except OSError:
            if time.monotonic() > deadline:
                raise
            time.sleep(0.2)


def test_it_serves_alone_and_ends_cleanly(tmp_path):
    port = free_port()
    first = start(tmp_path, port)
    try:
        assert answer(f"http://127.0.0.1:{port}/healthz") == "ok"
        second = start(tmp_path, free_port())
        out, _ = second.communicate(timeout=60)
        assert second.returncode != 0
        assert "Another copy already runs" in out
    finally:
        began = time.monotonic()
        first.send_signal(signal.SIGTERM)
        out, _ = first.communicate(timeout=30)
    assert time.monotonic() - began < 10
    assert first.returncode == 0
    assert re.search(rf"http://localhost:{port}", out)
    assert "Make the first account" in out
