"""Addresses of the pages that show the plan and the log."""

from django.urls.resolvers import URLPattern

urlpatterns: list[URLPattern] = []
