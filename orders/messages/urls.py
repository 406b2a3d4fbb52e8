"""Addresses of photographs and of the page that stands for the post."""

from django.urls import path

from orders.messages import views

app_name = "letters"

urlpatterns = [
    path("mail/", views.mail, name="mail"),
    path("photographs/<str:code>/", views.photograph, name="photograph"),
]
