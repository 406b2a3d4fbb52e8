"""The health page, as a container's check reads it."""

import json

import pytest
from django.db import DatabaseError, connection

from workshop import health


@pytest.mark.django_db
def test_health_all_well(client):
    response = client.get("/health/")
    assert response.status_code == 200
    assert json.loads(response.content) == {"database": "ok", "disk": "ok"}
    assert "no-store" in response.headers["Cache-Control"]


@pytest.mark.django_db
def test_health_full_disk(client, monkeypatch):
    monkeypatch.setattr(health, "LEAST_FREE_BYTES", 2**70)
    response = client.get("/health/")
    assert response.status_code == 503
    assert json.loads(response.content) == {"database": "ok", "disk": "failing"}


@pytest.mark.django_db
def test_health_database_down(client):
    def refuse(execute, sql, params, many, context):
        raise DatabaseError("the server closed the connection")

    with connection.execute_wrapper(refuse):
        response = client.get("/health/")
    assert response.status_code == 503
    assert json.loads(response.content)["database"] == "failing"
    assert b"closed" not in response.content


def test_health_refuses_post(client):
    assert client.post("/health/").status_code == 405
