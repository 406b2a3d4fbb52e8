"""The app's name and label."""

from django.apps import AppConfig


class MatchConfig(AppConfig):
    """Matching."""

    name = "workshop.match"
    label = "match"
