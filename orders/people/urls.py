"""Addresses of signing in, of the first day, and of one's own account."""

from django.urls import path

from orders.people import opening_views, views

app_name = "people"

urlpatterns = [
    path("sign-in/", views.ask, name="sign-in"),
    path("sign-in/letter/", views.letter_on_its_way, name="letter-on-its-way"),
    path("sign-in/link/", views.link, name="link"),
    path("sign-in/link/<str:token>/", views.open_link, name="open-link"),
    path("sign-in/workshop/", views.staff_sign_in, name="staff-sign-in"),
    path("sign-out/", views.sign_out, name="sign-out"),
    path("sign-out/everywhere/", views.sign_out_everywhere, name="sign-out-everywhere"),
    path("account/", views.account, name="account"),
    path("open/", opening_views.open_page, name="open"),
    path("invitation/", opening_views.invitation, name="invitation"),
    path("invitation/<str:token>/", opening_views.open_invitation, name="open-invitation"),
]
