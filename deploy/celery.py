"""The background jobs: one Celery app, a job is a function in a ``jobs.py``."""

import os

from celery import Celery

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "deploy.settings")

app = Celery("orchard-care")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks(related_name="jobs")
