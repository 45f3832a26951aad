"""The browser of the tests: where it is and how it is started."""

import shutil

CHROMIUM = shutil.which("chromium") or shutil.which("google-chrome")
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
