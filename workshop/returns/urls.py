"""Addresses of the returns desk and of handing bats over, under /floor/."""

from django.urls import path

from workshop.returns import delivering, views

app_name = "returns"

urlpatterns = [
    path("returns/", views.desk, name="desk"),
    path("returns/<str:code>/", views.one, name="one"),
    path("returns/<str:code>/look/", views.look, name="look"),
    path("commissions/<str:code>/deliver/", delivering.deliver, name="deliver"),
]
