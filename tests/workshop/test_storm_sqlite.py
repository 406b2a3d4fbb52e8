"""SQLite under many writers: nothing locked, nothing lost, every copy whole.

The yardstick is measured, not quoted: the same load under Django's default way of beginning a
transaction must fail, otherwise the test would prove nothing.
"""

import sqlite3
import threading
import time
from typing import Any

import pytest
from django.conf import settings
from django.db import OperationalError, connection, transaction

from workshop.backups import back_up

pytestmark = [
    pytest.mark.storm,
    pytest.mark.skipif(
        not settings.DATABASES["default"]["ENGINE"].endswith("sqlite3"), reason="about SQLite"
    ),
]
CLIENTS = 16
# What only SQLite's connection has is not in the type of all connections.
DATABASE: Any = connection
SECONDS = 8.0


@pytest.fixture
def counter(transactional_db):
    with connection.cursor() as cursor:
        cursor.execute("CREATE TABLE storm (client INTEGER PRIMARY KEY, n INTEGER NOT NULL)")
        cursor.executemany("INSERT INTO storm VALUES (%s, 0)", [(client,) for client in range(CLIENTS)])
    yield
    with connection.cursor() as cursor:
        cursor.execute("DROP TABLE storm")


def save(client):
    """Read, then write what was read plus one, as every save of an answer does."""
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("SELECT n FROM storm WHERE client = %s", (client,))
        (n,) = cursor.fetchone()
        cursor.execute("UPDATE storm SET n = %s WHERE client = %s", (n + 1, client))


def hammer(*, mode, until):
    """Let every client save until told to stop; return (saved by client, refused as locked)."""
    saved, locked = [0] * CLIENTS, [0] * CLIENTS

    def work(client):
        connection.ensure_connection()
        DATABASE.transaction_mode = mode
        while not until.is_set():
            try:
                save(client)
                saved[client] += 1
            except OperationalError as error:
                if "locked" not in str(error):
                    raise
                locked[client] += 1
        connection.close()

    threads = [threading.Thread(target=work, args=(client,)) for client in range(CLIENTS)]
    for thread in threads:
        thread.start()
    return saved, locked, threads


def run(mode, seconds=SECONDS):
    until = threading.Event()
    saved, locked, threads = hammer(mode=mode, until=until)
    time.sleep(seconds)
    until.set()
    for thread in threads:
        thread.join()
    return saved, sum(locked)


def test_no_save_is_refused_as_locked(counter):
    saved, locked = run(DATABASE.transaction_mode)
    print(f"\nSQLite, {CLIENTS} clients: {sum(saved) / SECONDS:.0f} saves a second, {locked} locked")
    with connection.cursor() as cursor:
        stored = [n for (n,) in cursor.execute("SELECT n FROM storm ORDER BY client").fetchall()]
    assert locked == 0
    assert stored == saved
    assert sum(saved) > CLIENTS


def test_saves_are_refused_under_the_default_mode(counter):
    saved, locked = run("DEFERRED")
    print(f"\nSQLite as Django would: {locked} of {sum(saved) + locked} locked")
    assert locked > 0


def test_every_backup_beside_writers_is_whole(counter, tmp_path):
    until = threading.Event()
    saved, _, threads = hammer(mode=DATABASE.transaction_mode, until=until)
    try:
        for _ in range(60):
            before = list(saved)
            kept = back_up(connection, tmp_path)
            copy = sqlite3.connect(kept)
            held = [n for (n,) in copy.execute("SELECT n FROM storm ORDER BY client")]
            copy.close()
            kept.unlink()
            assert all(n >= least for n, least in zip(held, before, strict=True))
    finally:
        until.set()
        for thread in threads:
            thread.join()
    assert sum(saved) > CLIENTS
