"""The maker's morning page, search and review."""
