"""Addresses of the book's pages, the maker's alone, under /floor/book/."""

from django.urls import path

from workshop.book import editions, saving, sign_views, step_views, views

app_name = "book"

urlpatterns = [
    path("", views.book, name="book"),
    path("try/", saving.try_out, name="try"),
    path("save/", saving.save, name="save"),
    path("drop/", saving.drop, name="drop"),
    path("editions/", editions.editions, name="editions"),
    path("signs/<slug:subject>/", sign_views.signs, name="signs"),
    path("steps/", step_views.steps, name="steps"),
    path("<slug:chapter>/", views.chapter, name="chapter"),
]
