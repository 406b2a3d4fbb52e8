"""Clefts in stock and what holds them."""
