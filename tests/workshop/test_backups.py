"""The copy taken before a migration."""

import sqlite3
import stat
from datetime import UTC, datetime
from typing import cast

import pytest
from django.conf import settings
from django.core.management import CommandError, call_command
from django.db import connection
from django.db.backends.base.base import BaseDatabaseWrapper

from workshop import backups
from workshop.backups import BackupError, back_up, will_change
from workshop.management.commands import migrate

sqlite_only = pytest.mark.skipif(
    not settings.DATABASES["default"]["ENGINE"].endswith("sqlite3"), reason="reads the copy as SQLite"
)
AT = datetime(2026, 11, 25, 8, 30, tzinfo=UTC)


@pytest.mark.django_db
def test_will_change_nothing_when_all_is_applied():
    assert not will_change(connection)


@pytest.mark.django_db
def test_will_change_a_named_target():
    assert will_change(connection, ("people", "zero"))


@pytest.mark.django_db
def test_will_change_an_unapplied_migration():
    with connection.cursor() as cursor:
        cursor.execute(
            "DELETE FROM django_migrations WHERE app = 'sessions'",
        )
    assert will_change(connection)


@pytest.mark.django_db(transaction=True)
def test_back_up_holds_the_rows(player_user, tmp_path):
    kept = back_up(connection, tmp_path / "backups", AT)
    assert kept.name.startswith("before-migration-20261125T083000")
    assert stat.S_IMODE(kept.stat().st_mode) == 0o600
    assert [each.name for each in kept.parent.iterdir()] == [kept.name]
    assert kept.stat().st_size > 10_000


@sqlite_only
@pytest.mark.django_db(transaction=True)
def test_back_up_of_sqlite_is_sound(player_user, tmp_path):
    copy = sqlite3.connect(back_up(connection, tmp_path, AT))
    try:
        assert copy.execute("SELECT email FROM people_user").fetchall() == [(player_user.email,)]
        assert copy.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    finally:
        copy.close()


@pytest.mark.django_db
def test_back_up_into_a_file_is_told(tmp_path):
    (tmp_path / "backups").write_text("not a folder")
    with pytest.raises(BackupError, match=r"the backup to .* failed"):
        back_up(connection, tmp_path / "backups", AT)


@pytest.mark.django_db(transaction=True)
def test_migrate_takes_a_backup_when_something_will_change(capsys, settings, tmp_path, monkeypatch):
    settings.BACKUP_DIR = tmp_path / "backups"
    monkeypatch.setattr(migrate, "will_change", lambda connection, target: True)
    call_command("migrate", verbosity=1)
    assert len(list(settings.BACKUP_DIR.iterdir())) == 1
    assert "Backup before migrating" in capsys.readouterr().out


@pytest.mark.django_db(transaction=True)
def test_migrate_takes_none_when_nothing_changes(settings, tmp_path):
    settings.BACKUP_DIR = tmp_path / "backups"
    call_command("migrate", verbosity=0)
    assert not settings.BACKUP_DIR.exists()


@pytest.mark.django_db
def test_migrate_stops_when_the_backup_fails(settings, tmp_path, monkeypatch):
    (tmp_path / "full").write_text("")
    settings.BACKUP_DIR = tmp_path / "full"
    monkeypatch.setattr(migrate, "will_change", lambda connection, target: True)
    with pytest.raises(CommandError, match="Nothing was migrated: the backup"):
        call_command("migrate", verbosity=0)


def test_dump_without_pg_dump_names_the_mend(tmp_path, monkeypatch):
    monkeypatch.setenv("PATH", str(tmp_path))

    class Elsewhere:
        vendor = "postgresql"
        settings_dict = {"HOST": "", "PORT": "", "USER": "", "PASSWORD": "", "NAME": "bats"}

    with pytest.raises(BackupError, match="install postgresql-client"):
        backups.back_up(cast(BaseDatabaseWrapper, Elsewhere()), tmp_path, AT)
