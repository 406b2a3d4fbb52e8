"""Editions of the Laws of Cricket as numbers, and the checks of a build sheet against them."""

from fitting.laws.check import LawRow, law_check
from fitting.laws.editions import EDITIONS, edition_on, types_at, types_of

__all__ = ["EDITIONS", "LawRow", "edition_on", "law_check", "types_at", "types_of"]
