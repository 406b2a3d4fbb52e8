"""The app's name and label."""

from django.apps import AppConfig


class PeopleConfig(AppConfig):
    """People and how they sign in."""

    name = "orders.people"
    label = "people"
