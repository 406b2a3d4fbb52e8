"""Rules of the house that no linter knows."""

import ast
import re
import tomllib

import pytest
import yaml
from django.apps import apps

from tests.rules.source import ROOT, shown, sources, tracked

DRAWERS = {
    "utils",
    "util",
    "helpers",
    "helper",
    "common",
    "services",
    "service",
    "managers",
    "misc",
    "tools",
    "lib",
}
MOST_LINES = 450
# The only modules in which somebody's session begins.
SIGNING_IN = {"orders/people/sessions.py"}
# Data with nothing between its rows: longer than a module may be, and read like a table.
TABLES = {"fitting/questions.py", "orders/words/questions.py"}


def test_files_are_named_for_a_subject():
    assert not [shown(path) for path in tracked() if path.stem.lower() in DRAWERS]


def test_modules_stay_readable():
    long = {
        shown(path): count
        for path in sources("fitting", "orders", "workshop")
        if shown(path) not in TABLES and (count := len(path.read_text().splitlines())) > MOST_LINES
    }
    assert not long


def called(path):
    """Names of everything that a module calls."""
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Call):
            function = node.func
            yield function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")


def test_sessions_begin_in_one_place():
    assert {shown(path) for path in sources("orders", "workshop") if "login" in called(path)} == SIGNING_IN


@pytest.mark.parametrize("word", ["csrf_exempt", "select_for_update", "DB_CASCADE", "eval", "exec"])
def test_code_never_uses(word):
    # select_for_update does nothing on SQLite; what the database deletes by itself tells nobody of its files.
    names = {
        shown(path)
        for path in sources("fitting", "orders", "workshop")
        for node in ast.walk(ast.parse(path.read_text()))
        if (isinstance(node, ast.Name) and node.id == word)
        or (isinstance(node, ast.Attribute) and node.attr == word)
    }
    assert not names


def test_everything_that_two_can_change_at_once_has_a_version():
    versioned = {model.__name__ for model in apps.get_models() if hasattr(model, "version")}
    assert versioned == {
        "Workshop",
        "Fitting",
        "Commission",
        "Bat",
        "Cleft",
        "Handle",
        "Supply",
        "StockBat",
        "Load",
    }


def test_core_asks_no_clock_and_no_chance():
    words = {"today", "now", "utcnow", "default_rng", "urandom", "open", "read_text", "getenv"}
    assert not {shown(path): hits for path in sources("fitting") if (hits := words & set(called(path)))}


def test_nothing_of_a_machine_or_a_registry_in_the_files():
    # Put together here, so that this file does not find itself.
    signs = [
        "/" + "work/",
        "/" + "root/",
        "/" + "home/",
        "pypi" + ".org",
        "python" + "hosted",
        "npm" + "js.",
        "/tmp/" + "brief",
        "shared" + "/facts",
        "shared" + "/design",
        "--extra-" + "index-url",
    ]
    found = {}
    for path in tracked():
        try:
            text = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue
        if hits := [sign for sign in signs if sign in text]:
            found[shown(path)] = hits
    assert not found


def required():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())
    return project["project"]["dependencies"], project["dependency-groups"]["dev"]


def locked(name):
    return set(re.findall(r"^([a-z0-9-]+)==", (ROOT / name).read_text(), re.MULTILINE))


def bare(requirement):
    return re.split(r"[\[<>=~! ]", requirement)[0].lower()


def test_lock_files_hold_everything_that_is_required():
    run, dev = required()
    assert {bare(each) for each in run} <= locked("requirements.txt")
    assert {bare(each) for each in [*run, *dev]} <= locked("requirements-dev.txt")


def test_lock_files_agree_with_each_other():
    pins = [
        set(re.findall(r"^[a-z0-9-]+==\S+", (ROOT / f"requirements{end}.txt").read_text(), re.MULTILINE))
        for end in ("", "-dev")
    ]
    assert pins[0] <= pins[1]


COMPOSE = yaml.safe_load((ROOT / "docker-compose.yml").read_text())


@pytest.mark.parametrize("name", COMPOSE["services"])
def test_compose_service_names_what_exists(name):
    service = COMPOSE["services"][name]
    assert set(service.get("depends_on", {})) <= set(COMPOSE["services"])
    volumes = {each.split(":")[0] for each in service.get("volumes", [])}
    assert volumes <= set(COMPOSE["volumes"])
    assert "healthcheck" in service or name == "web", "the image's own check covers the web only"


@pytest.mark.parametrize("name", [name for name, each in COMPOSE["services"].items() if "build" in each])
def test_compose_service_of_ours_can_write_only_its_data(name):
    service = COMPOSE["services"][name]
    assert service["read_only"] is True
    assert service["cap_drop"] == ["ALL"]
    assert service["security_opt"] == ["no-new-privileges:true"]
    assert not [port for port in service.get("ports", []) if not port.startswith("127.0.0.1:")]


def test_compose_holds_no_secret():
    for service in COMPOSE["services"].values():
        for variable, value in service["environment"].items():
            if re.search(r"PASSWORD|SECRET", variable):
                assert re.fullmatch(r"\$\{[A-Z_]+:[?-].*\}", str(value)), variable


def test_compose_sets_only_variables_that_are_read():
    from workshop.environment import Environment

    known = {name.upper() for name in Environment.model_fields}
    assert set(COMPOSE["services"]["web"]["environment"]) <= known
    example = re.findall(r"^([A-Z_]+)=", (ROOT / ".env.example").read_text(), re.MULTILINE)
    assert set(example) <= known
