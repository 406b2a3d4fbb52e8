"""Open commissions against the clefts of the rack."""
