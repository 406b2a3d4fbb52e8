"""The signs of one subject as a form: points, taking out, and adding from closed lists."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any, get_args

from django.utils.translation import gettext as _

from fitting.facts import FACTS
from fitting.recommend.findings import CHOSEN
from fitting.sheets.book import Book
from fitting.sheets.book_rules import Sign, Subject
from fitting.sheets.bounds import allowed_in
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import SheetRefused, read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from orders.rules.told import options_of, say_kind
from orders.words.answers import ANSWERS
from orders.words.facts import FACT_WORDS
from orders.words.signs import say_answered, say_finding, say_option, say_sign, say_subject
from workshop.book.faults import placed_faults
from workshop.book.form import FormRefused
from workshop.book.pending import Pending, keyed, shown

MOST_CONDITIONS = 4
_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)")
_NUMBERED = "#"
_POINTS = allowed_in(Sign, "points")


@dataclass(frozen=True)
class SignRow:
    """One sign as it stands in the form."""

    key: str
    option: str
    when: str
    fact: str
    kind: str
    points: str
    came_as: str
    in_force: str
    removed: bool
    added: bool
    fault: str

    @property
    def is_changed(self) -> bool:
        """Whether its points are not those that came with the program."""
        return self.points != self.came_as


@dataclass(frozen=True)
class SignForm:
    """What stands in the form of one subject, whatever it is."""

    subject: str
    book: Book
    typed: Mapping[str, str]
    faults: Mapping[str, str] = field(default_factory=dict)

    @classmethod
    def of_book(cls, subject: str, book: Book, pending: Pending) -> "SignForm":
        """Fill the form from the book in force and what is changed in it."""
        typed = {}
        for key, sign in _of_subject(book, subject):
            typed[f"points.{key}"] = shown(pending.points.get(key, sign.points))
            if key in pending.removed:
                typed[f"remove.{key}"] = "on"
        return cls(subject, book, typed)

    @classmethod
    def of_post(cls, subject: str, book: Book, posted: Mapping[str, str]) -> "SignForm":
        """Take the form as it was sent."""
        return cls(subject, book, {name: value.strip() for name, value in posted.items()})

    def with_faults(self, faults: Mapping[str, str]) -> "SignForm":
        """Return the same with what is wrong at each box."""
        return replace(self, faults=faults)

    def upon(self, newer: Book) -> "SignForm":
        """Return the form upon a newer edition: what was typed stays, what was left alone is the newer's."""
        old = {f"points.{key}": shown(sign.points) for key, sign in _of_subject(self.book, self.subject)}
        typed = {name: text for name, text in self.typed.items() if old.get(name) != text}
        fresh = {f"points.{key}": shown(sign.points) for key, sign in _of_subject(newer, self.subject)}
        return replace(self, book=newer, typed={**fresh, **typed})

    def rows(self, pending: Pending) -> Iterator[SignRow]:
        """Yield every sign of the subject, those added and not saved at the end."""
        came = {key: shown(sign.points) for key, sign in keyed(DEFAULT_BOOK)}
        for key, sign in _of_subject(self.book, self.subject):
            yield self._row(key, sign, came.get(key, ""), added=False)
        for at, content in enumerate(pending.added):
            if content["subject"] == self.subject:
                yield self._row(f"added-{at}", read_sheet(Sign, content), "", added=True)

    def read(self, pending: Pending, book: Book) -> Pending:
        """Read the form into changes of ``book``.

        Raises:
            FormRefused: with words at every box that is wrong.
        """
        faults: dict[str, str] = {}
        points, removed = dict(pending.points), set(pending.removed)
        for key, sign in _of_subject(self.book, self.subject):
            points.pop(key, None)
            removed.discard(key)
            if f"remove.{key}" in self.typed:
                removed.add(key)
                continue
            text = self.typed.get(f"points.{key}", shown(sign.points))
            number = _points_in(f"points.{key}", text, faults)
            if number is not None and text != shown(sign.points):
                points[key] = number
        added = tuple(self._added(pending, faults))
        new = self._new(faults)
        if faults:
            raise FormRefused(faults)
        changed = replace(
            pending,
            points=points,
            removed=tuple(sorted(removed)),
            added=(*added, *([new] if new is not None else [])),
        )
        try:
            changed.on(book)
        except SheetRefused as refused:
            raise FormRefused(placed_faults(refused.faults, self.typed)) from None
        return changed

    def summary(self) -> list[dict[str, str]]:
        """Return every fault with the box it leads to."""
        known = set(self.typed) | {"new.option", "new.points", "new.fact"}
        signs = {f"points.{key}": sign for key, sign in _of_subject(self.book, self.subject)}
        return [
            {
                "field_id": f"sign-{name.replace('.', '-')}" if name in known else "",
                "words": f"{say_option(self.subject, signs[name].option)}, {say_sign(signs[name])}: {words}"
                if name in signs
                else words,
            }
            for name, words in self.faults.items()
        ]

    def conditions(self) -> list[dict[str, Any]]:
        """Return the rows of conditions of a sign to be added, as typed."""
        return [
            {
                "at": at,
                "chosen": self.typed.get(f"new.when.{at}", ""),
                "least": self.typed.get(f"new.least.{at}", ""),
                "below": self.typed.get(f"new.below.{at}", ""),
                "fault": self.faults.get(f"new.when.{at}", ""),
            }
            for at in range(1, MOST_CONDITIONS + 1)
        ]

    def _row(self, key: str, sign: Sign, came_as: str, *, added: bool) -> SignRow:
        return SignRow(
            key=key,
            option=say_option(sign.subject, sign.option),
            when=say_sign(sign),
            fact=str(FACT_WORDS.get(sign.fact, sign.fact)),
            kind=say_kind(sign.fact),
            points=self.typed.get(f"points.{key}", shown(sign.points)),
            came_as=came_as,
            in_force="" if added else shown(sign.points),
            removed=f"remove.{key}" in self.typed,
            added=added,
            fault=self.faults.get(f"points.{key}", ""),
        )

    def _added(self, pending: Pending, faults: dict[str, str]) -> Iterator[dict[str, Any]]:
        """Yield the signs added before, with their points as typed, without those taken out again."""
        for at, content in enumerate(pending.added):
            key = f"added-{at}"
            if content["subject"] != self.subject:
                yield content
            elif f"remove.{key}" not in self.typed:
                text = self.typed.get(f"points.{key}", shown(content["points"]))
                number = _points_in(f"points.{key}", text, faults)
                yield {**content, "points": content["points"] if number is None else number}

    def _new(self, faults: dict[str, str]) -> dict[str, Any] | None:
        """Return the sign to be added; None where nothing of one is given."""
        given = [self.typed.get(name, "") for name in ("new.option", "new.points", "new.fact")]
        if not any(given) and not any(row["chosen"] for row in self.conditions()):
            return None
        option, points, fact = given
        if option not in options_of(self.subject):
            faults["new.option"] = _("Choose the option that the sign speaks for.")
        if fact not in FACTS:
            faults["new.fact"] = _("Choose the fact that stands behind it.")
        number = _points_in("new.points", points, faults)
        when = self._conditions(faults)
        return {"subject": self.subject, "option": option, "points": number, "fact": fact, "when": when}

    def _conditions(self, faults: dict[str, str]) -> list[dict[str, Any]]:
        """Read the conditions; several values of one answer are one condition, of which one is enough."""
        worded: dict[str, list[str | bool | int]] = {}
        ranges: list[dict[str, Any]] = []
        known = dict(answers_to_choose())
        for row in self.conditions():
            name, chosen = f"new.when.{row['at']}", row["chosen"]
            answer, _sep, value = chosen.partition("=")
            if not chosen:
                if row["least"] or row["below"]:
                    faults[name] = _("Choose the answer that these numbers are about.")
            elif chosen.endswith(_NUMBERED) and answer.removesuffix(_NUMBERED) in known:
                ends = self._ends(row, faults)
                if ends:
                    ranges.append({"answer": answer.removesuffix(_NUMBERED), **ends})
            elif answer in known and value in {str(one) for one in known[answer]}:
                worded.setdefault(answer, []).append(next(one for one in known[answer] if str(one) == value))
            else:
                faults[name] = _("%(given)s is none of the answers.") % {"given": chosen}
        return [*({"answer": answer, "one_of": values} for answer, values in worded.items()), *ranges]

    def _ends(self, row: Mapping[str, Any], faults: dict[str, str]) -> dict[str, float]:
        name = f"new.when.{row['at']}"
        found: dict[str, float] = {}
        for key, said in (("at_least", row["least"]), ("below", row["below"])):
            if said and not _NUMBER.fullmatch(said):
                faults[name] = _("%(given)s was given, which is no number.") % {"given": said}
            elif said:
                found[key] = float(said.replace(",", "."))
        if not found and name not in faults:
            faults[name] = _("Give the number from which, or below which, it speaks.")
        return found


