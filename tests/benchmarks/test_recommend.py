"""A recommendation is a handful of weighings: its time as a ratio to one weighing on the same machine."""

import json
import os
from io import StringIO
from time import perf_counter

import pytest
from django.core.management import call_command

from fitting.bat.weigh import weigh
from fitting.recommend import recommend
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.seeded_sheets import seeded_sheets
from tests.sheets import fitting
from workshop.management.commands.fit import Telling

MOST_WEIGHINGS = 8
# choosing, shaping, reasons and the book's stamp take about as long as two weighings more
MOST_RATIO = 2 * MOST_WEIGHINGS
LINES = 400
MOST_WEIGHINGS_A_LINE = 10
# two cores, less what starting, sharing out and gathering take
LEAST_AT_WORK = 0.8


def fastest(what, times=40):
    """Shortest of several runs, in seconds."""
    best = float("inf")
    for _ in range(times):
        begun = perf_counter()
        what()
        best = min(best, perf_counter() - begun)
    return best


@pytest.mark.bench
@pytest.mark.parametrize(
    "chapters",
    [
        {},
        {"wishes": {"mass_g": {"max": 900}, "edges": "thick", "profile": "full", "bow": "none"}},
        {
            "game": {"approach": "patient", "shots": {"lofted": 3}},
            "wishes": {"profile": "full", "toe": "strong", "sweet_spot": "low"},
        },
    ],
)
def test_recommendation_takes_a_handful_of_weighings(chapters):
    sheet = fitting(**chapters)
    build = recommend(sheet).build
    ratio = fastest(lambda: recommend(sheet)) / fastest(lambda: weigh(build))
    print(f"recommend takes {ratio:.1f} weighings")
    assert ratio <= MOST_RATIO


def answered_by_one(sheets):
    """Seconds that one process takes for a sheet, reading and writing as the command does."""
    telling = Telling(DEFAULT_BOOK, words=False, alternatives=False)
    lines = list(enumerate((sheet.model_dump_json(exclude_none=True) for sheet in sheets), start=1))
    return mean_time([lambda line=line: telling.answered(line) for line in lines])


def mean_time(what):
    """Mean time of different things, each done once, in seconds: what else the machine does counts too."""
    begun = perf_counter()
    for one in what:
        one()
    return (perf_counter() - begun) / len(what)


@pytest.mark.bench
def test_many_lines_take_ten_bare_weighings_a_sheet_in_all_on_every_core(tmp_path):
    """Wall time times cores, over the sheets, over one bare weighing of such bats before and after.

    Reading, answering and writing count, and so does starting the processes. That every core works is seen by
    the time that the processes were at work over the time that passed. How much sooner the lines are answered
    than by one process is printed beside: two cores that share a clock and a cache are not twice one.
    """
    sheets = list(seeded_sheets(LINES))
    path = tmp_path / "sheets.jsonl"
    path.write_text("\n".join(sheet.model_dump_json(exclude_none=True) for sheet in sheets), encoding="utf-8")
    builds = [recommend(sheet).build for sheet in sheets[::8]]
    weighings = [lambda build=build: weigh(build) for build in builds]
    alone, before = answered_by_one(sheets[::4]), mean_time(weighings)
    out = StringIO()
    begun, worked = perf_counter(), os.times()
    call_command("fit", "--lines", str(path), stdout=out)
    a_sheet, done = (perf_counter() - begun) / LINES, os.times()
    bare = (before + mean_time(weighings)) / 2
    alone = (alone + answered_by_one(sheets[2::4])) / 2
    assert [json.loads(line)["build"]["build"] for line in out.getvalue().splitlines()] == [1] * LINES
    cores = len(os.sched_getaffinity(0))
    ratio, sooner = a_sheet * cores / bare, alone / a_sheet
    print(
        f"{LINES} lines on {cores} cores: {1000 * a_sheet:.1f} ms a sheet, {sooner:.2f} times as fast as one"
    )
    at_work = sum(done[:4]) - sum(worked[:4])
    print(
        f"at work {1000 * at_work / LINES:.1f} ms a sheet, {at_work / LINES / a_sheet:.2f} of {cores} cores"
    )
    print(f"in all {ratio:.1f} bare weighings a sheet, of {1000 * bare:.1f} ms")
    assert ratio <= MOST_WEIGHINGS_A_LINE
    assert at_work / LINES / a_sheet >= LEAST_AT_WORK * cores
