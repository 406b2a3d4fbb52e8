"""The store's addresses, under /floor/stock/."""

from django.urls import path

from workshop.stock import handle_views, scrap_views, stock_bat_views, supply_views, views

app_name = "stock"
urlpatterns = [
    path("", views.stock, name="stock"),
    path("handles/", handle_views.handles_page, name="handles"),
    path("handles/take-in/", handle_views.take_in, name="handle-take-in"),
    path("handles/<slug:code>/", handle_views.handle_page, name="handle"),
    path("handles/<slug:code>/weigh/", handle_views.weigh, name="handle-weigh"),
    path("handles/<slug:code>/lay-back/", handle_views.lay_back, name="handle-lay-back"),
    path("handles/<slug:code>/reject/", handle_views.reject, name="handle-reject"),
    path("supplies/", supply_views.supplies_page, name="supplies"),
    path("supplies/take-in/", supply_views.take_in, name="supply-take-in"),
    path("supplies/<slug:code>/", supply_views.supply_page, name="supply"),
    path("supplies/<slug:code>/move/", supply_views.move, name="supply-move"),
    path("supplies/<slug:code>/take-back/", supply_views.take_back, name="supply-take-back"),
    path("supplies/<slug:code>/change/", supply_views.change, name="supply-change"),
    path("bats/", stock_bat_views.bats_page, name="bats"),
    path("bats/lay-by/", stock_bat_views.lay_by, name="bat-lay-by"),
    path("bats/<slug:code>/", stock_bat_views.bat_page, name="bat"),
    path("bats/<slug:code>/keep/", stock_bat_views.keep, name="bat-keep"),
    path("bats/<slug:code>/let-go/", stock_bat_views.let_go, name="bat-let-go"),
    path("bats/<slug:code>/sell/", stock_bat_views.sell, name="bat-sell"),
    path("bats/<slug:code>/cut-up/", stock_bat_views.cut_up, name="bat-cut-up"),
    path("scrap/", scrap_views.scrap_page, name="scrap"),
    path("scrap/write-off/", scrap_views.write_off, name="scrap-write-off"),
]
