"""One chapter of the book as boxes, read back into changes or refused at the box."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from django.utils.functional import Promise
from django.utils.translation import gettext as _

from fitting.sheets.book import Book
from fitting.sheets.bounds import Allowed, allowed_in
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import SheetRefused
from orders.commissions.editions import book_leaves
from orders.words.book import say_book_field, say_part, unit_of
from orders.words.stages import measured_words
from workshop.book.chapters import FOLLOWS, Chapter, group_of, in_order, names_in, table_of
from workshop.book.faults import placed_faults
from workshop.book.pending import Pending, shown

_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)")
_DEFAULT = book_leaves(DEFAULT_BOOK)

Text = str | Promise


class FormRefused(ValueError):
    """A chapter that cannot be read; ``faults`` by the name of the box."""

    def __init__(self, faults: Mapping[str, str]) -> None:
        super().__init__(", ".join(faults))
        self.faults = dict(faults)


@dataclass(frozen=True)
class Box:
    """One box: its words, unit and bounds; the value that came with the program, and the one in force."""

    name: str
    label: str
    unit: str
    bounds: str
    value: str
    came_as: str
    in_force: str
    fault: str
    choices: tuple[str, ...] = ()
    is_told: bool = False

    @property
    def id(self) -> str:
        """The element's id."""
        return box_id(self.name)

    @property
    def is_changed(self) -> bool:
        """Whether it is no longer what came with the program."""
        return bool(self.came_as) and self.value != self.came_as

    @property
    def is_unsaved(self) -> bool:
        """Whether it is not what is in force."""
        return self.value != self.in_force


@dataclass(frozen=True)
class Table:
    """Boxes in rows and columns: titles and bounds of the columns, then each row's title, bounds and boxes.

    Bounds stand where they are the same for all: at the column, or at the row.
    """

    title: str
    columns: tuple[tuple[str, str], ...]
    rows: tuple[tuple[str, str, tuple[Box, ...]], ...]


@dataclass(frozen=True)
class Section:
    """A part of a chapter: boxes, or a table."""

    title: str
    boxes: tuple[Box, ...] = ()
    table: Table | None = None


