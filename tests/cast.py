"""The fixed cast: who appears in the tests, the same in each."""

import pytest
from django.test import Client

from orders.people.models import Player, User, Workshop
from tests.factories import (
    BenchHandFactory,
    ChildFactory,
    GuardianFactory,
    MakerFactory,
    PlayerFactory,
    UserFactory,
    WorkshopFactory,
)


@pytest.fixture
def workshop(db: None) -> Workshop:
    """The workshop, opened."""
    return WorkshopFactory.create()


@pytest.fixture
def player_user(workshop: Workshop) -> User:
    """The account of a grown player."""
    return UserFactory.create(email="player@players.example", name="Ash Alder")


@pytest.fixture
def other_player_user(workshop: Workshop) -> User:
    """Somebody else's account: a stranger to whatever the player has."""
    return UserFactory.create(email="other@players.example", name="Bo Beech")


@pytest.fixture
def guardian_user(workshop: Workshop) -> User:
    """The account of a child's guardian."""
    return GuardianFactory.create(email="guardian@players.example", name="Cam Cedar")


@pytest.fixture
def maker(workshop: Workshop) -> User:
    """The maker."""
    return MakerFactory.create(email="maker@workshop.example", name="Moss Maker")


@pytest.fixture
def bench_hand(workshop: Workshop) -> User:
    """A bench hand."""
    return BenchHandFactory.create(email="bench@workshop.example", name="Hazel Hand")


@pytest.fixture
def player(player_user: User) -> Player:
    """The grown player, as the person a bat is made for."""
    return PlayerFactory.create(holder=player_user, name=player_user.name)


@pytest.fixture
def child(guardian_user: User) -> Player:
    """The guardian's child, under 18."""
    return ChildFactory.create(holder=guardian_user)


def signed_in(user: User) -> Client:
    """Return a client with a session of that account."""
    client = Client()
    client.force_login(user)
    return client


@pytest.fixture
def anyone() -> Client:
    """A client that is not signed in."""
    return Client()


@pytest.fixture
def player_client(player_user: User) -> Client:
    """The player's session."""
    return signed_in(player_user)


@pytest.fixture
def other_player_client(other_player_user: User) -> Client:
    """The stranger's session."""
    return signed_in(other_player_user)


@pytest.fixture
def guardian_client(guardian_user: User) -> Client:
    """The guardian's session."""
    return signed_in(guardian_user)


@pytest.fixture
def maker_client(maker: User) -> Client:
    """The maker's session."""
    return signed_in(maker)


@pytest.fixture
def bench_client(bench_hand: User) -> Client:
    """The bench hand's session."""
    return signed_in(bench_hand)
