"""What every test stands on: settings without a secret outside, files in a throw-away folder, the cast."""

import atexit
import shutil
import tempfile
from pathlib import Path

import hypothesis
from django.conf import settings

# A slow machine is no fault of the property. The samples are the same each time, so that a red run is the
# change's own; the storm looks elsewhere each time, at many more.
hypothesis.settings.register_profile("samples", deadline=None, derandomize=True)
hypothesis.settings.register_profile("storm", deadline=None, max_examples=3000, print_blob=True)
hypothesis.settings.load_profile("samples")

pytest_plugins = ["tests.cast"]


def pytest_addoption(parser):
    parser.addoption(
        "--only-database",
        action="store_true",
        help="run only what touches the database, without the browser (for the second database)",
    )


def pytest_configure(config):
    """Before Django is set up: the suite depends on nothing in the environment but DATABASE_URL."""
    folder = Path(tempfile.mkdtemp(prefix="bats-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    settings.SECRET_KEY = "for tests only: signs nothing that leaves the machine, 0123456789"
    settings.SITE_URL = "http://testserver"
    settings.ALLOWED_HOSTS = ["testserver", "localhost", "127.0.0.1"]
    settings.SECURE_SSL_REDIRECT = False
    settings.SESSION_COOKIE_NAME = "session"
    settings.CSRF_COOKIE_NAME = "csrf"
    settings.SESSION_COOKIE_SECURE = settings.CSRF_COOKIE_SECURE = False
    settings.PROXIES = 0
    settings.MAIL_DELIVERY = "smtp"
    settings.DATA_DIR = folder
    settings.MEDIA_ROOT = folder / "media"
    settings.BACKUP_DIR = folder / "backups"
    settings.STATIC_ROOT = folder / "static"
    settings.STATIC_ROOT.mkdir()
    settings.STORAGES = {
        **settings.STORAGES,
        "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
    }
    # Served from where they lie, as nothing is collected here.
    settings.WHITENOISE_USE_FINDERS = settings.WHITENOISE_AUTOREFRESH = True
    # The real hash takes about a second a sign-in on purpose.
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    database = settings.DATABASES["default"]
    if database["ENGINE"].endswith("sqlite3"):
        # A file, not memory: threads then have connections of their own, as in the server.
        database.setdefault("TEST", {})["NAME"] = str(folder / "test.sqlite3")


def pytest_collection_modifyitems(config, items):
    """Leave only the database tests when asked to."""
    if not config.getoption("--only-database"):
        return
    kept, dropped = [], []
    for item in items:
        (kept if _touches_database(item) else dropped).append(item)
    config.hook.pytest_deselected(items=dropped)
    items[:] = kept


def _touches_database(item):
    # The house rules are the same on any database, and walk every address twice.
    if "rules" in item.path.relative_to(Path(__file__).parent).parts:
        return False
    names = set(getattr(item, "fixturenames", ()))
    if names & {"page", "context", "browser"}:
        return False
    return item.get_closest_marker("django_db") is not None or bool(
        names & {"db", "transactional_db", "django_db_setup", "live_server"}
    )
