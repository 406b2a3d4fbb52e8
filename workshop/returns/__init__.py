"""The returns desk."""
