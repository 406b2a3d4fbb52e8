"""What clefts told in words before loads were rows and run-out a number, carried over."""

from datetime import UTC, date, datetime
from typing import Any

import pytest
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

BEFORE, AFTER = [("rack", "0001_initial")], [("rack", "0006_load_code")]
SIZES = {f"{what}_{at}": 1000 for what in ("width", "depth") for at in (1, 2, 3)}


def an_old_cleft(apps: Any, number: int, **words: Any) -> None:
    apps.get_model("rack", "Cleft").objects.create(
        number=number,
        grade=2,
        length=7000,
        mass=24000,
        moisture=120,
        read_on=date(2026, 1, 20),
        taken_in_at=datetime(2026, 1, 20, 12, tzinfo=UTC),
        **SIZES,
        **words,
    )


@pytest.fixture
def back_afterwards(transactional_db: None):
    """Bring the tables back to the newest whatever a test leaves them at."""
    yield
    executor = MigrationExecutor(connection)
    executor.migrate(executor.loader.graph.leaf_nodes())


# Long: every table goes back to its first shape and forth again.
@pytest.mark.storm
@pytest.mark.usefixtures("back_afterwards")
def test_words_of_clefts_become_loads_and_run_out():
    executor = MigrationExecutor(connection)
    # What other rooms keep of clefts hangs on the newest tables and goes with them.
    executor.migrate([(app, None) for app in ("match", "stock") if app in executor.loader.migrated_apps])
    executor = MigrationExecutor(connection)
    old = executor.migrate(BEFORE).apps
    an_old_cleft(old, 41, load="winter", grower="Brook Farm")
    an_old_cleft(old, 42, load="winter", grower="Brook Farm", straight_grained=False, note="lively")
    an_old_cleft(old, 43, load="winter", grower="Mill Bank")
    an_old_cleft(old, 44, grower="Mill Bank")
    an_old_cleft(old, 45)

    executor = MigrationExecutor(connection)
    new = executor.migrate(AFTER).apps

    clefts = {one.number: one for one in new.get_model("rack", "Cleft").objects.select_related("load")}
    told = {
        number: (one.load and one.load.name, one.load and one.load.grower, one.run_out)
        for number, one in clefts.items()
    }
    assert told == {
        41: ("winter", "Brook Farm", None),
        42: ("winter", "Brook Farm", 11),
        43: ("winter 2", "Mill Bank", None),
        44: ("Mill Bank", "Mill Bank", None),
        45: (None, None, None),
    }
    assert clefts[42].note.startswith("lively\n")
    loads = new.get_model("rack", "Load").objects.all()
    assert {load.arrived_on for load in loads} == {date(2026, 1, 20)}
    assert len({load.code for load in loads}) == 3
    assert all(load.code for load in loads)

    executor = MigrationExecutor(connection)
    again = executor.migrate(BEFORE).apps
    back = {one.number: one for one in again.get_model("rack", "Cleft").objects.all()}
    assert (back[42].load, back[42].grower, back[42].straight_grained) == ("winter", "Brook Farm", False)
    assert back[41].straight_grained
    again.get_model("rack", "Cleft").objects.all().delete()
