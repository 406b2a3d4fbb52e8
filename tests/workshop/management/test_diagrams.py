import re
from io import StringIO
from pathlib import Path

import pytest
from django.conf import settings
from django.core.management import CommandError, call_command

from orders.commissions.stages import STAGE_MOVES
from orders.commissions.states import Stage, State
from orders.commissions.transitions import TRANSITIONS
from workshop.diagrams import bat_diagram, commission_diagram

EMPTY = (
    "# Before\n<!-- diagram:commission -->\nold\n<!-- /diagram:commission -->\nbetween\n"
    "<!-- diagram:bat -->\n<!-- /diagram:bat -->\nafter\n"
)


def arrows(drawn):
    return set(re.findall(r"^    (\S+) --> (\S+?)(?::|$)", drawn, re.MULTILINE))


def test_developers_md_shows_the_tables_as_they_are():
    call_command("diagrams", "--check")


def test_every_move_of_a_commission_is_drawn():
    drawn = arrows(commission_diagram())

    for froms, after in TRANSITIONS.values():
        assert {(str(before), str(after)) for before in froms} <= drawn
    ends = {before for before, after in drawn if after == "[*]"}
    assert ends == {str(State.REFUNDED), str(State.CANCELLED)}


def test_every_stage_verb_and_only_declared_moves_are_drawn():
    drawn = bat_diagram()

    assert {verb for verb in STAGE_MOVES if verb in drawn} == set(STAGE_MOVES)
    allowed = {(str(a), str(b)) for froms, tos in STAGE_MOVES.values() for a in froms for b in tos}
    assert arrows(drawn) - {("[*]", str(Stage.WAITING))} <= allowed


def test_only_what_stands_between_the_markers_is_written(tmp_path):
    path = tmp_path / "TEXT.md"
    path.write_text(EMPTY, encoding="utf-8")

    with pytest.raises(CommandError, match="out of date"):
        call_command("diagrams", "--check", file=path)
    assert path.read_text(encoding="utf-8") == EMPTY
    call_command("diagrams", file=path, stdout=StringIO())
    written = path.read_text(encoding="utf-8")
    call_command("diagrams", "--check", file=path)

    assert written.startswith("# Before\n<!-- diagram:commission -->\n```mermaid\nstateDiagram-v2\n")
    assert "old" not in written
    assert written.endswith("<!-- /diagram:bat -->\nafter\n")


def test_missing_markers_are_named(tmp_path):
    path = tmp_path / "TEXT.md"
    path.write_text("nothing here", encoding="utf-8")

    with pytest.raises(CommandError, match="diagram:commission"):
        call_command("diagrams", file=path)


def test_the_file_is_the_projects_own():
    assert (Path(settings.BASE_DIR) / "DEVELOPERS.md").exists()
