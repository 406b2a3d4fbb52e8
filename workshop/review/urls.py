"""Addresses of the maker's pages about commissions, under /floor/."""

from django.urls import path

from workshop import morning, search
from workshop.review import alternatives, editing, proposing, views

app_name = "review"

urlpatterns = [
    path("", morning.morning, name="morning"),
    path("search/", search.search, name="search"),
    path("commissions/<str:code>/", views.review, name="review"),
    path("commissions/<str:code>/alternatives/", alternatives.alternatives, name="alternatives"),
    path("commissions/<str:code>/edit/", editing.edit, name="edit"),
    path("commissions/<str:code>/weigh/", editing.weigh, name="weigh"),
    path("commissions/<str:code>/propose/", proposing.propose, name="propose"),
    path("commissions/<str:code>/withdraw/", proposing.withdraw, name="withdraw"),
    path("commissions/<str:code>/cancel/", proposing.cancel, name="cancel"),
]
