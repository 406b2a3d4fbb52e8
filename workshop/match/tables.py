"""The willow tables of build sheets: found when kept, worked out when not. One takes seconds of its own."""

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from time import monotonic
from typing import Any

from fitting.bat.reshaped import WillowTable
from fitting.bat.version import MODEL_VERSION
from fitting.bat.weigh import weigh
from fitting.bat.willow_table import willow_table
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import read_sheet
from fitting.sheets.snapshot import canonical_json, snapshot_hash
from fitting.sheets.weighing import Weighing
from workshop.match.models import WillowOfBuild

# What the model knows nothing of: changing it leaves every table as it is.
NOT_THE_MODELS = frozenset({"version", "matching", "room", "costs"})
# Answers of a table on which a database may be asked at once.
ASKED_AT_ONCE = 500


@dataclass(frozen=True)
class BuildWillow:
    """What the model says of a build sheet's willow, and its weighing."""

    table: WillowTable
    weighing: Weighing


def key_of(build: BuildSheet, stamp: str) -> str:
    """Return the stamp of one sheet under a book and the model that runs; ``stamp`` from stamp_of."""
    sheet = snapshot_hash(build.model_dump(mode="json"))
    return hashlib.sha256(f"{MODEL_VERSION} {stamp} {sheet}".encode()).hexdigest()


def stamp_of(book: Book) -> str:
    """Return the hash of what the model takes from a book."""
    content = book.model_dump(mode="json", exclude=set(NOT_THE_MODELS))
    return hashlib.sha256(canonical_json(content).encode()).hexdigest()


def kept(keys: Iterable[str]) -> dict[str, BuildWillow]:
    """Return the tables that are kept, by key."""
    wanted = list(dict.fromkeys(keys))
    found: dict[str, Any] = {}
    for start in range(0, len(wanted), ASKED_AT_ONCE):
        rows = WillowOfBuild.objects.filter(key__in=wanted[start : start + ASKED_AT_ONCE])
        found |= dict(rows.values_list("key", "content"))
    return {key: _read(content) for key, content in found.items()}


def work_out(builds: Mapping[str, BuildSheet], book: Book, *, seconds: float | None) -> Iterator[str]:
    """Work tables out and keep them, one after the other, until the time is over; yield each key.

    The first one is always finished, so that whoever asks again and again comes to the end. Two who work
    out the same keep it once.
    """
    begun = monotonic()
    for key, build in builds.items():
        found = BuildWillow(willow_table(build, book=book), weigh(build, book=book))
        content = {
            "table": found.table.model_dump(mode="json"),
            "weighing": found.weighing.model_dump(mode="json"),
        }
        WillowOfBuild.objects.bulk_create([WillowOfBuild(key=key, content=content)], ignore_conflicts=True)
        yield key
        if seconds is not None and monotonic() - begun >= seconds:
            return


def _read(content: Mapping[str, Any]) -> BuildWillow:
    return BuildWillow(
        table=read_sheet(WillowTable, content["table"]), weighing=read_sheet(Weighing, content["weighing"])
    )
