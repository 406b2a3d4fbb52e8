import pytest

from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.snapshot import book_hash
from orders.commissions.book_in_force import book_in_force
from orders.commissions.models import BookVersion
from tests.factories import a_commission

pytestmark = pytest.mark.django_db


def kept(number, **changes):
    book = DEFAULT_BOOK.model_copy(update={"version": number, **changes})
    BookVersion.objects.create(number=number, content=book.model_dump(mode="json"), hash=book_hash(book))
    return book


def test_without_an_edition_the_default_book_is_in_force():
    assert book_in_force() == DEFAULT_BOOK


def test_the_newest_edition_is_in_force():
    kept(2, law_margin_mm=1.5)
    newest = kept(3, law_margin_mm=2.0)

    assert book_in_force() == newest


def test_a_commission_is_recommended_by_the_book_in_force(player):
    newest = kept(2, law_margin_mm=3.0)

    version = a_commission(player).builds.get()

    assert (version.book_number, version.book_hash) == (2, book_hash(newest))
    assert version.build["blade"]["width_mm"] <= 108 - 3.0
