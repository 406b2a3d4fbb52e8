"""The app's name and label."""

from django.apps import AppConfig


class RulesConfig(AppConfig):
    """The rule book: how a bat is decided, for whoever wants to know."""

    name = "orders.rules"
    label = "rules"
