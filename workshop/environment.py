"""What the environment may say, typed; a wrong value stops the start with one line a fault.

Nothing here has a secret default. Loading works without any secret, so that the commands of the
pure core run on a fresh clone; the server, the worker and ``check --deploy`` call
``missing_secrets`` and refuse to go on.
"""

import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Literal, Self
from urllib.parse import parse_qsl, unquote, urlsplit

from django.core.exceptions import ImproperlyConfigured
from pydantic import Field, SecretStr, ValidationError, field_validator, model_validator
from pydantic_settings import BaseSettings, SettingsConfigDict

ROOT = Path(__file__).resolve().parent.parent

# Each of these may also be given as NAME_FILE, the path of a file that holds the value.
SECRETS = ("secret_key", "secret_key_fallbacks", "database_url", "database_password", "smtp_password")

LOOPBACK = {"localhost", "127.0.0.1", "::1"}


class EnvironmentFaultError(ImproperlyConfigured):
    """What the environment says cannot be; the message has a line a fault."""


class Environment(BaseSettings):
    """The environment variables of the site; names are the field names in capitals."""

    model_config = SettingsConfigDict(frozen=True, extra="ignore", env_ignore_empty=True)

    debug: bool = False
    secret_key: SecretStr | None = Field(default=None, min_length=50)
    secret_key_fallbacks: SecretStr | None = None
    site_url: str = "http://localhost:8000"
    extra_hosts: str = ""
    proxies: int = Field(default=0, ge=0, le=5)
    database_url: SecretStr = SecretStr("sqlite:///var/workshop.sqlite3")
    database_password: SecretStr | None = None
    data_dir: Path = ROOT / "var"
    mail_delivery: Literal["smtp", "page"] = "smtp"
    mail_from: str = "workshop@localhost"
    smtp_host: str = "localhost"
    smtp_port: int = Field(default=587, ge=1, le=65535)
    smtp_user: str = ""
    smtp_password: SecretStr | None = None
    smtp_security: Literal["starttls", "tls", "none"] = "starttls"
    static_dir: Path | None = None
    log_level: Literal["DEBUG", "INFO", "WARNING", "ERROR"] = "INFO"

    @field_validator("site_url")
    @classmethod
    def _address_without_path(cls, value: str) -> str:
        parts = urlsplit(value)
        if parts.scheme not in {"http", "https"} or not parts.hostname or parts.path.strip("/"):
            raise ValueError("must look like https://bats.example, without a path")
        if parts.scheme == "http" and parts.hostname not in LOOPBACK:
            raise ValueError("must begin with https:// unless it is on this machine (localhost)")
        return value.rstrip("/")

    @field_validator("database_url")
    @classmethod
    def _known_database(cls, value: SecretStr) -> SecretStr:
        parts = urlsplit(value.get_secret_value())
        if parts.scheme not in {"sqlite", "postgresql"} or len(parts.path) < 2:
            raise ValueError("must look like sqlite:///var/workshop.sqlite3 or postgresql://user@host/name")
        return value

    @model_validator(mode="after")
    def _one_way_to_be_secure(self) -> Self:
        if self.debug and self.secure:
            raise ValueError("DEBUG is only for a site on this machine (SITE_URL=http://localhost:…)")
        return self

    @property
    def secure(self) -> bool:
        """Whether the site is reached over https."""
        return self.site_url.startswith("https://")

    @property
    def hosts(self) -> list[str]:
        """The host names that the site answers to; the loopback ones serve the health checks."""
        own = urlsplit(self.site_url).hostname or ""
        extra = [host.strip() for host in self.extra_hosts.split(",") if host.strip()]
        return list(dict.fromkeys([own, *extra, "localhost", "127.0.0.1"]))

    def fallback_keys(self) -> list[str]:
        """Older secret keys, still good for reading what they signed; separated by commas."""
        if self.secret_key_fallbacks is None:
            return []
        return [key.strip() for key in self.secret_key_fallbacks.get_secret_value().split(",") if key.strip()]


def read_environment(environ: Mapping[str, str] = os.environ) -> Environment:
    """Read the environment and the files it names.

    Raises:
        EnvironmentFaultError: a line a fault, with the variable's name and never a secret's value.
    """
    try:
        return Environment(**_secrets_from_files(environ))
    except ValidationError as error:
        raise EnvironmentFaultError("\n".join(_fault(each) for each in error.errors())) from None


def _secrets_from_files(environ: Mapping[str, str]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name in SECRETS:
        variable = f"{name.upper()}_FILE"
        path = environ.get(variable)
        if not path:
            continue
        if environ.get(name.upper()):
            raise EnvironmentFaultError(f"{name.upper()} and {variable} are both set: keep one of them")
        try:
            found[name] = Path(path).read_text(encoding="utf-8").strip()
        except OSError as error:
            raise EnvironmentFaultError(f"{variable}: {path} cannot be read ({error.strerror})") from None
    return found


def _fault(error: Any) -> str:
    if not error["loc"]:
        return str(error["msg"]).removeprefix("Value error, ")
    field = str(error["loc"][0])
    message = str(error["msg"]).removeprefix("Value error, ")
    given = "" if field in SECRETS else f", given {error['input']!r}"
    return f"{field.upper()}: {message}{given}"


def database(environment: Environment) -> dict[str, Any]:
    """Translate DATABASE_URL into Django's entry.

    SQLite is opened for several processes: write-ahead log, every commit synced, and each
    transaction taking the write lock at its start, so that none fails half way as "locked".
    """
    parts = urlsplit(environment.database_url.get_secret_value())
    if parts.scheme == "sqlite":
        return {
            "ENGINE": "django.db.backends.sqlite3",
            "NAME": str(ROOT / unquote(parts.path[1:])),
            "OPTIONS": {
                "timeout": 20,
                "transaction_mode": "IMMEDIATE",
                "init_command": ("PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON;"),
            },
        }
    options = dict(parse_qsl(parts.query))
    password = environment.database_password
    return {
        "ENGINE": "django.db.backends.postgresql",
        "NAME": unquote(parts.path[1:]),
        "USER": unquote(parts.username or ""),
        "PASSWORD": password.get_secret_value() if password else unquote(parts.password or ""),
        "HOST": options.pop("host", "") or parts.hostname or "",
        "PORT": str(parts.port or ""),
        "CONN_MAX_AGE": 60,
        "CONN_HEALTH_CHECKS": True,
        "OPTIONS": options,
    }


def missing_secrets(environment: Environment) -> list[str]:
    """Name what a server or a worker cannot run without, a line each with the mend."""
    if environment.secret_key is None:
        return [
            "SECRET_KEY is not set: give it at least 50 random characters, or SECRET_KEY_FILE the path "
            "of a file that holds them"
        ]
    return []


def require_secrets(environment: Environment) -> None:
    """Refuse to go on without the secrets.

    Raises:
        EnvironmentFaultError: names the variable that is missing.
    """
    if missing := missing_secrets(environment):
        raise EnvironmentFaultError("\n".join(missing))
