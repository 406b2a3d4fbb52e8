"""The app's name inside Django; its own label would be that of Django's notices."""

from django.apps import AppConfig


class LettersConfig(AppConfig):
    """Letters and photographs."""

    name = "orders.messages"
    label = "letters"
