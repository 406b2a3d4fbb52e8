"""The app's name and label."""

from django.apps import AppConfig


class StockConfig(AppConfig):
    """Handles, supplies, bats without an owner, and scrap."""

    name = "workshop.stock"
    label = "stock"
