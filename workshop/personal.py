"""What the workshop's own rooms keep about people; the form is explained in orders/people/personal.py."""

from orders.people.personal import Kept, Personal

PERSONAL: dict[str, Personal] = {
    "rack.Load.grower": Personal("whom the willow was bought from", "rack", Kept.COMMISSION),
}

NOT_PERSONAL: dict[str, frozenset[str]] = {
    "rack.Load": frozenset({"name", "felled_on", "kiln_sheet", "arrived_on", "note"}),
    "rack.Cleft": frozenset({"code", "moisture_at", "read_on", "note", "state"}),
    "rack.Blemish": frozenset({"kind", "side"}),
    "rack.CleftPhoto": frozenset({"code", "file", "caption"}),
    "rack.CleftEntry": frozenset({"verb", "from_state", "to_state", "data"}),
    "rack.CleftHold": frozenset({"until"}),
}