@dataclass(frozen=True)
class ChapterForm:
    """What stands in the boxes of a chapter, whatever it is; ``book`` is the edition they were read from."""

    chapter: Chapter
    book: Book
    typed: Mapping[str, str]
    faults: Mapping[str, str] = field(default_factory=dict)

    @classmethod
    def of_book(cls, chapter: Chapter, book: Book, pending: Pending) -> "ChapterForm":
        """Fill the boxes from the book in force and what is changed in it."""
        leaves = book_leaves(book)
        names = names_in(chapter, leaves)
        return cls(chapter, book, {name: shown(pending.values.get(name, leaves[name])) for name in names})

    @classmethod
    def of_post(cls, chapter: Chapter, book: Book, posted: Mapping[str, str]) -> "ChapterForm":
        """Take the boxes as they were sent; what was not sent is as in the book."""
        leaves = book_leaves(book)
        names = names_in(chapter, leaves)
        return cls(chapter, book, {name: posted.get(name, shown(leaves[name])).strip() for name in names})

    def with_faults(self, faults: Mapping[str, str]) -> "ChapterForm":
        """Return the same boxes with what is wrong at each."""
        return ChapterForm(self.chapter, self.book, self.typed, faults)

    def upon(self, newer: Book) -> "ChapterForm":
        """Return the boxes upon a newer edition: what was typed stays, what was left alone is the newer's."""
        old, new = book_leaves(self.book), book_leaves(newer)
        typed = {
            name: self.typed[name]
            if self.typed.get(name, shown(old.get(name))) != shown(old.get(name))
            else shown(new[name])
            for name in names_in(self.chapter, new)
        }
        return ChapterForm(self.chapter, newer, typed, self.faults)

    def read(self, pending: Pending, book: Book) -> Pending:
        """Read the boxes into changes of ``book``, the edition in force.

        Raises:
            FormRefused: with words at every box that is wrong.
        """
        leaves = book_leaves(self.book)
        faults: dict[str, str] = {}
        values: dict[str, Any] = {}
        for name, text in self.typed.items():
            if text == shown(leaves[name]) or name.endswith(f".{FOLLOWS}"):
                continue
            number = _number(name, text, faults)
            if number is not None:
                values[name] = number
        if faults:
            raise FormRefused(faults)
        changed = pending.with_values(list(self.typed), {**values, **_following(values, leaves)})
        try:
            changed.on(book)
        except SheetRefused as refused:
            raise FormRefused(placed_faults(refused.faults, self.typed)) from None
        return changed

    def summary(self) -> list[dict[str, str]]:
        """Return every fault with the box it leads to."""
        return [
            {
                "field_id": box_id(name) if name in self.typed else "",
                "words": f"{self.label(name)}: {words}" if name in self.typed else words,
            }
            for name, words in self.faults.items()
        ]

    def label(self, name: str) -> str:
        """Name a box where it stands alone, its row or column with it."""
        return say_full_name(name, self.book)

    def sections(self) -> Iterator[Section]:
        """Yield the chapter's parts, boxes of one group together, tables by themselves."""
        told = {name: table_of(name) for name in self.typed}
        single = [name for name, table in told.items() if table is None]
        for title in in_order(_section(self.chapter, name) for name in single):
            boxes = tuple(self._box(name) for name in single if _section(self.chapter, name) == title)
            yield Section(title, boxes=boxes)
        for table in in_order(found[0] for found in told.values() if found):
            names = {found[1:]: name for name, found in told.items() if found and found[0] == table}
            yield Section(_table_title(table, self.book), table=self._table(table, names))

    def _table(self, table: str, names: Mapping[tuple[str, str], str]) -> Table:
        columns = in_order(column for column, _row in names)
        rows = in_order(row for _column, row in names)
        if table.startswith(("lengths.", "bench.")):
            heads = [_with_unit(names[column, rows[0]]) for column in columns]
            bounds = [say_bounds(names[column, rows[0]]) for column in columns]
            titles = {row: (_row_title(table, row, self.book), "") for row in rows}
        else:
            heads = [_column_title(table, column, self.book) for column in columns]
            bounds = [""] * len(columns)
            titles = {
                row: (_with_unit(names[columns[0], row]), say_bounds(names[columns[0], row])) for row in rows
            }
        return Table(
            _table_title(table, self.book),
            tuple(zip(heads, bounds, strict=True)),
            tuple(
                (
                    titles[row][0],
                    titles[row][1],
                    tuple(
                        self._box(names[column, row], f"{titles[row][0]}, {head}")
                        for column, head in zip(columns, heads, strict=True)
                    ),
                )
                for row in rows
            ),
        )

    def _box(self, name: str, label: str = "") -> Box:
        allowed = allowed_in(Book, name)
        return Box(
            name=name,
            label=label or self.label(name),
            unit=unit_of(name),
            bounds=say_bounds(name),
            value=self.typed[name],
            came_as=shown(_DEFAULT[name]) if name in _DEFAULT else "",
            in_force=shown(book_leaves(self.book)[name]),
            fault=self.faults.get(name, ""),
            choices=allowed.values if allowed.kind == "values" else (),
            is_told=name.startswith("lengths.") and name.endswith(f".{FOLLOWS}"),
        )


def box_id(name: str) -> str:
    """Return the id of a box by its name."""
    return "box-" + name.replace(".", "-")


def say_full_name(name: str, book: Book) -> str:
    """Name a field of the book as it reads away from its chapter: with its row or column."""
    words, table = say_book_field(name), table_of(name)
    if table is None:
        steps = name.split(".")
        if steps[:2] != ["bench", "stages"]:
            return words
        where = say_part(book.bench.stages[int(steps[2])].stage)
    elif table[0].startswith(("lengths.", "bench.")):
        where = _row_title(table[0], table[2], book)
    else:
        where = _column_title(table[0], table[1], book)
    return _("%(field)s, %(where)s") % {"field": words, "where": where}


