"""System checks of our own: the secrets, and an SQLite with a known fault."""

import sqlite3
from collections.abc import Sequence
from typing import Any

from django.apps import AppConfig
from django.conf import settings
from django.core.checks import CheckMessage, Error, Tags, Warning, register  # noqa: A004
from django.db import connection

from workshop.environment import missing_secrets

# Corruption is possible in WAL mode from 3.7.0 until this version (sqlite.org/wal.html#walresetbug).
SOUND_SQLITE = (3, 51, 3)


@register(Tags.security, deploy=True)
def secrets_are_set(app_configs: Sequence[AppConfig] | None, **kwargs: Any) -> list[CheckMessage]:
    """Fail ``check --deploy`` when a server could not start."""
    return [Error(line, id="site.E001") for line in missing_secrets(settings.ENVIRONMENT)]


@register(Tags.database)
def sqlite_is_sound(
    app_configs: Sequence[AppConfig] | None, databases: Sequence[str] | None = None, **kwargs: Any
) -> list[CheckMessage]:
    """Tell at each migration that this machine's SQLite is one with a rare, silent fault."""
    if not databases or connection.vendor != "sqlite" or sqlite3.sqlite_version_info >= SOUND_SQLITE:
        return []
    return [
        Warning(
            f"SQLite {sqlite3.sqlite_version} can, very rarely, damage a database that several processes "
            "write to.",
            hint="Keep the nightly backups, or use PostgreSQL, or an SQLite from 3.51.3 on.",
            id="site.W001",
        )
    ]
