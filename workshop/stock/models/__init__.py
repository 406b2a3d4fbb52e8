"""The rows of the store."""

from workshop.stock.models.handle import BOUND_STATES, Construction, Handle, HandleEntry, HandleState
from workshop.stock.models.scrap import Cause, Scrap
from workshop.stock.models.stock_bat import BatKind, StockBat, StockBatEntry, StockBatState
from workshop.stock.models.supply import Kind, Movement, Supply, SupplyUnit, Verb

__all__ = [
    "BOUND_STATES",
    "BatKind",
    "Cause",
    "Construction",
    "Handle",
    "HandleEntry",
    "HandleState",
    "Kind",
    "Movement",
    "Scrap",
    "StockBat",
    "StockBatEntry",
    "StockBatState",
    "Supply",
    "SupplyUnit",
    "Verb",
]
