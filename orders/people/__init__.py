"""Players, guardians and staff: accounts, sign-in, roles, personal data."""
