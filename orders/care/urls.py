"""Addresses of a finished bat: its record, its care, and back to the workshop."""

from django.urls import path

from orders.care import views

app_name = "care"

urlpatterns = [
    path("commissions/<str:code>/record/", views.record, name="record"),
    path("commissions/<str:code>/record.pdf", views.printed_record, name="record-pdf"),
    path("commissions/<str:code>/care/", views.care, name="care"),
    path("commissions/<str:code>/send-back/", views.send_back, name="send-back"),
]
