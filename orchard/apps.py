"""Tell Django about this app."""

from django.apps import AppConfig


class OrchardConfig(AppConfig):
    name = "orchard"
    default_auto_field = "django.db.models.BigAutoField"
