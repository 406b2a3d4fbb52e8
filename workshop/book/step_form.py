"""The steps of the bench as a form: stage, place in it, needed, how long it must lie, own words."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from django.utils.translation import gettext as _

from fitting.sheets.book import Book
from fitting.sheets.book_bench import OWN_STEP, STAGES, BenchBook, Entry, Step
from fitting.sheets.default_book import DEFAULT_BOOK
from orders.words.stages import measured_words, step_words
from workshop.book.form import FormRefused
from workshop.book.pending import Pending, shown

MOST_WORDS = 160
MOST_HOURS = 720
_NUMBER = re.compile(r"\d{1,4}([.,]\d{1,2})?")
_PLACE = re.compile(r"\d{1,2}")


@dataclass(frozen=True)
class StepBox:
    """One step as it stands in the form."""

    key: str
    words: str
    is_own: bool
    stage: str
    place: str
    needed: bool
    at_rest: bool
    wait: str
    out: bool
    faults: tuple[str, ...]


@dataclass(frozen=True)
class EntryBox:
    """One thing that is measured, and whether it must be."""

    name: str
    words: str
    needed: bool


@dataclass(frozen=True)
class StepForm:
    """What stands in the form, whatever it is; ``bench`` is what it was read from."""

    bench: BenchBook
    typed: Mapping[str, str]
    faults: Mapping[str, str] = field(default_factory=dict)

    @classmethod
    def of_book(cls, book: Book, pending: Pending) -> "StepForm":
        """Fill the form from the book in force and what is changed in it."""
        standing = pending.standing_on(book) or book
        return cls(standing.bench, _filled(standing.bench))

    @classmethod
    def of_post(cls, book: Book, pending: Pending, posted: Mapping[str, str]) -> "StepForm":
        """Take the form as it was sent."""
        standing = pending.standing_on(book) or book
        return cls(standing.bench, {name: value.strip() for name, value in posted.items()})

    def with_faults(self, faults: Mapping[str, str]) -> "StepForm":
        """Return the same with what is wrong at each box."""
        return replace(self, faults=faults)

    def boxes(self, stage: str) -> Iterator[StepBox]:
        """Yield the steps of a stage of the book as they stand in the form."""
        for place, step in enumerate(self.bench.work(stage).steps, start=1):
            said = self.typed.get
            names = ("words", "place", "stage", "wait", "out")
            yield StepBox(
                key=step.key,
                words=said(f"words.{step.key}", step_words(step.key, self.bench)),
                is_own=bool(step.words),
                stage=said(f"stage.{step.key}", stage),
                place=said(f"place.{step.key}", str(place)),
                needed=f"needed.{step.key}" in self.typed,
                at_rest=f"rest.{step.key}" in self.typed,
                wait=said(f"wait.{step.key}", shown(step.wait_hours)),
                out=f"out.{step.key}" in self.typed,
                faults=tuple(
                    self.faults[f"{name}.{step.key}"] for name in names if f"{name}.{step.key}" in self.faults
                ),
            )

    def entries(self, stage: str) -> Iterator[EntryBox]:
        """Yield what is measured in a stage."""
        for entry in self.bench.work(stage).entries:
            name = f"entry.{stage}.{entry.key}"
            yield EntryBox(name, measured_words(entry.key, self.bench), name in self.typed)

    def absent(self) -> list[tuple[str, str]]:
        """Return the program's own steps that the book does not have, key and words."""
        there = {step.key for work in self.bench.stages for step in work.steps}
        bench = DEFAULT_BOOK.bench
        return [
            (step.key, step_words(step.key, bench))
            for work in bench.stages
            for step in work.steps
            if step.key not in there
        ]

    def read(self, pending: Pending, book: Book) -> Pending:
        """Read the form into changes of ``book``, the edition in force.

        Raises:
            FormRefused: with words at every box that is wrong.
        """
        faults: dict[str, str] = {}
        placed = [*self._placed(faults), *self._back(), *self._new(book.version, faults)]
        placed.sort(key=lambda one: one.order)
        stages = {stage: [one.step for one in placed if one.stage == stage] for stage in STAGES}
        for stage, steps in stages.items():
            if not steps and not faults:
                faults[f"stage.{stage}"] = _("At least one step must stay in each stage.")
        if faults:
            raise FormRefused(faults)
        lists = tuple([step.model_dump(mode="json") for step in stages[stage]] for stage in STAGES)
        same = all(tuple(stages[work.stage]) == work.steps for work in book.bench.stages)
        names, values = self._entries(book)
        return replace(pending.with_values(names, values), steps=() if same else lists)

    def _placed(self, faults: dict[str, str]) -> Iterator["_Placed"]:
        for work in self.bench.stages:
            for place, step in enumerate(work.steps, start=1):
                if f"out.{step.key}" in self.typed:
                    continue
                to = self._stage(f"stage.{step.key}", work.stage)
                wanted = self._place(f"place.{step.key}", place, faults)
                # Typed upwards it goes before what stood there, typed downwards behind it.
                lean = 0.0 if (wanted, to) == (place, work.stage) else 0.5 if wanted > place else -0.5
                changed = step.model_copy(
                    update={
                        "needed": f"needed.{step.key}" in self.typed,
                        "at_rest": f"rest.{step.key}" in self.typed,
                        "wait_hours": self._hours(f"wait.{step.key}", step.wait_hours, faults),
                        "words": self._words(f"words.{step.key}", faults) if step.words else "",
                    }
                )
                yield _Placed(to, (wanted + (lean if to == work.stage else -0.5), place), changed)

    def _back(self) -> Iterator["_Placed"]:
        key = self.typed.get("back", "")
        if key not in {one for one, _words in self.absent()}:
            return
        for work in DEFAULT_BOOK.bench.stages:
            for step in work.steps:
                if step.key == key:
                    yield _Placed(work.stage, (100.0, 0), step)

    def _new(self, edition: int, faults: dict[str, str]) -> Iterator["_Placed"]:
        if not any(self.typed.get(f"new.{name}") for name in ("words", "place", "wait")):
            return
        words = self._words("new.words", faults)
        wanted = self._place("new.place", 99, faults)
        hours = self._hours("new.wait", 0, faults)
        if faults:
            return
        step = Step(
            key=self._new_key(edition),
            words=words,
            wait_hours=hours,
            needed="new.needed" in self.typed,
        )
        yield _Placed(self._stage("new.stage", STAGES[0]), (wanted - 0.5, 0), step)

    def _new_key(self, edition: int) -> str:
        """Return a key that no step of any edition has: a bat may still name one that is gone."""
        start = f"{OWN_STEP}{edition}_"
        keys = {step.key for work in self.bench.stages for step in work.steps}
        return next(key for number in range(1, len(keys) + 2) if (key := f"{start}{number}") not in keys)

    def _stage(self, name: str, otherwise: str) -> str:
        said = self.typed.get(name, otherwise)
        return said if said in STAGES else otherwise

    def _place(self, name: str, otherwise: int, faults: dict[str, str]) -> int:
        text = self.typed.get(name, "") or str(otherwise)
        if not _PLACE.fullmatch(text) or int(text) == 0:
            faults[name] = _("%(given)s was given; its place is a whole number from 1 to 99.") % {
                "given": text
            }
            return otherwise
        return int(text)

    def _hours(self, name: str, otherwise: float, faults: dict[str, str]) -> float:
        text = self.typed.get(name, shown(otherwise)) or "0"
        hours = float(text.replace(",", ".")) if _NUMBER.fullmatch(text) else -1.0
        if not 0 <= hours <= MOST_HOURS:
            words = _("%(given)s was given; hours from 0 to %(most)s are allowed.")
            faults[name] = words % {"given": text, "most": MOST_HOURS}
            return otherwise
        return hours

    def _words(self, name: str, faults: dict[str, str]) -> str:
        words = " ".join(self.typed.get(name, "").split())
        if not words:
            faults[name] = _("A step of your own needs its words.")
        elif len(words) > MOST_WORDS:
            numbers = {"given": len(words), "most": MOST_WORDS}
            faults[name] = _("%(given)s letters were given; %(most)s at most.") % numbers
        return words

    def _entries(self, book: Book) -> tuple[list[str], dict[str, Any]]:
        """Return the names of all readings' flags, and those that are not as in the book."""
        names, values = [], {}
        for number, work in enumerate(book.bench.stages):
            for at, entry in enumerate(work.entries):
                name = f"bench.stages.{number}.entries.{at}.needed"
                names.append(name)
                needed = _entry_name(work.stage, entry) in self.typed
                if needed != entry.needed:
                    values[name] = needed
        return names, values


@dataclass(frozen=True)
class _Placed:
    """A step where it is to stand."""

    stage: str
    order: tuple[float, int]
    step: Step


def _entry_name(stage: str, entry: Entry) -> str:
    return f"entry.{stage}.{entry.key}"


def _filled(bench: BenchBook) -> dict[str, str]:
    """Return the form's boxes as a bench has them."""
    typed: dict[str, str] = {}
    for work in bench.stages:
        for place, step in enumerate(work.steps, start=1):
            typed[f"place.{step.key}"] = str(place)
            typed[f"stage.{step.key}"] = work.stage
            typed[f"wait.{step.key}"] = shown(step.wait_hours)
            typed |= {f"needed.{step.key}": "on"} if step.needed else {}
            typed |= {f"rest.{step.key}": "on"} if step.at_rest else {}
            typed |= {f"words.{step.key}": step.words} if step.words else {}
        typed |= {_entry_name(work.stage, entry): "on" for entry in work.entries if entry.needed}
    return typed
