"""What happens to willow and queue when a commission is cancelled, as keys."""

from orders.commissions.models import Commission
from orders.commissions.states import State
from orders.commissions.transitions import cleft_is_cut


def what_cancelling_does(commission: Commission) -> tuple[str, ...]:
    """Return what cancelling would do now; orders/words/states.py words each."""
    if commission.state in (State.SENT, State.CHANGE_ASKED):
        return ("nothing_made", "no_way_back")
    if commission.state == State.PROPOSED:
        return ("nothing_made", "proposal_closed", "holds_end", "no_way_back")
    if cleft_is_cut(commission):
        return ("cleft_cut", "place_given_up", "no_way_back")
    has_cleft = commission.bats.exclude(cleft_label="").exists()
    return ("cleft_back" if has_cleft else "holds_end", "place_given_up", "no_way_back")
