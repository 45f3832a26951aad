"""The project's own settings, with a throw-away data folder and fast passwords."""

import atexit
import os
import tempfile
from pathlib import Path

_folder = Path(tempfile.gettempdir()) / f"orchard-tests-{os.getuid()}"
_folder.mkdir(exist_ok=True)
os.environ["ORCHARD_DATA"] = str(_folder)
os.environ["ORCHARD_BASE_URL"] = "http://testserver"
os.environ["ORCHARD_SECRET_KEY"] = "only-for-tests-" + "x" * 50

from deploy import environment
from deploy.settings import *  # noqa: F403 (this file is the real settings, changed)
from deploy.settings import DATABASES, MIDDLEWARE, STORAGES

if environment.text("TEST_DATABASE_URL"):
    DATABASES["default"] = environment.database(_folder, "TEST_DATABASE_URL")
    DATABASES["default"]["CONN_MAX_AGE"] = 0
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
# Each process keeps its own photos, and takes them along when it ends.
_photos = tempfile.TemporaryDirectory(prefix="orchard-photos-")
atexit.register(_photos.cleanup)
STORAGES["default"]["OPTIONS"]["location"] = _photos.name
STORAGES["staticfiles"] = {
    "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
}
# A browser asks for several things at once.
MIDDLEWARE.insert(0, "tests.turns.in_turns")
