"""The settings of a real site, of a trial on this machine, and of a fresh clone."""

import json
import os
import subprocess
import sys

import pytest
from django.conf import settings as django_settings
from django.db import connection

from workshop.environment import ROOT, Environment

SHOW = """
import json
import workshop.settings as s
print(json.dumps([getattr(s, name) for name in {names!r}], default=str))
"""


def environ(**variables):
    ours = {name.upper() for name in Environment.model_fields}
    kept = {name: value for name, value in os.environ.items() if name.removesuffix("_FILE") not in ours}
    return {**kept, **variables}


def settings_of(*names, **variables):
    done = subprocess.run(
        [sys.executable, "-c", SHOW.format(names=list(names))],
        cwd=ROOT,
        env=environ(**variables),
        capture_output=True,
        text=True,
        check=True,
    )
    return json.loads(done.stdout)


def test_real_site_keeps_its_cookies_to_itself():
    names = ("SESSION_COOKIE_NAME", "CSRF_COOKIE_NAME", "SESSION_COOKIE_SECURE", "CSRF_COOKIE_SECURE")
    assert settings_of(*names, SITE_URL="https://bats.example") == [
        "__Host-session",
        "__Host-csrf",
        True,
        True,
    ]
    assert settings_of(*names, SITE_URL="http://localhost:8000") == ["session", "csrf", False, False]


def test_forwarded_headers_count_only_behind_a_proxy():
    script = "import workshop.settings as s; print(hasattr(s, 'SECURE_PROXY_SSL_HEADER'))"
    told = [
        subprocess.run(
            [sys.executable, "-c", script],
            cwd=ROOT,
            env=environ(SITE_URL="https://bats.example", PROXIES=proxies),
            capture_output=True,
            text=True,
            check=True,
        ).stdout.strip()
        for proxies in ("0", "1")
    ]
    assert told == ["False", "True"]


def test_fresh_clone_has_no_secret():
    assert settings_of("SECRET_KEY", "DEBUG") == ["", False]


@pytest.mark.skipif(
    not django_settings.DATABASES["default"]["ENGINE"].endswith("sqlite3"), reason="SQLite's own settings"
)
@pytest.mark.django_db(transaction=True)
def test_sqlite_connection_is_safe_for_several_processes():
    with connection.cursor() as cursor:
        found = [
            cursor.execute(f"PRAGMA {name}").fetchone()[0]
            for name in ("journal_mode", "synchronous", "foreign_keys")
        ]
    assert found == ["wal", 2, 1]
    assert connection.settings_dict["OPTIONS"]["transaction_mode"] == "IMMEDIATE"


SHEET = '{"sheet": 1, "player": {"age_years": 30, "height_mm": 1800}}'
NOWHERE = "sqlite:////no/such/folder/bats.sqlite3"


def command(*words, given=""):
    return subprocess.run(
        [sys.executable, "manage.py", *words],
        cwd=ROOT,
        env=environ(DATABASE_URL=NOWHERE),
        input=given,
        capture_output=True,
        text=True,
    )


def test_core_commands_need_no_database_and_no_secret():
    fitted = command("fit", "--json", "-", given=SHEET)
    assert (fitted.returncode, fitted.stderr) == (0, "")
    build = json.dumps(json.loads(fitted.stdout)["build"])
    weighed = command("weigh", "--json", "-", given=build)
    assert (weighed.returncode, weighed.stderr) == (0, "")
    assert json.loads(weighed.stdout)["mass_g"] == json.loads(fitted.stdout)["weighing"]["mass_g"]
    checked = command("lawcheck", "--json", "--level", "club", "--edition", "2022", "-", given=build)
    assert (checked.returncode, checked.stderr) == (0, "")
    assert json.loads(checked.stdout)
    schema = command("schema")
    assert (schema.returncode, schema.stderr) == (0, "")
    assert json.loads(schema.stdout)
