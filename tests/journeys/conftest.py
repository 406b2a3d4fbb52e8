"""A real browser on a live server; whatever it complains about in its console fails the test."""

import os

import pytest

from tests.factories import STAFF_PASSWORD, BenchHandFactory, MakerFactory

# Playwright's loop runs in the test's own thread and Django would refuse every query there.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")

CHROMIUM = os.environ.get("CHROMIUM") or "/usr/bin/chromium"


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args):
    """Debian's Chromium where there is one, else playwright's own."""
    own = {"executable_path": CHROMIUM} if os.path.exists(CHROMIUM) else {}
    return {
        **browser_type_launch_args,
        **own,
        "args": [
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
        ],
    }


@pytest.fixture(scope="session")
def browser_context_args(browser_context_args):
    """A reader in Britain, in winter and summer alike."""
    return {**browser_context_args, "locale": "en-GB", "timezone_id": "Europe/London"}


@pytest.fixture
def complaints():
    """What the browser complained about; must be empty at the end of the test."""
    heard = []
    yield heard
    assert not heard


def take_refusals(heard, times, status=422):
    """Take out what the browser says of answers that the test provoked; there must be so many."""
    provoked = [each for each in heard if f"responded with a status of {status} " in each]
    assert len(provoked) == times, heard
    heard[:] = [each for each in heard if each not in provoked]


def listen(page, heard):
    """Collect console errors, uncaught exceptions and requests that leave the site.

    Answers of 4xx that a journey provokes on purpose show up here too: see ``take_refusals``.
    """
    # Nothing on this site takes longer; a wrong label in a test is then told soon.
    page.set_default_timeout(8000)
    page.on("console", lambda message: heard.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: heard.append(str(error)))
    page.on(
        "request",
        lambda request: (
            None
            if request.url.startswith(("http://localhost:", "data:", "blob:"))
            else heard.append(f"left the site: {request.url}")
        ),
    )
    return page


@pytest.fixture(scope="session")
def base_url(live_server):
    """Addresses in a journey are paths, on the live server."""
    return live_server.url


@pytest.fixture
def page(page, complaints, transactional_db):
    """A page with JavaScript, listened to."""
    return listen(page, complaints)


@pytest.fixture
def open_page(browser, browser_context_args, base_url, complaints, transactional_db):
    """Make pages of further people: ``open_page()``, or ``open_page(java_script_enabled=False, ...)``.

    Each has its own context, so its own cookies: a player's page and a maker's page live side by side.
    """
    contexts = []

    def make(**options):
        context = browser.new_context(**{**browser_context_args, "base_url": base_url, **options})
        contexts.append(context)
        return listen(context.new_page(), complaints)

    yield make
    for context in contexts:
        context.close()


@pytest.fixture
def plain_page(open_page):
    """A page without JavaScript."""
    return open_page(java_script_enabled=False)


@pytest.fixture
def maker_at_work(workshop):
    """The maker, who signs in with a password."""
    return MakerFactory.create(email="maker@workshop.example", name="Moss Maker", password=STAFF_PASSWORD)


@pytest.fixture
def bench_hand_at_work(workshop):
    """A bench hand, who signs in with a password."""
    return BenchHandFactory.create(email="bench@workshop.example", name="Hazel Hand", password=STAFF_PASSWORD)
