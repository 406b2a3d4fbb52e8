"""The app's name and label."""

from django.apps import AppConfig


class ReviewConfig(AppConfig):
    """The maker's pages about commissions."""

    name = "workshop.review"
    label = "review"
