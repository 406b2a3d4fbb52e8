"""Inviting people to work in the workshop, and letting them choose a new password."""

import logging

from django.contrib.auth.password_validation import validate_password
from django.db import transaction
from django.utils import timezone

from orders.messages.outbox import post
from orders.people.codes import new_code
from orders.people.link_tokens import hash_of_token, new_seed, token_of
from orders.people.models import StaffInvitation, User, normal_address

log = logging.getLogger("security")


class InvitationRefused(ValueError):
    """An invitation that cannot be given or used: ``holder_account``, ``self`` or ``over``."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


def invite(email: str, *, name: str, role: str, by: User) -> StaffInvitation:
    """Invite somebody by letter; a newer invitation ends the older ones to that address.

    Someone who works here already chooses a new password with it, and gets the role it names.

    Raises:
        InvitationRefused: the address is a player's or guardian's account, or one's own.
    """
    address = normal_address(email)
    if address == by.email:
        raise InvitationRefused("self")
    if User.objects.filter(email=address, role__in=("player", "guardian")).exists():
        raise InvitationRefused("holder_account")
    now = timezone.now()
    seed = new_seed()
    with transaction.atomic():
        StaffInvitation.objects.filter(email=address, used_at__isnull=True, ended_at__isnull=True).update(
            ended_at=now
        )
        invitation = StaffInvitation.objects.create(
            email=address,
            name=name.strip(),
            role=role,
            seed=seed,
            token_hash=hash_of_token(token_of(seed)),
            by=by,
            created_at=now,
            expires_at=now + StaffInvitation.LIFE,
        )
        post(
            "staff_invitation",
            to=address,
            context={"name": invitation.name, "by": by.name, "invitation_seed": seed},
            useful_until=invitation.expires_at,
        )
    log.info("staff invitation %s given by account %s", invitation.pk, by.pk)
    return invitation


def withdraw(invitation: StaffInvitation) -> None:
    """Take an invitation back that was not used."""
    StaffInvitation.objects.filter(pk=invitation.pk, used_at__isnull=True, ended_at__isnull=True).update(
        ended_at=timezone.now()
    )


def invitation_of_token(token: str) -> StaffInvitation | None:
    """Return the invitation of a token while it is good."""
    return StaffInvitation.objects.filter(
        token_hash=hash_of_token(token),
        used_at__isnull=True,
        ended_at__isnull=True,
        expires_at__gt=timezone.now(),
    ).first()


def accept_invitation(token: str, *, password: str) -> User:
    """Make the account with the chosen password, or give an old account a new one; once.

    Raises:
        InvitationRefused: over.
        ValidationError: the password is too short or too common.
    """
    invitation = invitation_of_token(token)
    if invitation is None:
        raise InvitationRefused("over")
    validate_password(password)
    with transaction.atomic():
        used = StaffInvitation.objects.filter(
            pk=invitation.pk, used_at__isnull=True, ended_at__isnull=True, expires_at__gt=timezone.now()
        ).update(used_at=timezone.now())
        if not used:
            raise InvitationRefused("over")
        user = User.objects.filter(email=invitation.email).first()
        if user is None:
            user = User.objects.create_staff(
                invitation.email, name=invitation.name, role=invitation.role, password=password
            )
        elif user.is_holder:
            raise InvitationRefused("holder_account")
        else:
            user.set_password(password)
            user.role = invitation.role
            user.is_active = True
            user.session_stamp = new_code()
            user.save(update_fields=["password", "role", "is_active", "session_stamp"])
    log.info("staff invitation %s used, account %s", invitation.pk, user.pk)
    return user
