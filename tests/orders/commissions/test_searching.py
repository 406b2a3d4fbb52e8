import pytest

from orders.commissions import stages
from orders.commissions.models import Commission
from orders.commissions.searching import folded, found
from orders.commissions.states import Stage
from tests.factories import PlayerFactory, a_bat_in, a_commission

pytestmark = pytest.mark.django_db


def numbers(words):
    return sorted(row.reference for row in found(Commission.objects.all(), words))


@pytest.mark.parametrize(
    ("text", "as_compared"),
    [("ÖZIL", "ozil"), ("özil", "ozil"), ("Straße", "strasse"), ("  A \n b ", "a b"), ("Łuk", "łuk")],
)
def test_folding(text, as_compared):
    assert folded(text) == as_compared


def test_a_name_is_found_however_its_letters_are_typed(maker):
    a_commission(PlayerFactory.create(name="Mesut ÖZIL"))
    a_commission(PlayerFactory.create(name="Ann Ash"))

    assert numbers("özil") == numbers("OZIL mesut") == ["0001"]
    assert numbers("ash") == ["0002"]


def test_number_serial_and_cleft_are_found(player, maker):
    bat = a_bat_in(Stage.CLEFT_SELECTION, player, maker)
    stages.name_cleft(bat, "7742", by=maker)
    done = a_bat_in(Stage.DONE, player, maker)

    assert numbers("7742") == ["0001"]
    assert numbers(done.serial) == ["0002"]
    assert numbers("0001") == ["0001"]


def test_nothing_is_found_by_nothing(player):
    a_commission(player)

    assert numbers("  ") == []
    assert numbers("%") == []
