"""Addresses of the interview."""

from django.urls import path

from orders.interview import besides_views, sending_views, sharing_views, views

app_name = "interview"

urlpatterns = [
    path("fitting/", views.start, name="start"),
    path("fitting/begin/", views.begin, name="begin"),
    path("fitting/<str:code>/preview/", views.preview, name="preview"),
    path("fitting/<str:code>/draft/", sending_views.draft, name="draft"),
    path("fitting/<str:code>/besides/", besides_views.besides, name="besides"),
    path("fitting/<str:code>/keep/", sending_views.keep, name="keep"),
    path("fitting/<str:code>/who/", sending_views.who, name="who"),
    path("fitting/<str:code>/send/", sending_views.send, name="send"),
    path("fitting/<str:code>/share/", sharing_views.share, name="share"),
    path("fitting/<str:code>/share/end/", sharing_views.stop_sharing, name="stop-sharing"),
    path("shared/<str:token>/", sharing_views.shared, name="shared"),
    path("fitting/<str:code>/<slug:page>/", views.page, name="page"),
]
