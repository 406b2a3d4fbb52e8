"""The wording of keys and numbers, in the reader's language and units."""
