"""What the environment may say, and how a wrong value is told."""

import os
import subprocess
import sys

import pytest
from django.core.exceptions import ImproperlyConfigured

from workshop.environment import (
    ROOT,
    Environment,
    database,
    missing_secrets,
    read_environment,
    require_secrets,
)

KEY = "k" * 50


@pytest.fixture
def bare(monkeypatch):
    """An environment in which none of our variables is set."""
    for name in Environment.model_fields:
        monkeypatch.delenv(name.upper(), raising=False)
        monkeypatch.delenv(f"{name.upper()}_FILE", raising=False)
    return monkeypatch


def read(monkeypatch, **variables):
    for name, value in variables.items():
        monkeypatch.setenv(name, value)
    return read_environment()


def test_environment_empty_loads_without_secrets(bare):
    environment = read_environment()
    assert environment.secret_key is None
    assert not environment.debug
    assert "SECRET_KEY" in missing_secrets(environment)[0]
    with pytest.raises(ImproperlyConfigured, match="SECRET_KEY_FILE"):
        require_secrets(environment)


def test_environment_with_key_starts(bare):
    environment = read(bare, SECRET_KEY=KEY)
    require_secrets(environment)
    assert KEY not in repr(environment)


@pytest.mark.parametrize(
    ("name", "value", "told"),
    [
        ("DEBUG", "perhaps", "DEBUG: "),
        ("SMTP_PORT", "0", "SMTP_PORT: "),
        ("MAIL_DELIVERY", "pigeon", "'smtp' or 'page', given 'pigeon'"),
        ("SITE_URL", "http://bats.example", "must begin with https://"),
        ("SITE_URL", "bats.example", "must look like https://bats.example"),
        ("SITE_URL", "https://bats.example/shop", "without a path"),
        ("DATABASE_URL", "mysql://root@db/bats", "DATABASE_URL: must look like"),
        ("PROXIES", "-1", "PROXIES: "),
        ("LOG_LEVEL", "chatty", "LOG_LEVEL: "),
    ],
)
def test_environment_bad_value_is_told_by_name(bare, name, value, told):
    with pytest.raises(ImproperlyConfigured) as caught:
        read(bare, **{name: value})
    assert told in str(caught.value)


def test_environment_two_faults_are_two_lines(bare):
    with pytest.raises(ImproperlyConfigured) as caught:
        read(bare, SMTP_PORT="x", PROXIES="y")
    assert [line.split(":")[0] for line in str(caught.value).splitlines()] == ["PROXIES", "SMTP_PORT"]


def test_environment_bad_secret_is_not_shown(bare):
    with pytest.raises(ImproperlyConfigured) as caught:
        read(bare, SECRET_KEY="hunter2", DATABASE_URL="mysql://root:hunter2@db/bats")
    assert "SECRET_KEY" in str(caught.value)
    assert "hunter2" not in str(caught.value)


def test_environment_debug_refused_on_a_public_site(bare):
    with pytest.raises(ImproperlyConfigured, match="DEBUG is only for a site on this machine"):
        read(bare, DEBUG="true", SITE_URL="https://bats.example")


def test_environment_secret_from_file(bare, tmp_path):
    file = tmp_path / "key"
    file.write_text(f"{KEY}\n")
    assert read(bare, SECRET_KEY_FILE=str(file)).secret_key.get_secret_value() == KEY


def test_environment_secret_file_missing(bare, tmp_path):
    with pytest.raises(ImproperlyConfigured, match=r"SECRET_KEY_FILE: .* cannot be read"):
        read(bare, SECRET_KEY_FILE=str(tmp_path / "none"))


def test_environment_secret_given_twice(bare, tmp_path):
    file = tmp_path / "key"
    file.write_text(KEY)
    with pytest.raises(ImproperlyConfigured, match="both set"):
        read(bare, SECRET_KEY_FILE=str(file), SECRET_KEY=KEY)


def test_environment_hosts_are_the_sites_own(bare):
    environment = read(
        bare, SITE_URL="https://bats.example/", EXTRA_HOSTS="www.bats.example, bench.bats.example"
    )
    assert environment.site_url == "https://bats.example"
    assert environment.hosts == [
        "bats.example",
        "www.bats.example",
        "bench.bats.example",
        "localhost",
        "127.0.0.1",
    ]


def test_database_sqlite_is_safe_for_several_processes(bare):
    entry = database(read(bare, DATABASE_URL="sqlite:////srv/bats.sqlite3"))
    assert entry["NAME"] == "/srv/bats.sqlite3"
    assert entry["OPTIONS"]["transaction_mode"] == "IMMEDIATE"
    assert entry["OPTIONS"]["timeout"] == 20
    for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON"):
        assert pragma in entry["OPTIONS"]["init_command"]


def test_database_postgresql_with_password_apart(bare):
    entry = database(
        read(
            bare,
            DATABASE_URL="postgresql://ash%40home:x@db.example:6432/bats?sslmode=require",
            DATABASE_PASSWORD="p/w",
        )
    )
    assert entry["ENGINE"] == "django.db.backends.postgresql"
    assert (entry["USER"], entry["HOST"], entry["PORT"], entry["NAME"]) == (
        "ash@home",
        "db.example",
        "6432",
        "bats",
    )
    assert entry["PASSWORD"] == "p/w"
    assert entry["OPTIONS"] == {"sslmode": "require"}


def test_database_postgresql_by_socket(bare):
    entry = database(read(bare, DATABASE_URL="postgresql://postgres@/postgres?host=/run/pg"))
    assert (entry["HOST"], entry["NAME"], entry["PORT"]) == ("/run/pg", "postgres", "")


def test_environment_bad_value_stops_a_command_with_one_line(bare):
    done = subprocess.run(
        [sys.executable, "manage.py", "check"],
        cwd=ROOT,
        env={**os.environ, "SITE_URL": "nonsense"},
        capture_output=True,
        text=True,
    )
    assert done.returncode == 1
    assert done.stderr == (
        "SITE_URL: must look like https://bats.example, without a path, given 'nonsense'\n"
    )
    assert done.stdout == ""


def test_server_refuses_to_start_without_a_secret(bare):
    done = subprocess.run(
        [sys.executable, "-c", "import workshop.wsgi"], cwd=ROOT, capture_output=True, text=True
    )
    assert done.returncode != 0
    assert "SECRET_KEY is not set" in done.stderr.splitlines()[-1]