def subject_rows(book: Book, pending: Pending) -> list[dict[str, Any]]:
    """Return every subject with how many signs it has, and how many are changed and not saved."""
    changed = pending.standing_on(book) or book
    known = dict.fromkeys([*get_args(Subject), *(sign.subject for sign in book.rules.signs)])
    return [
        {
            "slug": subject.replace("_", "-"),
            "name": say_subject(subject),
            "count": sum(sign.subject == subject for sign in changed.rules.signs),
            "unsaved": sum(
                key in pending.points or key in pending.removed for key, _sign in _of_subject(book, subject)
            )
            + sum(one["subject"] == subject for one in pending.added),
        }
        for subject in known
    ]


def facts_to_choose() -> list[tuple[str, str]]:
    """Return every fact that is worded: key and sentence."""
    return [(key, str(FACT_WORDS[key])) for key in FACTS if key in FACT_WORDS]


@cache
def answers_to_choose() -> tuple[tuple[str, tuple[str | bool, ...]], ...]:
    """Return what a condition may look at, with its values; none where it is a number.

    Every answer of the fitting sheet, and whatever the default signs look at besides.
    """
    names = [*ANSWERS, *(one.answer for sign in DEFAULT_BOOK.rules.signs for one in sign.when)]
    found: dict[str, tuple[str | bool, ...]] = {}
    for name in dict.fromkeys(names):
        values = _values_of(name)
        if values is not None:
            found[name] = values
    return tuple(found.items())


