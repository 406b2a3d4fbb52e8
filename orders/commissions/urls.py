"""Addresses of a holder's commissions."""

from django.urls import path

from orders.commissions import views

app_name = "commissions"

urlpatterns = [
    path("my/", views.my, name="my"),
    path("commissions/<str:code>/", views.commission, name="commission"),
    path("commissions/<str:code>/accept/", views.accept, name="accept"),
    path("commissions/<str:code>/ask-change/", views.ask_change, name="ask-change"),
    path("commissions/<str:code>/cancel/", views.cancel, name="cancel"),
    path("commissions/<str:code>/answer/", views.answer, name="answer"),
]
