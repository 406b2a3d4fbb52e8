"""The site as an app, so that its commands and checks are found."""

from django.apps import AppConfig


class SiteConfig(AppConfig):
    """Loads the site's own system checks."""

    name = "workshop"
    label = "site"

    def ready(self) -> None:
        """Register the checks; importing them is what registers."""
        from workshop import checks  # noqa: F401, PLC0415