def condition_choices() -> list[tuple[str, list[tuple[str, str]]]]:
    """Return the closed list of conditions, by answer: value and words."""
    groups = []
    for answer, values in answers_to_choose():
        entries = [
            (f"{answer}={value}", f"{say_finding(answer)}: {say_answered(answer, value)}") for value in values
        ] or [(f"{answer}{_NUMBERED}", _("%(answer)s: from, below …") % {"answer": say_finding(answer)})]
        groups.append((say_finding(answer), entries))
    return groups


def _values_of(name: str) -> tuple[str | bool, ...] | None:
    """Return the values of an answer, an empty list for a number, None for what no sign can look at."""
    if name == "build.child":
        return (True,)
    if name.startswith(CHOSEN):
        return options_of(name.removeprefix(CHOSEN))
    field = name if allowed_in(FittingSheet, name).kind != "record" else ""
    allowed = allowed_in(
        FittingSheet, f"{field}.0" if allowed_in(FittingSheet, name).kind == "array" else name
    )
    if allowed.kind == "values":
        return allowed.values
    if allowed.kind == "boolean":
        return (True, False)
    worked_out = any(one.answer == name for sign in DEFAULT_BOOK.rules.signs for one in sign.when)
    return () if worked_out or allowed.kind in ("number", "integer") else None


def _of_subject(book: Book, subject: str) -> Iterator[tuple[str, Sign]]:
    return ((key, sign) for key, sign in keyed(book) if sign.subject == subject)


def _points_in(name: str, text: str, faults: dict[str, str]) -> float | None:
    """Read points; words at the box where they are none."""
    ends = {"given": text, "least": shown(_POINTS.least), "most": shown(_POINTS.most)}
    if not _NUMBER.fullmatch(text):
        faults[name] = (
            _("%(given)s was given; points are a number from %(least)s to %(most)s.") % ends
            if text
            else _("Points are needed: a number from %(least)s to %(most)s.") % ends
        )
        return None
    number = float(text.replace(",", "."))
    if not (_POINTS.least or 0.0) <= number <= (_POINTS.most or 0.0):
        faults[name] = _("%(given)s was given; points are a number from %(least)s to %(most)s.") % ends
        return None
    return number
