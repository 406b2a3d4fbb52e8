"""The registries of personal fields against the models themselves."""

from django.apps import apps
from django.db import models

import orders.people.personal as of_orders
import workshop.personal as of_workshop

HOLDS_WORDS = (models.CharField, models.TextField, models.JSONField, models.FileField, models.DateField)
ROOMS = {"orders": of_orders, "workshop": of_workshop}


def fields_of(room: str) -> set[str]:
    """Return every field of a room's models that can say something about a person."""
    return {
        f"{model._meta.app_label}.{model.__name__}.{field.name}"
        for model in apps.get_models()
        if model.__module__.split(".")[0] == room
        for field in model._meta.local_fields
        if isinstance(field, HOLDS_WORDS) and not isinstance(field, models.DateTimeField)
    }


def listed_as_other(registry: dict[str, frozenset[str]]) -> set[str]:
    """Return the fields said not to be personal."""
    return {f"{model}.{field}" for model, fields in registry.items() for field in fields}


def test_each_field_of_orders_is_in_one_of_the_two_lists():
    other = listed_as_other(of_orders.NOT_PERSONAL)
    assert set(of_orders.PERSONAL) | other == fields_of("orders")
    assert not set(of_orders.PERSONAL) & other


def test_each_field_of_the_workshop_is_in_one_of_the_two_lists():
    other = listed_as_other(of_workshop.NOT_PERSONAL)
    assert set(of_workshop.PERSONAL) | other == fields_of("workshop")
    assert not set(of_workshop.PERSONAL) & other


def test_each_personal_field_has_a_purpose_and_a_use():
    for registry in ROOMS.values():
        for field, why in registry.PERSONAL.items():
            assert why.purpose, field
            assert why.used_by, field


def test_a_new_field_would_be_noticed():
    known = fields_of("orders")
    assert "people.Player.born" in known
    assert "interview.Fitting.answers" in known
    assert "letters.Photo.file" in known
    assert "people.Player.created_at" not in known
