"""The letters of delivery and returns, each written in its verb's own transaction."""

from django.urls import reverse
from django.utils.formats import date_format

from orders.care.models import Return
from orders.commissions.letters import to_holder, to_workshop
from orders.commissions.models import Commission
from orders.money.amounts import show_price


def delivered(commission: Commission, *, how: str, words: str) -> None:
    """Tell the holder that the bat is theirs, with the ways to its record and its care."""
    to_holder(
        commission,
        "delivered",
        sent=how == "sent",
        words=words,
        again=commission.returns.exists(),
        record=reverse("care:record", args=[commission.code]),
        care=reverse("care:care", args=[commission.code]),
        send_back=reverse("care:send-back", args=[commission.code]),
    )


def came_back(found: Return) -> None:
    """Tell the workshop what is wrong, and the holder that it has arrived in writing."""
    to_workshop(found.commission, "bat_came_back", words=found.words)
    to_holder(found.commission, "return_received", words=found.words)


def decided(found: Return) -> None:
    """Tell the holder what the maker has decided, with the reasons."""
    commission = found.commission
    agreed = found.bat.agreed
    to_holder(
        commission,
        f"return_{found.decision}",
        words=found.decision_words,
        ready_from=date_format(commission.promised_from) if commission.promised_from else "",
        ready_to=date_format(commission.promised_to) if commission.promised_to else "",
        amount=show_price(found.refund, agreed.currency) if agreed and found.refund else "",
    )
