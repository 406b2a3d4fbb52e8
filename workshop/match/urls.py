"""The addresses of matching, under /floor/match/."""

from django.urls import path

from workshop.match import views

app_name = "match"
urlpatterns = [
    path("", views.match_page, name="match"),
    path("<slug:code>/take/", views.take, name="take"),
    path("<slug:code>/refuse/", views.refuse, name="refuse"),
    path("<slug:code>/think-better/", views.think_better, name="think-better"),
    path("<slug:code>/keep-aside/", views.keep_aside, name="keep-aside"),
]
