"""Addresses of the pages that edit what exists."""

from django.urls import path

from orchard.views import signin

urlpatterns = [
    path("signin/<str:token>/", signin.signin_once, name="signin_once"),
]
