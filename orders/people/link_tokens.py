"""The secrets of mailed links: derived when needed, stored only as hashes.

A row holds a random seed. The token in the link and the short code are the seed signed with the
secret key, so that the worker can write them into a letter although no table holds them, and a
copy of the database alone opens nothing.
"""

import base64
import hashlib
import secrets

from django.utils.crypto import constant_time_compare, salted_hmac

from orders.people.codes import ALPHABET

SHORT_CODE_LENGTH = 6  # 30 bits


def new_seed() -> str:
    """Return 128 random bits as text."""
    return secrets.token_hex(16)


def token_of(seed: str) -> str:
    """Return the token of a link, 256 bits."""
    signed = salted_hmac("orders.people.link", seed, algorithm="sha256").digest()
    return base64.urlsafe_b64encode(signed).decode().rstrip("=")


def short_code_of(seed: str) -> str:
    """Return the short code that is typed into the browser which asked."""
    signed = salted_hmac("orders.people.code", seed, algorithm="sha256").digest()
    return "".join(ALPHABET[byte % len(ALPHABET)] for byte in signed[:SHORT_CODE_LENGTH])


def shown_code(code: str) -> str:
    """Return a short code as it is written in a letter: ``4KX-9RT``."""
    half = SHORT_CODE_LENGTH // 2
    return f"{code[:half]}-{code[half:]}".upper()


def read_code(typed: str) -> str:
    """Return what was meant by a typed code: letters that look like figures are those figures."""
    return typed.strip().lower().translate(str.maketrans("oil", "011", " -"))


def hash_of_token(token: str) -> str:
    """Return what is stored of a token or a browser's cookie; both have 112 bits or more."""
    return hashlib.sha256(token.encode()).hexdigest()


def hash_of_code(code: str, seed: str) -> str:
    """Return what is stored of a short code: it could be guessed, so its hash is keyed."""
    return salted_hmac("orders.people.code_hash", f"{seed}|{code}", algorithm="sha256").hexdigest()


def same(left: str, right: str) -> bool:
    """Compare two hashes without telling by the time taken where they differ."""
    return constant_time_compare(left, right)
