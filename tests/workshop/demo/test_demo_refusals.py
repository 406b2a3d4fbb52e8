"""The demo never goes on top of somebody's own workshop, nor onto a site that others can reach."""

import pytest
from django.core.management import CommandError, call_command

from orders.commissions.models import Commission
from orders.people.models import User, Workshop
from tests.factories import UserFactory


def refused(**options: str) -> CommandError:
    with pytest.raises(CommandError) as error:
        call_command("demo", **options)
    return error.value


def test_demo_refuses_a_workshop_of_its_own(workshop: Workshop):
    assert refused().returncode == 2
    assert list(Workshop.objects.values_list("name", flat=True)) == [workshop.name]
    assert not Commission.objects.exists()


@pytest.mark.django_db
def test_demo_refuses_people_of_its_own():
    user = UserFactory.create()
    assert "empty" in str(refused())
    assert list(User.objects.all()) == [user]


@pytest.mark.django_db
def test_demo_refuses_a_site_that_others_can_reach(settings):
    settings.SITE_URL = "https://bats.example"
    assert refused().returncode == 2
    assert not Workshop.objects.exists()


@pytest.mark.django_db
def test_demo_refuses_a_day_that_is_none():
    with pytest.raises(CommandError, match="today"):
        call_command("demo", "--today", "soon")
    assert not Workshop.objects.exists()
