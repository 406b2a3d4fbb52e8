"""The app's name and label."""

from django.apps import AppConfig


class RackConfig(AppConfig):
    """Clefts in stock."""

    name = "workshop.rack"
    label = "rack"
