"""The bench's addresses, under /floor/bench/."""

from django.urls import path

from workshop.bench import (
    card_views,
    cleft_views,
    failing_views,
    finishing_views,
    handle_views,
    inspection_views,
    pressing_views,
    spell_views,
    standing_views,
    views,
)

app_name = "bench"
urlpatterns = [
    path("", views.bats, name="bats"),
    path("place/", spell_views.place, name="place"),
    path("<slug:code>/", views.bat, name="bat"),
    path("<slug:code>/begin/", views.begin, name="begin"),
    path("<slug:code>/in-hand/", spell_views.begin, name="in-hand"),
    path("<slug:code>/lay-down/", spell_views.end, name="lay-down"),
    path("<slug:code>/step/", views.step, name="step"),
    path("<slug:code>/reading/", views.reading, name="reading"),
    path("<slug:code>/take-back/", views.take_back_entry, name="take-back"),
    path("<slug:code>/photograph/", views.photograph, name="photograph"),
    path("<slug:code>/pass-on/", views.pass_on, name="pass-on"),
    path("<slug:code>/go-back/", views.go_back, name="go-back"),
    path("<slug:code>/cleft/", cleft_views.cleft, name="cleft"),
    path("<slug:code>/cleft/put-back/", cleft_views.put_back, name="put-back"),
    path("<slug:code>/cleft/lie/", cleft_views.orient, name="orient"),
    path("<slug:code>/cleft/lie/take-back/", cleft_views.take_back, name="take-back-lie"),
    path("<slug:code>/press/", pressing_views.press_pass, name="press-pass"),
    path("<slug:code>/press/take-back/", pressing_views.take_back, name="take-back-pass"),
    path("<slug:code>/handle/", handle_views.choose, name="choose-handle"),
    path("<slug:code>/handle/lay-back/", handle_views.lay_back, name="lay-back-handle"),
    path("<slug:code>/handle/reject/", handle_views.reject, name="reject-handle"),
    path("<slug:code>/reason/", handle_views.reason, name="reason"),
    path("<slug:code>/coat/", finishing_views.coat, name="coat"),
    path("<slug:code>/coat/take-back/", finishing_views.take_back, name="take-back-coat"),
    path("<slug:code>/material/", finishing_views.take, name="take-material"),
    path("<slug:code>/material/give-back/", finishing_views.give_back, name="give-back-material"),
    path("<slug:code>/failed/", failing_views.failed, name="failed"),
    path("<slug:code>/failed/letter/", failing_views.letter, name="failed-letter"),
    path("<slug:code>/inspection/", inspection_views.inspection, name="inspection"),
    path("<slug:code>/inspection/ask/", inspection_views.ask, name="ask-consent"),
    path("<slug:code>/standing/", standing_views.standing, name="standing"),
    path("<slug:code>/standing/take-back/", standing_views.take_back, name="standing-take-back"),
    path("<slug:code>/targets/", standing_views.targets, name="targets"),
    path("<slug:code>/job-card.pdf", card_views.card, name="job-card"),
]
