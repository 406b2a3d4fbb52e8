"""The app's name and label."""

from django.apps import AppConfig


class CommissionsConfig(AppConfig):
    """Commissions and their bats."""

    name = "orders.commissions"
    label = "commissions"
