"""The rack's addresses, under /floor/rack/."""

from django.urls import path

from workshop.rack import import_views, load_views, mark_views, seasoning_views, views

app_name = "rack"
urlpatterns = [
    path("", views.clefts_page, name="clefts"),
    path("take-in/", views.take_in, name="take-in"),
    path("seasoning/", seasoning_views.seasoning, name="seasoning"),
    path("labels.pdf", mark_views.label_sheets, name="labels"),
    path("import/", import_views.send, name="import"),
    path("import/pattern.xlsx", import_views.pattern, name="import-pattern"),
    path("import/<slug:code>/", import_views.shown, name="import-shown"),
    path("import/<slug:code>/take/", import_views.take, name="import-take"),
    path("import/<slug:code>/bad-rows.csv", import_views.faults, name="import-faults"),
    path("clefts.csv", import_views.export, {"kind": "csv"}, name="export-csv"),
    path("clefts.xlsx", import_views.export, {"kind": "xlsx"}, name="export-xlsx"),
    path("loads/", load_views.loads, name="loads"),
    path("loads/new/", load_views.new, name="load-new"),
    path("loads/<slug:code>/", load_views.load, name="load"),
    path("loads/<slug:code>/change/", load_views.change, name="load-change"),
    path("<slug:code>/", views.cleft_page, name="cleft"),
    path("<slug:code>/amend/", views.amend, name="amend"),
    path("<slug:code>/weigh/", views.weigh, name="weigh"),
    path("<slug:code>/grade/", views.grade, name="grade"),
    path("<slug:code>/standing/", views.standing, name="standing"),
    path("<slug:code>/hold/", views.hold, name="hold"),
    path("<slug:code>/release/", views.release, name="release"),
    path("<slug:code>/blemish/", mark_views.blemish, name="blemish"),
    path("<slug:code>/blemish/strike-out/", mark_views.strike_out, name="strike-out"),
    path("<slug:code>/photograph/", mark_views.photograph, name="photograph"),
    path("<slug:code>/photograph/change/", mark_views.change_photograph, name="change-photograph"),
    path("<slug:code>/photograph/<slug:photo>/", mark_views.see_photograph, name="see-photograph"),
    path("<slug:code>/label.pdf", mark_views.label, name="label"),
]