def say_bounds(name: str) -> str:
    """Say between which ends a field may lie; nothing where it has none."""
    return _bounds(allowed_in(Book, name))


def _bounds(allowed: Allowed) -> str:
    least = None if allowed.least is None else shown(allowed.least)
    most = None if allowed.most is None else shown(allowed.most)
    if least is not None and most is not None:
        return _("%(least)s to %(most)s") % {"least": least, "most": most}
    if least is not None:
        words = _("%(least)s or more") if allowed.least_counts else _("above %(least)s")
        return words % {"least": least}
    return _("at most %(most)s") % {"most": most} if most is not None else ""


def _number(name: str, text: str, faults: dict[str, str]) -> float | int | None:
    allowed = allowed_in(Book, name)
    if allowed.kind == "values" and text in allowed.values:
        return int(text)
    if not _NUMBER.fullmatch(text):
        faults[name] = (
            _("%(given)s was given, which is no number.") % {"given": text}
            if text
            else _("A number is needed.")
        )
        return None
    number = float(text.replace(",", "."))
    if allowed.kind in ("integer", "values"):
        if number != int(number):
            faults[name] = _("%(given)s was given; it must be a whole number.") % {"given": text}
            return None
        return int(number)
    return number


def _following(values: Mapping[str, Any], leaves: Mapping[str, Any]) -> dict[str, float]:
    """Return the overall lengths that follow from blades and handles changed."""
    found = {}
    for name in values:
        row = name.rpartition(".")[0]
        if name in (f"{row}.blade_mm", f"{row}.handle_mm") and row.startswith("lengths."):
            parts = [
                float(values.get(f"{row}.{part}", leaves[f"{row}.{part}"]))
                for part in ("blade_mm", "handle_mm")
            ]
            found[f"{row}.{FOLLOWS}"] = round(sum(parts), 6)
    return found


def _section(chapter: Chapter, name: str) -> str:
    """Return the title under which a single box stands: its group, else the record it belongs to."""
    if group := group_of(chapter, name):
        return str(group)
    steps = [step for step in name.split(".") if not step.isdigit()][:-1]
    if steps[:2] == ["bench", "stages"]:
        return _("Rests")
    if not steps or steps[-1] == chapter.key:
        return str(chapter.title)
    return _capital(say_part(steps[-1]))


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _with_unit(name: str) -> str:
    unit = unit_of(name)
    words = say_book_field(name)
    return _("%(field)s, %(unit)s") % {"field": words, "unit": unit} if unit else words


def _row_title(table: str, row: str, book: Book) -> str:
    if table == "lengths.":
        return say_part(book.lengths[int(row)].code)
    entry = book.bench.stages[int(table.split(".")[2])].entries[int(row)]
    return _("%(what)s, %(unit)s") % {
        "what": measured_words(entry.key, book.bench),
        "unit": say_part(entry.unit),
    }


def _column_title(table: str, column: str, book: Book) -> str:
    if table == "trade_limits_":
        return _("adult") if column == "adult" else _("junior")
    if table == "materials.impact.blows.":
        codes = book.materials.impact.blows[int(column)].codes
        return ", ".join(say_part(code) for code in codes) or _("all other lengths")
    return say_part(column)


def _table_title(table: str, book: Book) -> str:
    if table == "lengths.":
        return _("One row a length")
    if table == "trade_limits_":
        return _("Limits of the trade")
    steps = table.strip(".").split(".")
    if steps[0] == "bench":
        return _("Readings in %(stage)s") % {"stage": say_part(book.bench.stages[int(steps[2])].stage)}
    return _capital(say_part(steps[-1]))
