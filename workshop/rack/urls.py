"""The rack's addresses, under /floor/rack/."""

from django.urls import path

from workshop.rack import views

app_name = "rack"
urlpatterns = [
    path("", views.clefts_page, name="clefts"),
    path("take-in/", views.take_in, name="take-in"),
    path("<slug:code>/", views.cleft_page, name="cleft"),
    path("<slug:code>/weigh/", views.weigh, name="weigh"),
    path("<slug:code>/standing/", views.standing, name="standing"),
    path("<slug:code>/hold/", views.hold, name="hold"),
    path("<slug:code>/release/", views.release, name="release"),
]
