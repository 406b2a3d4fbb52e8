"""What the workshop's own rooms keep about people; the form is explained in orders/people/personal.py."""

from orders.people.personal import Kept, Personal

PERSONAL: dict[str, Personal] = {
    "rack.Cleft.grower": Personal("whom the willow was bought from", "rack", Kept.COMMISSION),
}

NOT_PERSONAL: dict[str, frozenset[str]] = {
    "rack.Cleft": frozenset({"code", "load", "read_on", "note", "state"}),
    "rack.CleftEntry": frozenset({"verb", "from_state", "to_state", "data"}),
    "rack.CleftHold": frozenset({"until"}),
}
