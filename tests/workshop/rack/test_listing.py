"""What the rack is narrowed down to, and how a cleft is said to stand."""

from datetime import timedelta

import pytest
from django.utils import timezone

from orders.people.models import Player, User
from tests.factories import a_commission, an_agreed_bat, propose_to
from tests.workshop.rack.noted_wood import a_load, of_load
from tests.workshop.willow_on_rack import a_cleft
from workshop.rack.clefts import reserve
from workshop.rack.holds import hold
from workshop.rack.listing import Filter, holds_of, standing_words
from workshop.rack.models import Cleft, CleftHold, CleftState

pytestmark = pytest.mark.django_db


def numbers(**given: str) -> list[int]:
    return [cleft.number for cleft in Filter.read(given).clefts(timezone.localdate())]


@pytest.fixture
def rack(maker: User) -> list[Cleft]:
    clefts = [
        a_cleft(41, maker, grade=1, note="lively"),
        a_cleft(42, maker, grade=2, state=CleftState.SEASONING),
        a_cleft(43, maker, grade=3),
        a_cleft(44, maker, grade=3, state=CleftState.REJECTED),
        a_cleft(410, maker, grade=3, state=CleftState.SMALLER),
    ]
    of_load(a_load("Winter felling"), clefts[0], clefts[3])
    return clefts


@pytest.mark.parametrize(
    ("given", "found"),
    [
        ({}, [41, 42, 43, 410]),
        ({"shown": "all"}, [41, 42, 43, 44, 410]),
        ({"shown": "free"}, [41, 43, 410]),
        ({"shown": "seasoning"}, [42]),
        ({"shown": "rejected"}, [44]),
        ({"grade": "3"}, [43, 410]),
        ({"text": "41"}, [41]),
        ({"text": "0041"}, [41]),
        ({"text": "LIVELY"}, [41]),
        ({"text": "brook"}, [41]),
        ({"text": "winter 41"}, [41]),
        ({"text": "winter 42"}, []),
        ({"text": "nothing such"}, []),
        ({"order": "grade", "shown": "free"}, [41, 43, 410]),
        # What cannot be narrows nothing.
        ({"shown": "thrown", "grade": "9", "load": "../x", "order": "price"}, [41, 42, 43, 410]),
        ({"text": "4\x001"}, [41]),
    ],
)
def test_filter_finds(given: dict[str, str], found: list[int], rack: list[Cleft]):
    assert numbers(**given) == found


def test_filter_by_load(rack: list[Cleft]):
    rack[0].refresh_from_db()
    assert rack[0].load is not None
    assert numbers(load=rack[0].load.code) == [41]


def test_filter_query_has_only_what_narrows_and_is_read_again():
    asked = Filter.read({"text": "two words", "shown": "stock", "grade": "2"})

    assert asked.query == "text=two+words&grade=2"
    assert Filter.read({}).query == ""


def test_held_cleft_is_said_to_be_held_until_when_and_found_by_its_state(
    rack: list[Cleft], maker: User, player: Player
):
    commission = a_commission(player)
    kept = hold(rack[0], propose_to(commission, maker), by=maker)

    words = standing_words(rack[0], holds_of([rack[0]], timezone.localdate()).get(rack[0].pk))

    assert words.startswith(f"held for {commission.reference} until ")
    assert numbers(shown="held") == [41]
    assert 41 not in numbers(shown="free")
    # Computed: on the day after, nobody having tidied, it is free again.
    CleftHold.objects.filter(pk=kept.pk).update(until=timezone.localdate() - timedelta(days=1))
    assert holds_of([rack[0]], timezone.localdate()) == {}
    assert 41 in numbers(shown="free")


def test_reserved_cleft_is_said_for_whom_and_found_by_the_commission(
    rack: list[Cleft], maker: User, player: Player
):
    bat = an_agreed_bat(player, maker, at=timezone.now())
    reserve(rack[2], bat, by=maker)

    assert standing_words(rack[2], None) == f"reserved for {bat.commission.reference}"
    assert 43 in numbers(text=bat.commission.reference)
