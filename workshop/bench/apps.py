"""The app's name and label."""

from django.apps import AppConfig


class BenchConfig(AppConfig):
    """Bats being made."""

    name = "workshop.bench"
    label = "bench"
