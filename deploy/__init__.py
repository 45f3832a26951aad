"""The wiring: settings, addresses, the web server and the background jobs."""

from deploy.celery import app

__all__ = ["app"]
