"""Tell Django about this app."""

from django.apps import AppConfig


class CareConfig(AppConfig):
    name = "care"
    default_auto_field = "django.db.models.BigAutoField"
