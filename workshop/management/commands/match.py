"""``manage.py match``: open commissions against the ready clefts of the rack."""

import json
from argparse import ArgumentParser
from datetime import date
from typing import Any

from django.core.management.base import BaseCommand
from django.utils import timezone
from django.utils.translation import gettext

from orders.commissions.book_in_force import book_in_force
from workshop.match import tables
from workshop.match.floor import Floor, match_known
from workshop.match.told import as_content
from workshop.match.wanting import builds_without_table, wanting
from workshop.match.words import say_fails, say_mass, say_none, say_parts, say_second, say_short


class Command(BaseCommand):
    """Match, and tell."""

    help = "Match open commissions with the ready clefts of the rack, all at once. Nothing is reserved."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the day, whether proposals come too, and whether JSON is wanted."""
        parser.add_argument("--json", action="store_true", help="print JSON instead of a report")
        parser.add_argument("--proposed", action="store_true", help="with bats that are only proposed")
        parser.add_argument(
            "--today", type=date.fromisoformat, help="the day (YYYY-MM-DD) that due days are counted from"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        """Work out what tables are missing, then match."""
        book = book_in_force()
        those = wanting(book, proposed=options["proposed"])
        known = tables.kept(one.key for one in those)
        missing = builds_without_table(those, known)
        for done, key in enumerate(tables.work_out(missing, book, seconds=None), start=1):
            self.stderr.write(
                gettext("willow of %(done)s of %(all)s bats worked out") % {"done": done, "all": len(missing)}
            )
            known |= tables.kept([key])
        floor = match_known(those, known, book, options["today"] or timezone.localdate())
        if options["json"]:
            self.stdout.write(json.dumps(as_content(floor), indent=2, ensure_ascii=False, allow_nan=False))
        else:
            self.stdout.write("\n".join(_report(floor)))


def _report(floor: Floor) -> list[str]:
    """The answer in lines."""
    answer = floor.answer
    lines = [
        gettext("%(bats)s bats want a cleft, %(clefts)s clefts are ready.")
        % {"bats": len(floor.bats), "clefts": len(floor.clefts)}
    ]
    for one in answer.assigned:
        bat, pair = floor.bats[one.pair.bat], one.pair
        lines += [
            "",
            f"{bat.label}  {floor.clefts[pair.cleft].label}  {say_mass(pair, floor.wanted[pair.bat])}",
            "      " + "; ".join(say_parts(pair)),
            "      " + gettext("next best: %(other)s") % {"other": say_second(floor, one)},
        ]
    for none in answer.unmatched:
        lines += ["", f"{floor.bats[none.bat].label}  " + say_none(floor, none)]
        lines += [f"      {words}" for words in say_fails(none.fails)]
    for short in floor.short():
        told = say_short(short)
        lines += [
            "",
            gettext("to buy: %(count)s, %(grade)s, %(density)s kg/m³ at 12 %%, at least %(size)s mm") % told,
        ]
    return lines
