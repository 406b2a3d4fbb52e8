"""Every address of the site, a room each."""

from django.urls import path

from workshop.health import health

urlpatterns = [
    path("health/", health, name="health"),
]
