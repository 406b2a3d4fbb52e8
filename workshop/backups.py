"""A copy of the database as it stands, whole even while others write to it."""

import os
import sqlite3
import subprocess
from datetime import UTC, datetime
from pathlib import Path

from django.db import DatabaseError
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.migrations.executor import MigrationExecutor


class BackupError(Exception):
    """The copy could not be made; the message says why and what mends it."""


def will_change(
    connection: BaseDatabaseWrapper, target: tuple[str | None, str | None] = (None, None)
) -> bool:
    """Whether a migration to ``target`` (app, name) would change a database that is not empty.

    A named target counts as a change: it may go backwards.
    """
    executor = MigrationExecutor(connection)
    if not executor.loader.applied_migrations:
        return False
    if target[0]:
        return True
    return bool(executor.migration_plan(executor.loader.graph.leaf_nodes()))


def make_room_for_database(connection: BaseDatabaseWrapper) -> None:
    """Make the folder that SQLite's file goes into; on a fresh clone there is none."""
    if file := _sqlite_file(connection):
        file.parent.mkdir(parents=True, exist_ok=True)


def back_up(connection: BaseDatabaseWrapper, folder: Path, now: datetime | None = None) -> Path:
    """Copy the database into ``folder`` and return the file.

    SQLite through its backup interface (a plain copy of the file misses what stands in the log),
    PostgreSQL by ``pg_dump -Fc``. The file gets its name only once it is complete and on the disk.

    Raises:
        BackupError: with the reason in one line.
    """
    stamp = (now or datetime.now(UTC)).strftime("%Y%m%dT%H%M%S%fZ")
    suffix = "sqlite3" if connection.vendor == "sqlite" else "dump"
    kept = folder / f"before-migration-{stamp}.{suffix}"
    unfinished = kept.with_suffix(".unfinished")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        try:
            if connection.vendor == "sqlite":
                _copy_sqlite(connection, unfinished)
            else:
                _dump_postgresql(connection, unfinished)
            unfinished.chmod(0o600)
            _sync(unfinished)
            unfinished.rename(kept)
            _sync(folder)
        finally:
            unfinished.unlink(missing_ok=True)
    except (OSError, DatabaseError, sqlite3.Error) as error:
        raise BackupError(f"the backup to {folder} failed ({error})") from error
    return kept


def _sqlite_file(connection: BaseDatabaseWrapper) -> Path | None:
    name = str(connection.settings_dict["NAME"])
    if connection.vendor != "sqlite" or name == ":memory:" or name.startswith("file:"):
        return None
    return Path(name)


def _copy_sqlite(connection: BaseDatabaseWrapper, to: Path) -> None:
    connection.ensure_connection()
    copy = sqlite3.connect(to)
    try:
        connection.connection.backup(copy)
        verdict = copy.execute("PRAGMA integrity_check").fetchone()[0]
    finally:
        copy.close()
    if verdict != "ok":
        raise BackupError(f"the database is damaged ({verdict}): restore the last sound backup first")


def _dump_postgresql(connection: BaseDatabaseWrapper, to: Path) -> None:
    given = connection.settings_dict
    variables = {
        "PGHOST": given["HOST"],
        "PGPORT": given["PORT"],
        "PGUSER": given["USER"],
        "PGPASSWORD": given["PASSWORD"],
        "PGDATABASE": given["NAME"],
    }
    environ = {**os.environ, **{name: str(value) for name, value in variables.items() if value}}
    try:
        subprocess.run(  # noqa: S603 (fixed words, the file's name is our own)
            ["pg_dump", "--format=custom", "--no-password", f"--file={to}"],  # noqa: S607
            env=environ,
            check=True,
            capture_output=True,
            text=True,
        )
    except FileNotFoundError as error:
        raise BackupError("pg_dump is not installed: install postgresql-client") from error
    except subprocess.CalledProcessError as error:
        raise BackupError(f"pg_dump: {error.stderr.strip().splitlines()[0]}") from error


def _sync(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
