"""Records for tests, each owner's under its own heading; nothing random, nothing saved twice."""

from datetime import date
from typing import Any

import factory
from factory.django import DjangoModelFactory

from orders.people.models import Player, Role, User, Workshop

# people

STAFF_PASSWORD = "willow seasons for a year"


class UserFactory(DjangoModelFactory[User]):
    """A player's account."""

    class Meta:
        model = User
        skip_postgeneration_save = True

    email = factory.Sequence(lambda n: f"player{n}@players.example")
    name = factory.Sequence(lambda n: f"Player {n}")
    role = Role.PLAYER

    @classmethod
    def _create(cls, model_class: type[User], *args: Any, **kwargs: Any) -> User:
        password = kwargs.pop("password", None)
        user = model_class(*args, **kwargs)
        if password:
            user.set_password(password)
        else:
            user.set_unusable_password()
        user.save()
        return user


class GuardianFactory(UserFactory):
    """A guardian's account."""

    email = factory.Sequence(lambda n: f"guardian{n}@players.example")
    name = factory.Sequence(lambda n: f"Guardian {n}")
    role = Role.GUARDIAN


class MakerFactory(UserFactory):
    """The maker; hashing a password is slow, so one is only set where a test signs in with it."""

    email = factory.Sequence(lambda n: f"maker{n}@workshop.example")
    name = factory.Sequence(lambda n: f"Maker {n}")
    role = Role.MAKER


class BenchHandFactory(UserFactory):
    """A bench hand."""

    email = factory.Sequence(lambda n: f"bench{n}@workshop.example")
    name = factory.Sequence(lambda n: f"Bench hand {n}")
    role = Role.BENCH_HAND


class PlayerFactory(DjangoModelFactory[Player]):
    """A grown player who holds the account themselves."""

    class Meta:
        model = Player
        skip_postgeneration_save = True

    holder = factory.SubFactory(UserFactory)
    name: Any = factory.SelfAttribute("holder.name")
    born = date(1994, 5, 17)


class ChildFactory(PlayerFactory):
    """A player of twelve, held by a guardian."""

    holder = factory.SubFactory(GuardianFactory)
    name = "Robin Undertree"
    born = date(2014, 3, 2)
    relation = "parent"


class WorkshopFactory(DjangoModelFactory[Workshop]):
    """The workshop."""

    class Meta:
        model = Workshop
        skip_postgeneration_save = True

    name = "Test Workshop"
    place = "Mill Lane 1, Nowhere"
    country = "GB"
    email = "bench@workshop.example"
    currency = "GBP"
    tax_percent = "20.00"
    zone = "Europe/London"
