"""Addresses of the rule book."""

from django.urls import path

from orders.rules import views

app_name = "rules"

urlpatterns = [
    path("rules/", views.rules, name="rules"),
    path("rules/<slug:subject>/", views.subject, name="subject"),
]
