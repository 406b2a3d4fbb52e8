"""Migrations of matching."""
