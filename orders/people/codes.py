"""The opaque codes by which records are known outside the database."""

import secrets

# Crockford's base 32 in lower case: no i, l, o or u, so that a code can be read out.
ALPHABET = "0123456789abcdefghjkmnpqrstvwxyz"
CODE_LENGTH = 10
CODE_PATTERN = rf"[{ALPHABET}]{{{CODE_LENGTH}}}"


def new_code(length: int = CODE_LENGTH) -> str:
    """Return a fresh random code of five bits a character."""
    return "".join(secrets.choice(ALPHABET) for _ in range(length))
