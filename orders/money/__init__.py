"""Sums of money: whole numbers of the currency's smallest unit."""
