"""Counting tries."""

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
from django.db import connection
from django.test import RequestFactory
from django.utils import timezone

from orders.people.models import RateBucket
from orders.people.rate_limits import Limit, caller_address, count, forget
from orders.people.tidying import tidy

TWICE = Limit("test", 2, timedelta(minutes=1))


@pytest.mark.django_db
def test_one_too_many_must_wait_to_the_end_of_the_window(time_machine):
    time_machine.move_to(timezone.now().replace(second=20, microsecond=0), tick=False)
    assert [count(TWICE, "a") for _ in range(3)] == [0, 0, 41]
    assert count(TWICE, "b") == 0
    time_machine.shift(timedelta(seconds=41))
    assert count(TWICE, "a") == 0


@pytest.mark.django_db
def test_forgotten_tries_do_not_count():
    for _ in range(3):
        count(TWICE, "a")
    forget(TWICE, "a")
    assert count(TWICE, "a") == 0


@pytest.mark.django_db
def test_rows_do_not_tell_whom_they_count():
    count(TWICE, "ash@players.example")
    assert "ash" not in RateBucket.objects.get().key


@pytest.mark.django_db
def test_tidying_removes_windows_that_are_over(time_machine):
    time_machine.move_to(timezone.now(), tick=False)
    count(TWICE, "a")
    tidy()
    assert RateBucket.objects.count() == 1
    time_machine.shift(timedelta(minutes=2))
    tidy()
    assert not RateBucket.objects.exists()


@pytest.mark.django_db(transaction=True)
def test_tries_at_once_are_all_counted():
    limit = Limit("test", 10, timedelta(hours=24))

    def attempt(_n):
        try:
            return count(limit, "a") == 0
        finally:
            connection.close()

    with ThreadPoolExecutor(8) as pool:
        assert sum(pool.map(attempt, range(40))) == 10


@pytest.mark.parametrize(
    ("proxies", "told", "address"),
    [
        (0, "1.1.1.1", "9.9.9.9"),
        (1, "", "9.9.9.9"),
        (1, "1.1.1.1", "1.1.1.1"),
        (1, "forged, 1.1.1.1", "1.1.1.1"),
        (2, "forged, 1.1.1.1, 2.2.2.2", "1.1.1.1"),
        (2, "2.2.2.2", "9.9.9.9"),
    ],
)
def test_caller_is_whom_our_own_proxies_name(settings, proxies, told, address):
    settings.PROXIES = proxies
    request = RequestFactory().get("/", REMOTE_ADDR="9.9.9.9", headers={"x-forwarded-for": told})
    assert caller_address(request) == address
