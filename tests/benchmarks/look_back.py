"""How many ranges told on Mondays held, on the two real records; by hand.

``python -m tests.benchmarks.look_back [seattle] [new_york]``
"""

import os
import sys
import time

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
django.setup()

from care.management.commands.hindcast import lines_of  # noqa: E402 (after setup)
from care.planning.hindcast import hindcast  # noqa: E402
from tests.care.planning import hindcast_cases  # noqa: E402

if __name__ == "__main__":
    for name in sys.argv[1:] or ["seattle", "new_york"]:
        record = getattr(hindcast_cases, name)()
        begun = time.process_time()
        report = hindcast(record)
        print(f"{name}: {time.process_time() - begun:.0f} s of one core")
        print("\n".join(lines_of(report)))
