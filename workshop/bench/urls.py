"""The bench's addresses, under /floor/bench/."""

from django.urls import path

from workshop.bench import card_views, cleft_views, inspection_views, views

app_name = "bench"
urlpatterns = [
    path("", views.bats, name="bats"),
    path("<slug:code>/", views.bat, name="bat"),
    path("<slug:code>/begin/", views.begin, name="begin"),
    path("<slug:code>/step/", views.step, name="step"),
    path("<slug:code>/reading/", views.reading, name="reading"),
    path("<slug:code>/take-back/", views.take_back_entry, name="take-back"),
    path("<slug:code>/photograph/", views.photograph, name="photograph"),
    path("<slug:code>/pass-on/", views.pass_on, name="pass-on"),
    path("<slug:code>/go-back/", views.go_back, name="go-back"),
    path("<slug:code>/cleft/", cleft_views.cleft, name="cleft"),
    path("<slug:code>/cleft/put-back/", cleft_views.put_back, name="put-back"),
    path("<slug:code>/cleft/failed/", cleft_views.failed, name="cleft-failed"),
    path("<slug:code>/inspection/", inspection_views.inspection, name="inspection"),
    path("<slug:code>/job-card.pdf", card_views.card, name="job-card"),
]
