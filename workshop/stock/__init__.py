"""What lies in store beside the clefts: handles, supplies, bats without an owner; and what was lost."""
