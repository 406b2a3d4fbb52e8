"""The app's name and label."""

from django.apps import AppConfig


class CareConfig(AppConfig):
    """Delivery, aftercare and returns."""

    name = "orders.care"
    label = "care"
