"""Who works here: the maker invites, and lets go. And the letters that could not be sent."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from orders.messages.models import Letter
from orders.messages.sending import send_again
from orders.people.doors import MAKER, SignedInRequest, open_to
from orders.people.forms import InvitationForm
from orders.people.invitations import InvitationRefused, invite, withdraw
from orders.people.models import STAFF_ROLES, StaffInvitation, User
from orders.people.once import once
from orders.people.sessions import end_all_sessions


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(MAKER)
@once
def staff(request: SignedInRequest) -> HttpResponse:
    """Show who works here and who is invited; a POST invites."""
    form = InvitationForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            invited = invite(**form.cleaned_data, by=request.user)
        except InvitationRefused as refused:
            form.add_error("email", _refusal(refused.why))
        else:
            messages.success(
                request, _("%(name)s is invited; a letter is on its way.") % {"name": invited.name}
            )
            return redirect("staff")
    return render(request, "staff/staff.html", _page(form), status=422 if form.errors else 200)


def _page(form: InvitationForm) -> dict[str, object]:
    return {
        "form": form,
        "people": User.objects.filter(role__in=STAFF_ROLES).order_by("-is_active", "name", "pk"),
        "invitations": StaffInvitation.objects.filter(
            used_at__isnull=True, ended_at__isnull=True, expires_at__gt=timezone.now()
        ).order_by("created_at"),
        "letters": Letter.objects.failed().order_by("-created_at")[:50],
    }


def _refusal(why: str) -> str:
    if why == "self":
        return _("This is your own address. Give the address of whoever is to work here.")
    return _("A player or guardian has this address. Give another one for the work in the workshop.")


@require_POST
@open_to(MAKER)
@once
def withdraw_invitation(request: SignedInRequest, code: str) -> HttpResponse:
    """Take an invitation back."""
    invitation = get_object_or_404(StaffInvitation, code=code)
    withdraw(invitation)
    messages.success(request, _("The invitation of %(name)s is taken back.") % {"name": invitation.name})
    return redirect("staff")


@require_POST
@open_to(MAKER)
@once
def let_go(request: SignedInRequest) -> HttpResponse:
    """Close the account of somebody who worked here, and end its sessions."""
    user = get_object_or_404(User, email=request.POST.get("email", ""), role__in=STAFF_ROLES)
    if user == request.user:
        messages.error(request, _("You cannot close your own account."))
        return redirect("staff")
    user.is_active = False
    user.save(update_fields=["is_active"])
    end_all_sessions(user)
    messages.success(
        request,
        _("%(name)s can no longer sign in. An invitation opens the account again.") % {"name": user.name},
    )
    return redirect("staff")


@require_POST
@open_to(MAKER)
@once
def send_letter_again(request: SignedInRequest) -> HttpResponse:
    """Put a letter that was given up back into the outbox."""
    letter = get_object_or_404(Letter.objects.failed(), message_id=request.POST.get("letter", ""))
    send_again(letter)
    messages.success(request, _("The letter to %(to)s is tried again.") % {"to": letter.to})
    return redirect("staff")
