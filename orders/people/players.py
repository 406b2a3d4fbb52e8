"""The people bats are made for, and the adults who answer for children."""

from datetime import date

from django.db import transaction

from orders.people.models import Player, Role, User


class PlayerRefused(ValueError):
    """A player who cannot be entered like this.

    ``why`` is ``guardian_needed`` (under 18, and not said how the account's holder is related),
    ``not_born_yet``, ``too_old`` or ``no_name``.
    """

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


OLDEST = 110


def add_player(holder: User, *, name: str, born: date | None, relation: str = "", today: date) -> Player:
    """Enter a player under an account.

    Below 18 an adult holds the account and makes the agreement, so ``relation`` must say how they are
    related; the account then is a guardian's. A holder who is the player is called by the player's name
    if the account has none yet.

    Args:
        holder: the account.
        name: the player's.
        born: date of birth, None when it is not known (a grown player need not tell it).
        relation: how the holder is related to the player; empty when they are the same person.
        today: in the workshop's zone.

    Raises:
        PlayerRefused: with the reason as a key.
    """
    player = Player(holder=holder, name=name.strip(), born=born, relation=relation.strip())
    if not player.name:
        raise PlayerRefused("no_name")
    age = player.age_on(today)
    if age is not None and age < 0:
        raise PlayerRefused("not_born_yet")
    if age is not None and age > OLDEST:
        raise PlayerRefused("too_old")
    is_child = player.needs_guardian(today)
    if is_child and not player.relation:
        raise PlayerRefused("guardian_needed")
    with transaction.atomic():
        player.save()
        changed = []
        if is_child and holder.role == Role.PLAYER:
            holder.role = Role.GUARDIAN
            changed.append("role")
        if not player.relation and not holder.name:
            holder.name = player.name
            changed.append("name")
        # Only what changes here: the rest may have been changed since the account was read.
        holder.save(update_fields=changed)
    return player


def may_agree_for(player: Player, user: User, *, today: date) -> bool:
    """Whether this account's own session may agree for the player.

    It must hold the player, and for somebody under 18 be a guardian's.
    """
    if player.holder_id != user.pk:
        return False
    return not player.needs_guardian(today) or (user.role == Role.GUARDIAN and bool(player.relation))
