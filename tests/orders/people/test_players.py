"""Players, their age, and the adults who answer for children."""

from datetime import date

import pytest

from orders.people.models import Player, User
from orders.people.players import PlayerRefused, add_player, may_agree_for
from tests.factories import GuardianFactory, UserFactory

TODAY = date(2026, 3, 1)


@pytest.mark.parametrize(
    ("born", "day", "age"),
    [
        (date(2008, 3, 2), date(2026, 3, 1), 17),
        (date(2008, 3, 2), date(2026, 3, 2), 18),
        (date(2008, 3, 2), date(2026, 3, 3), 18),
        (date(2008, 2, 29), date(2026, 2, 28), 17),
        (date(2008, 2, 29), date(2026, 3, 1), 18),
        (date(2026, 3, 1), date(2026, 3, 1), 0),
        (None, date(2026, 3, 1), None),
    ],
)
def test_age_counts_birthdays(born, day, age):
    player = Player(name="Ash", born=born)
    assert player.age_on(day) == age
    assert player.needs_guardian(day) is (age is not None and age < 18)


@pytest.mark.django_db
def test_child_makes_the_holder_a_guardian(player_user):
    player = add_player(player_user, name=" Robin ", born=date(2014, 5, 1), relation="aunt", today=TODAY)
    player_user.refresh_from_db()
    assert (player.name, player.relation, player_user.role) == ("Robin", "aunt", "guardian")


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("held", "relation", "called"), [("", "", "Ash"), ("Bo", "", "Bo"), ("", "aunt", "")]
)
def test_holder_without_a_name_gets_the_players_if_they_are_the_same(player_user, held, relation, called):
    player_user.name = held
    player_user.save()
    add_player(player_user, name="Ash", born=date(1990, 5, 1), relation=relation, today=TODAY)
    player_user.refresh_from_db()
    assert player_user.name == called


@pytest.mark.django_db
def test_child_leaves_a_name_alone_that_was_changed_meanwhile(player_user):
    User.objects.filter(pk=player_user.pk).update(name="Bo")
    add_player(player_user, name="Robin", born=date(2014, 5, 1), relation="aunt", today=TODAY)
    player_user.refresh_from_db()
    assert (player_user.name, player_user.role) == ("Bo", "guardian")


@pytest.mark.django_db
def test_grown_player_leaves_the_role_alone(player_user):
    add_player(player_user, name="Ash", born=date(1990, 5, 1), today=TODAY)
    player_user.refresh_from_db()
    assert player_user.role == "player"


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("given", "why"),
    [
        ({"name": "Robin", "born": date(2014, 5, 1)}, "guardian_needed"),
        ({"name": "Robin", "born": date(2014, 5, 1), "relation": "  "}, "guardian_needed"),
        ({"name": "  ", "born": date(1990, 5, 1)}, "no_name"),
        ({"name": "Ash", "born": date(2026, 3, 2)}, "not_born_yet"),
        ({"name": "Ash", "born": date(1815, 3, 2)}, "too_old"),
    ],
)
def test_player_who_cannot_be_entered_is_refused(player_user, given, why):
    with pytest.raises(PlayerRefused, match=why):
        add_player(player_user, today=TODAY, **given)
    player_user.refresh_from_db()
    assert player_user.role == "player"
    assert not Player.objects.exists()


@pytest.mark.parametrize(
    ("born", "relation", "holder", "may"),
    [
        (date(1990, 1, 1), "", UserFactory, True),
        (None, "", UserFactory, True),
        (date(2014, 1, 1), "parent", GuardianFactory, True),
        (date(2014, 1, 1), "", UserFactory, False),
        (date(2014, 1, 1), "", GuardianFactory, False),
        (date(2014, 1, 1), "parent", UserFactory, False),
    ],
)
def test_only_a_guardian_agrees_for_a_child(born, relation, holder, may):
    user = holder.build(pk=1)
    player = Player(name="Robin", holder=user, born=born, relation=relation)
    assert may_agree_for(player, user, today=TODAY) is may


def test_nobody_agrees_for_somebody_elses_player():
    player = Player(name="Ash", holder=UserFactory.build(pk=1), born=date(1990, 1, 1))
    assert not may_agree_for(player, UserFactory.build(pk=2), today=TODAY)
