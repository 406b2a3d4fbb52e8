"""What the workshop's own rooms keep about people; the form is explained in orders/people/personal.py."""

from orders.people.personal import Kept, Personal

PERSONAL: dict[str, Personal] = {
    "bench.Spell.stage": Personal(
        "what somebody of the workshop worked at, and for how long", "bench", Kept.COMMISSION
    ),
    "rack.Load.grower": Personal("whom the willow was bought from", "rack", Kept.COMMISSION),
    "stock.StockBatEntry.data": Personal(
        "to whom a bat off the shelf was sold, as far as it was written down", "stock", Kept.COMMISSION
    ),
}

NOT_PERSONAL: dict[str, frozenset[str]] = {
    "bench.Orientation": frozenset({"stage", "face_side"}),
    "bench.PressPass": frozenset({"stage", "tool", "depths", "rebounds", "drop", "words"}),
    "bench.ScalesReading": frozenset({"stage", "condition"}),
    "bench.Targets": frozenset({"stage", "cause", "barrier"}),
    "bench.Coat": frozenset({"stage", "kind"}),
    "bench.Reason": frozenset({"stage", "about", "words"}),
    "rack.Load": frozenset({"code", "name", "felled_on", "kiln_sheet", "arrived_on", "note"}),
    "rack.Cleft": frozenset({"code", "moisture_at", "read_on", "note", "state"}),
    "rack.Blemish": frozenset({"kind", "side"}),
    "rack.CleftFile": frozenset({"code", "name", "parsed"}),
    "rack.CleftPhoto": frozenset({"code", "file", "caption"}),
    "rack.CleftEntry": frozenset({"verb", "from_state", "to_state", "data"}),
    "rack.CleftHold": frozenset({"until"}),
    "match.WillowOfBuild": frozenset({"key", "content"}),
    "stock.Handle": frozenset({"code", "construction", "line", "batch", "state"}),
    "stock.HandleEntry": frozenset({"verb", "from_state", "to_state", "data"}),
    "stock.Supply": frozenset(
        {"code", "kind", "name", "colour", "unit", "batch", "arrived_on", "opened_on", "use_by"}
    ),
    "stock.Movement": frozenset({"verb", "words"}),
    "stock.StockBat": frozenset({"code", "kind", "length_code", "build", "state", "words"}),
    "stock.StockBatEntry": frozenset({"verb", "from_state", "to_state"}),
    "stock.Scrap": frozenset({"cause", "stage", "words"}),
}
