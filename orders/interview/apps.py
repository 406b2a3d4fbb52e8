"""The app's name and label."""

from django.apps import AppConfig


class InterviewConfig(AppConfig):
    """The fitting on the web."""

    name = "orders.interview"
    label = "interview"
