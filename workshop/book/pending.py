"""What the maker has changed and not saved yet; kept in the session, put on top of the book in force."""

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass, field, replace
from typing import Any

from django.contrib.sessions.backends.base import SessionBase

from fitting.sheets.book import Book
from fitting.sheets.book_rules import Sign
from fitting.sheets.faults import SheetRefused, read_sheet
from fitting.sheets.leaves import with_leaves
from fitting.sheets.snapshot import canonical_json
from orders.commissions.editions import book_leaves

KEY = "book"


@dataclass(frozen=True)
class Pending:
    """Changes by name; signs by key: new points, taken out, added. ``seen`` is the edition it began on.

    The bench's ``steps`` are one value, those of each stage in order; none where they are as in the book.
    Whatever is not named is the book's in force, so that two makers' changes to different fields both stand.
    """

    seen: int
    values: Mapping[str, Any] = field(default_factory=dict)
    points: Mapping[str, float] = field(default_factory=dict)
    removed: tuple[str, ...] = ()
    added: tuple[dict[str, Any], ...] = ()
    steps: tuple[list[dict[str, Any]], ...] = ()

    @property
    def count(self) -> int:
        """How many fields and signs are changed; the steps count as one."""
        return len(self.values) + len(self.points) + len(self.removed) + len(self.added) + bool(self.steps)

    def on(self, book: Book) -> Book:
        """Return a book with these changes in it.

        Raises SheetRefused when they make no book.
        """
        content = book.model_dump(mode="json")
        known = book_leaves(book)
        changed = with_leaves(content, {name: value for name, value in self.values.items() if name in known})
        changed["rules"]["signs"] = list(self._signs(book))
        for stage_work, steps in zip(changed["bench"]["stages"], self.steps, strict=False):
            stage_work["steps"] = steps
        return read_sheet(Book, changed)

    def standing_on(self, book: Book) -> Book | None:
        """Return a book with these changes in it, None where they no longer make one together."""
        try:
            return self.on(book)
        except SheetRefused:
            return None

    def with_values(self, names: list[str], values: Mapping[str, Any]) -> "Pending":
        """Return the same with these fields anew: those not among ``values`` are as in the book."""
        kept = {name: value for name, value in self.values.items() if name not in names}
        return replace(self, values={**kept, **values})

    def _signs(self, book: Book) -> Iterator[dict[str, Any]]:
        """Yield the signs in order, what is added after the last of its subject."""
        last = {sign.subject: at for at, sign in enumerate(book.rules.signs)}
        waiting = list(self.added)
        for at, (key, sign) in enumerate(keyed(book)):
            if key not in self.removed:
                yield sign.model_dump(mode="json") | (
                    {"points": self.points[key]} if key in self.points else {}
                )
            if last[sign.subject] == at:
                yield from (one for one in waiting if one["subject"] == sign.subject)
                waiting = [one for one in waiting if one["subject"] != sign.subject]
        yield from waiting


def keyed(book: Book) -> Iterator[tuple[str, Sign]]:
    """Yield every sign with a key of its own that its points do not change."""
    met: dict[str, int] = {}
    for sign in book.rules.signs:
        said = canonical_json(sign.model_dump(mode="json", exclude={"points"}))
        stem = hashlib.sha256(said.encode()).hexdigest()[:12]
        met[stem] = met.get(stem, 0) + 1
        yield f"{stem}-{met[stem]}", sign


def pending_in(session: SessionBase, *, in_force: int) -> Pending:
    """Return what is changed and not saved in this session; nothing, on the edition in force, at first."""
    kept = session.get(KEY)
    if not kept:
        return Pending(seen=in_force)
    lists = {name: tuple(kept.get(name, ())) for name in ("removed", "added", "steps")}
    return Pending(**{**kept, **lists})


def keep_pending(session: SessionBase, pending: Pending) -> None:
    """Keep the changes in the session; none at all are forgotten."""
    if pending.count:
        session[KEY] = asdict(pending)
    else:
        session.pop(KEY, None)


def shown(value: Any) -> str:
    """Write a number as it stands in a box: six figures at most, no exponent."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return str(value)
    text = f"{value:.6f}" if abs(value) < 1 else f"{value:.{max(0, 6 - len(str(int(abs(value)))))}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
