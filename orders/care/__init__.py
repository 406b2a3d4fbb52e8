"""Delivery, bat record, aftercare and returns."""
