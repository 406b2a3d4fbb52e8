"""What the tests of the book's pages share: a chapter's form as a browser would send it."""

import pytest

from fitting.sheets.default_book import DEFAULT_BOOK
from orders.commissions.book_in_force import book_in_force
from orders.commissions.editions import number_in_force
from orders.people.once import new_key
from workshop.book.chapters import BY_KEY
from workshop.book.form import ChapterForm
from workshop.book.pending import Pending, keyed


def chapter_form(key, **changes):
    """A chapter's form with dotted boxes changed (two underlines stand for a dot)."""
    filled = ChapterForm.of_book(BY_KEY[key], book_in_force(), Pending(seen=1))
    changed = {name.replace("__", "."): value for name, value in changes.items()}
    return {**filled.typed, "once": new_key(), "version": str(number_in_force()), **changed}


def sign_key(subject, option, points):
    """The key of one sign of the default book."""
    return next(
        key
        for key, sign in keyed(DEFAULT_BOOK)
        if (sign.subject, sign.option, sign.points) == (subject, option, points)
    )


@pytest.fixture
def change(maker_client, workshop):
    """Change a chapter as the maker does; returns the answer."""

    def send(key, **changes):
        return maker_client.post(f"/floor/book/{key}/", chapter_form(key, **changes))

    return send


@pytest.fixture
def save(maker_client, workshop):
    """Save what is changed."""

    def send(note="because", **changed):
        said = {"once": new_key(), "version": str(number_in_force()), "edition": "", "note": note, **changed}
        return maker_client.post("/floor/book/save/", said)

    return send
