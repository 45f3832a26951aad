"""What the clock of the background jobs sends is what workers know."""

import pytest
from django.conf import settings

from deploy.celery import app


@pytest.mark.django_db  # the models are checked, and the first check asks the database
def test_every_job_on_the_clock_is_known_to_the_workers():
    app.loader.import_default_modules()
    jobs = {entry["task"] for entry in settings.CELERY_BEAT_SCHEDULE.values()}
    assert "orchard.jobs.fetch_weather" in jobs
    assert jobs <= set(app.tasks)


def test_weather_is_asked_for_every_ten_minutes_but_never_on_the_hour():
    entry = settings.CELERY_BEAT_SCHEDULE["fetch-weather"]
    minutes = sorted(entry["schedule"].minute)
    assert minutes == [4, 14, 24, 34, 44, 54]
