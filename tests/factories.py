"""Records for tests, each owner's under its own heading; nothing random, nothing saved twice."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from typing import Any

import factory
from factory.django import DjangoModelFactory

from orders.commissions import lifecycle, stages
from orders.commissions.bench_entries import Required
from orders.commissions.models import Bat, Commission, Proposal
from orders.commissions.opening import open_commission
from orders.commissions.snapshots import Offer
from orders.commissions.states import Stage
from orders.interview.models import Fitting
from orders.money.amounts import price_of
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


# commissions: each made by the verbs themselves, so that none stands where no verb could bring it

MOMENT = datetime(2027, 2, 1, 10, 0, tzinfo=UTC)
SHEET: dict[str, Any] = {
    "sheet": 1,
    "player": {"age_years": 32, "height_mm": 1780, "batting_hand": "right", "strength": "average"},
    "level": "club",
    "present_bat": {
        "liked": False,
        "mass_g": 1190,
        "balance_from_toe_mm": 352,
        "overall_length_mm": 851,
        "grip_girth_mm": 112,
        "pickup": "too_heavy",
    },
}


def a_fitting(player: Player, /, **sheet: Any) -> Fitting:
    """A finished fitting of the player, not yet sent."""
    return Fitting.objects.create(player=player, holder=player.holder, sheet={**SHEET, **sheet})


def a_commission(player: Player, /, *, at: datetime = MOMENT, **sheet: Any) -> Commission:
    """A commission that waits for the maker."""
    return open_commission(fitting=a_fitting(player, **sheet), by=player.holder, at=at)


def an_offer(at: datetime = MOMENT, **changes: Any) -> Offer:
    """Price and dates, valid for a fortnight."""
    terms: dict[str, Any] = {
        "price": price_of(42000, currency="GBP", tax_percent=Decimal(20), with_tax=True),
        "ready_from": (at + timedelta(weeks=8)).date(),
        "ready_to": (at + timedelta(weeks=10)).date(),
        "valid_until": at + timedelta(days=14),
    }
    return Offer(**{**terms, **changes})


def propose_to(commission: Commission, maker: User, *, at: datetime = MOMENT, **changes: Any) -> Proposal:
    """Propose the newest build sheet."""
    newest = commission.builds.order_by("-number")[0]
    return lifecycle.propose(commission, by=maker, build_version=newest, offer=an_offer(at, **changes), at=at)


def an_agreed_bat(player: Player, maker: User, *, at: datetime = MOMENT) -> Bat:
    """A bat whose proposal was accepted; it waits for the bench."""
    commission = a_commission(player, at=at)
    proposal = propose_to(commission, maker, at=at)
    return lifecycle.accept(commission, by=player.holder, seen=proposal.snapshot_hash, at=at)


def a_bat_in(stage: str, player: Player, maker: User, *, at: datetime = MOMENT) -> Bat:
    """A bat in one of the five stages, at the inspection, or done."""
    bat = an_agreed_bat(player, maker, at=at)
    stages.begin(bat, by=maker, at=at)
    while bat.stage not in (stage, Stage.INSPECTION):
        stages.pass_on(bat, by=maker, required=Required(), at=at)
    if stage == Stage.DONE:
        stages.pass_inspection(bat, rows=[], in_tolerance=True, by=maker, at=at)
    assert bat.stage == stage
    return bat


def a_delivered_bat(player: Player, maker: User, *, at: datetime = MOMENT) -> Bat:
    """A bat that its player has."""
    bat = a_bat_in(Stage.DONE, player, maker, at=at)
    lifecycle.deliver(bat.commission, by=maker, at=at)
    return bat
