"""Template tags of the whole site."""
