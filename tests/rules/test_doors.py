"""The doors between the rooms, for strings: import-linter sees imports only."""

import re

import pytest
from django.apps import apps
from django.conf import settings
from django.urls import URLResolver, get_resolver

from tests.rules.source import ROOT, shown, sources

# Templates of the lower rooms, and those that every room includes.
LOWER_TEMPLATES = (
    "people",
    "letters",
    "interview",
    "commissions",
    "care",
    "rules",
    "parts",
)


def upper_labels():
    return {config.label for config in apps.get_app_configs() if config.name.startswith("workshop.")}


def resolvers(resolver):
    """Every included list of addresses, however deep."""
    for each in resolver.url_patterns:
        if isinstance(each, URLResolver):
            yield each
            yield from resolvers(each)


def upper_namespaces():
    """Namespaces whose views live in the workshop, and the folder of its own few pages."""
    return {"staff"} | {
        each.namespace
        for each in resolvers(get_resolver())
        if each.namespace and getattr(each.urlconf_name, "__name__", "").startswith("workshop.")
    }


def pointing_up(text, words):
    """Strings in ``text`` that name a URL, a model, a template or a module of an upper room."""
    if not words:
        return []
    any_word = "|".join(sorted(map(re.escape, words)))
    patterns = (
        rf"""["'](?:{any_word}):[\w-]+["']""",
        rf"""["'](?:{any_word})\.[A-Z]\w+["']""",
        rf"""["'](?:{any_word})/[\w-]+\.(?:html|txt)\S*["']""",
        r"""["']workshop\.[\w.]+["']""",
        r"""["']/floor/""",
    )
    return [found for pattern in patterns for found in re.findall(pattern, text)]


@pytest.mark.parametrize(
    "text",
    [
        "reverse('rack:clefts')",
        'ForeignKey("rack.Cleft")',
        'render(request, "bench/bats.html#row")',
        'import_string("workshop.rack.holds.release_due")',
        'redirect("/floor/rack/")',
    ],
)
def test_pointing_up_is_noticed(text):
    assert pointing_up(text, {"rack", "bench"})


@pytest.mark.parametrize("text", ["reverse('people:sign-in')", 'ForeignKey("commissions.Bat")', '"rack"'])
def test_pointing_level_is_let_through(text):
    assert not pointing_up(text, {"rack", "bench"})


def test_upper_rooms_are_known():
    assert {"review", "rack", "bench"} <= upper_labels()
    assert {"review", "rack", "bench"} <= upper_namespaces()


def test_lower_rooms_name_nothing_of_the_workshop():
    words = upper_labels() | upper_namespaces()
    found = {
        shown(path): hits
        for path in [*sources("fitting", "orders"), *sources("orders", suffix=".html")]
        if (hits := pointing_up(path.read_text(), words))
    }
    assert not found


def test_templates_of_lower_rooms_name_nothing_of_the_workshop():
    words = upper_labels() | upper_namespaces()
    folders = [f"templates/{name}" for name in LOWER_TEMPLATES]
    paths = [*sources(*folders, suffix=".html"), *sources(*folders, suffix=".txt")]
    assert paths
    assert not {shown(path): hits for path in paths if (hits := pointing_up(path.read_text(), words))}


def test_core_names_nothing_above_it():
    labels = {config.label for config in apps.get_app_configs() if config.name.startswith("orders.")}
    found = {
        shown(path): hits for path in sources("fitting") if (hits := pointing_up(path.read_text(), labels))
    }
    assert not found


def test_every_folder_of_templates_has_a_room():
    rooms = {config.label for config in apps.get_app_configs()} | upper_namespaces() | {"parts", "staff"}
    folders = {path.name for path in (ROOT / "templates").iterdir() if path.is_dir()}
    assert folders <= rooms


def test_jobs_of_the_worker_exist():
    from django.utils.module_loading import import_string

    assert settings.PERIODIC_JOBS
    assert all(callable(import_string(name)) for name in settings.PERIODIC_JOBS)
