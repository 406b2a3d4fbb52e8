"""The commands over sheets: JSON in, JSON or a report out, bad input refused field by field."""

import json
import math
import subprocess
import sys
from io import StringIO
from itertools import pairwise

import jsonschema  # type: ignore[import-untyped]
import pytest
from django.core.management import call_command

from fitting.bat.weigh import weigh
from fitting.laws import law_check
from fitting.recommend import recommend
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import read_sheet
from orders.words.sweet_spot import say_peak
from tests.builds import short_handle
from tests.rules.source import ROOT
from tests.sheets import fitting, fitting_json
from tests.weighings import sweet_spot_of


def run(*arguments):
    """Standard output, standard error and exit status of a command in this process."""
    out, err = StringIO(), StringIO()
    status: object = 0
    try:
        call_command(*arguments, stdout=out, stderr=err)
    except SystemExit as leaving:
        status = leaving.code
    return out.getvalue(), err.getvalue(), status


@pytest.fixture
def written(tmp_path):
    """Write content as a file and give its name; text as it is, the rest as JSON."""

    def write(content, name="sheet.json"):
        path = tmp_path / name
        path.write_text(content if isinstance(content, str) else json.dumps(content), encoding="utf-8")
        return str(path)

    return write


def outside(*arguments, given=""):
    """The same in a process of its own, with an empty environment: no database, no secret."""
    return subprocess.run(
        [sys.executable, str(ROOT / "manage.py"), *arguments],
        input=given,
        capture_output=True,
        text=True,
        check=False,
        env={},
        timeout=60,
    )


def test_fit_prints_the_recommendation_of_the_core(written):
    out, err, status = run("fit", written(fitting_json()), "--json")
    assert (err, status) == ("", 0)
    content = json.loads(out)
    assert content == json.loads(recommend(fitting()).model_dump_json())
    named = {"build", "reasons", "conflicts", "cautions", "weighing", "book", "model_version"}
    assert set(content) == named | {"others"}
    # the other whole bats are worked out with --alternatives
    assert content["others"] == []
    assert content["weighing"] == json.loads(
        weigh(read_sheet(BuildSheet, content["build"])).model_dump_json()
    )


def test_fit_answers_a_sheet_full_of_conflicts_with_status_0(written):
    sheet = fitting_json(wishes={"mass_g": {"max": 700}, "edges": "thick", "profile": "full"})
    out, err, status = run("fit", written(sheet), "--json")
    assert (err, status) == ("", 0)
    assert json.loads(out)["conflicts"]


def test_fit_with_words_adds_sentences_and_changes_nothing_else(written):
    sheet = written(fitting_json(wishes={"mass_g": {"max": 900}}))
    plain = json.loads(run("fit", sheet, "--json")[0])
    worded = json.loads(run("fit", sheet, "--json", "--words")[0])
    reason = next(row for row in worded["reasons"] if row["field"] == "length_code")
    assert reason["words"]["value"] == "short handle"
    assert reason["words"]["because"][0].startswith("From about 5 ft 6 in")
    assert "900 g" not in worded["conflicts"][0]["words"]["conflict"]
    for row in [*worded["reasons"], *worded["conflicts"], *worded["cautions"]]:
        assert row.pop("words")
    assert worded == plain


def test_fit_report_names_bat_forecast_reasons_and_cautions(written):
    out, _, status = run("fit", written(fitting_json()))
    assert status == 0
    found = recommend(fitting())
    assert out.startswith("short handle, spine fading out before the toe, 1165 g\n")
    assert (
        f"{found.weighing.balance_from_toe_mm:.1f} ± {found.weighing.balance_sd_mm:.1f} mm from the toe"
        in out
    )
    assert "- Length: short handle (sure)" in out
    assert "about six hours of knocking-in" in out
    assert found.book.hash in out


def test_fit_report_ends_with_what_to_ask_the_player(written):
    doubtful = fitting_json(present_bat={"liked": True, "pickup": "too_heavy"})
    out, err, status = run("fit", written(doubtful))
    assert (err, status) == ("", 0)
    told = out.partition("To ask the player\n")[2].splitlines()
    assert told[0].startswith("- Ask what is to stay of the bat in use")
    assert len(told) <= 5


def test_fit_lines_answers_each_line_and_goes_on_after_a_bad_one(written):
    lines = [
        fitting_json(),
        {"player": {"age_years": 30, "height_mm": 17570}},
        fitting_json(player={"height_mm": 1900}),
    ]
    text = "\n".join([*map(json.dumps, lines), "{oops", ""])
    out, _, status = run("fit", "--lines", written(text))
    answers = [json.loads(line) for line in out.splitlines()]
    assert status == 2
    assert [answer["build"]["length_code"] for answer in (answers[0], answers[2])] == [
        "short_handle",
        "long_handle",
    ]
    assert answers[1] == {
        "line": 2,
        "errors": ["player.height_mm: 17570 given; a number from 900 to 2300 allowed"],
    }
    assert answers[3]["line"] == 4
    assert len(answers) == 4


def test_fit_lines_without_a_bad_line_leaves_with_0(written):
    out, err, status = run("fit", "--lines", written(json.dumps(fitting_json()) + "\n"))
    assert (err, status, len(out.splitlines())) == ("", 0, 1)


BAD = [
    ({"height_mm": 17570}, "player.height_mm: 17570 given; a number from 900 to 2300 allowed"),
    ({"height_mm": "5'13\""}, 'player.height_mm: "5\'13\\"" given; a number from 900 to 2300 allowed'),
    ({"height_mm": -3}, "player.height_mm: -3 given; a number from 900 to 2300 allowed"),
    ({"height_mm": "tall"}, 'player.height_mm: "tall" given; a number from 900 to 2300 allowed'),
    ({"height_mm": math.nan}, "player.height_mm: NaN given; a number from 900 to 2300 allowed"),
    ({"height_mm": None}, "player.height_mm: null given; a number from 900 to 2300 allowed"),
    ({"age_years": 9.5}, "player.age_years: 9.5 given; a whole number from 4 to 100 allowed"),
    ({"age_years": 3}, "player.age_years: 3 given; a whole number from 4 to 100 allowed"),
    ({"strength": "huge"}, 'player.strength: "huge" given; one of light, average, strong allowed'),
    ({"batting_hand": True}, "player.batting_hand: true given; one of left, right allowed"),
]


@pytest.mark.parametrize(("player", "line"), BAD)
def test_fit_refuses_a_bad_answer_by_field_given_and_allowed(written, player, line):
    out, err, status = run("fit", written(fitting_json(player=player)), "--json")
    assert (out, err, status) == ("", f"{line}\n", 2)


@pytest.mark.parametrize(
    ("text", "start"),
    [
        ("", "sheet: nothing given, which is not JSON"),
        ("\n", "sheet: nothing given, which is not JSON"),
        ('{"player": ', 'sheet: "{\\"player\\": " given, which is not JSON'),
        ("[]", "sheet: [] given; one JSON object allowed"),
        ("12", "sheet: 12 given; one JSON object allowed"),
        ("{}", "player: nothing given; the fields age_years, height_mm"),
        ('{"player": {}}', "player.age_years: nothing given; a whole number from 4 to 100 needed"),
        ('{"player": 5}', "player: 5 given; the fields age_years"),
    ],
)
def test_fit_refuses_what_is_no_sheet(written, text, start):
    out, err, status = run("fit", written(text))
    assert (out, status) == ("", 2)
    assert err.startswith(start)


def test_fit_names_unknown_fields_and_every_other_fault_on_a_line_of_its_own(written):
    sheet = fitting_json(player={"shoe": 43}, colour="red", game={"shots": {"cut": 4}})
    out, err, status = run("fit", written(sheet))
    lines = err.splitlines()
    assert (out, status, len(lines)) == ("", 2, 3)
    assert lines[0].startswith("player.shoe: 43 given, but there is no such field; the fields age_years")
    assert lines[1] == "game.shots.cut: 4 given; a number from 0 to 3 allowed"
    assert lines[2].startswith('colour: "red" given, but there is no such field; the fields sheet, player')


def test_fit_refuses_a_file_that_is_not_there_or_is_no_text(written, tmp_path):
    assert run("fit", str(tmp_path / "none.json"))[1:] == (
        f"{tmp_path / 'none.json'} given, which cannot be read (No such file or directory); "
        "a file or - allowed\n",
        2,
    )
    photo = tmp_path / "photo.json"
    photo.write_bytes(b"\xff\xd8\xff\xe0")
    out, err, status = run("fit", str(photo))
    assert (out, status) == ("", 2)
    assert "not text in UTF-8" in err


def test_fit_takes_another_book_and_says_which(written):
    book = DEFAULT_BOOK.model_copy(update={"version": 7, "law_margin_mm": 2.0})
    sheet = written(fitting_json())
    content = json.loads(
        run("fit", sheet, "--json", "--book", written(book.model_dump_json(), "book.json"))[0]
    )
    assert content["book"]["version"] == 7
    assert content["book"]["hash"] != recommend(fitting()).book.hash
    assert content["build"]["blade"]["width_mm"] == 105.9


def test_book_that_is_wrong_is_refused_by_field(written):
    book = json.loads(DEFAULT_BOOK.model_dump_json())
    book["law_margin_mm"] = -1
    out, err, status = run("fit", written(fitting_json()), "--book", written(book, "book.json"))
    assert (out, status) == ("", 2)
    assert err == "--book law_margin_mm: -1 given; a number from 0 to 5 allowed\n"


def test_weigh_prints_the_weighing_of_the_core(written):
    out, err, status = run("weigh", written(short_handle()), "--json")
    build = read_sheet(BuildSheet, short_handle())
    assert (err, status) == ("", 0)
    content = json.loads(out)
    assert content == json.loads(weigh(build).model_dump_json())
    assert sum(part["mass_g"] for part in content["parts"]) == pytest.approx(content["mass_g"])


SINCE_MODEL_2 = {
    "balance_sd_mm": float,
    "pickup_sd_kg_m2": float,
    "lower_hand": {"axis_from_toe_mm", "static_moment_kg_m", "inertia_kg_m2"},
    "reference_impact": {
        "ball_mass_g",
        "ball_speed_m_s",
        "swing_rad_s",
        "pivot_from_toe_mm",
        "contact_ms",
    },
    "sweet_spot": {"peak_from_toe_mm", "from_mm", "to_mm", "half_width_mm"},
}


def is_whole(weighing):
    """Whether a weighing in JSON has bending, blow and spreads with all of their fields."""
    for key, kind in SINCE_MODEL_2.items():
        assert isinstance(weighing[key], float) if kind is float else set(weighing[key]) == kind
    assert [set(mode) for mode in weighing["modes"]] == 3 * [{"frequency_hz", "nodes_from_toe_mm"}]
    places = [point["from_toe_mm"] for point in weighing["response"]]
    assert all(0 < after - before <= 10 for before, after in pairwise(places))
    speeds = [point["exit_speed_m_s"] for point in weighing["response"]]
    peak = places[speeds.index(max(speeds))]
    assert abs(peak - weighing["sweet_spot"]["peak_from_toe_mm"]) <= 10
    return True


def test_weigh_and_fit_print_bending_blow_and_spreads(written):
    assert is_whole(json.loads(run("weigh", written(short_handle()), "--json")[0]))
    assert is_whole(json.loads(run("fit", written(fitting_json()), "--json")[0])["weighing"])


def test_weigh_and_fit_report_where_the_bat_hits_hardest(written):
    peak = say_peak(sweet_spot_of(weigh(read_sheet(BuildSheet, short_handle()))))
    assert f"sweet spot  {peak} from the toe" in run("weigh", written(short_handle()))[0]
    found = recommend(fitting())
    assert f"sweet spot  {say_peak(sweet_spot_of(found.weighing))}" in run("fit", written(fitting_json()))[0]


def test_weigh_takes_density_and_moisture(written):
    sheet = written(short_handle())
    build = read_sheet(BuildSheet, short_handle())
    dense = json.loads(run("weigh", sheet, "--json", "--density", "450", "--moisture", "10")[0])
    expected = weigh(build, density_kg_m3=450, moisture_percent=10)
    assert dense["mass_g"] == pytest.approx(expected.mass_g)
    assert dense["density_kg_m3"] == 450


@pytest.mark.parametrize("given", ["heavy", "nan", "-3", "4e9", ""])
def test_weigh_refuses_an_impossible_density(written, given):
    out, err, status = run("weigh", written(short_handle()), f"--density={given}")
    assert (out, status) == ("", 2)
    assert err == f"--density: {given or 'nothing'} given; a number from 200 to 800 allowed\n"


def test_weigh_report_tells_parts_and_target(written):
    out, _, _ = run("weigh", written(short_handle()))
    weighing = weigh(read_sheet(BuildSheet, short_handle()))
    for part in weighing.parts:
        assert f"{part.mass_g:.1f} g" in out
    assert "mass asked for: 1150 g" in out


def test_weigh_refuses_a_build_that_does_not_hang_together(written):
    build = short_handle()
    build["blade"]["stations"][2]["edge_mm"] = 70
    out, err, status = run("weigh", written(build), "--json")
    assert (out, status) == ("", 2)
    assert err == "blade.stations.2.edge_mm: 70 given; a number from 5 to 60 allowed\n"


def test_lawcheck_prints_the_rows_of_the_core(written):
    out, err, status = run(
        "lawcheck", written(short_handle()), "--level", "club", "--edition", "2022", "--json"
    )
    build = read_sheet(BuildSheet, short_handle())
    assert (err, status) == ("", 0)
    rows = json.loads(out)
    assert rows == [json.loads(row.model_dump_json()) for row in law_check(build, level="club", edition=2022)]
    assert {row["clause"] for row in rows} == {"5.7.1", "5.7.2", "5.7.3", "5.7.5", "B.2.3", "B.8"}


def test_lawcheck_report_tells_what_is_too_large(written):
    build = short_handle()
    build["blade"]["width_mm"] = 110
    out, _, status = run("lawcheck", written(build), "--level", "club")
    assert status == 0
    assert out.count("TOO LARGE") == 3  # the width itself, and through the gauge bare and covered
    assert "4.25 in / 10.8 cm" in out


@pytest.mark.parametrize(
    ("option", "given", "allowed"),
    [("--level", "village", "junior, club, first_class, international"), ("--edition", "2017", "2022, 2026")],
)
def test_lawcheck_refuses_unknown_level_and_edition(written, option, given, allowed):
    arguments = {"--level": "club", "--edition": "2026"} | {option: given}
    flat = [part for pair in arguments.items() for part in pair]
    out, err, status = run("lawcheck", written(short_handle()), *flat)
    assert (out, err, status) == ("", f"{option}: {given} given; one of {allowed} allowed\n", 2)


def test_schema_describes_both_sheets_with_their_bounds(written):
    content = json.loads(run("schema")[0])
    assert set(content) == {"fitting_sheet", "build_sheet"}
    jsonschema.validate(fitting_json(), content["fitting_sheet"])
    jsonschema.validate(short_handle(), content["build_sheet"])
    jsonschema.validate(json.loads(recommend(fitting()).build.model_dump_json()), content["build_sheet"])
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(fitting_json(player={"height_mm": 17570}), content["fitting_sheet"])
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(fitting_json(colour="red"), content["fitting_sheet"])


def test_commands_run_without_environment_database_or_secret():
    fitted = outside("fit", "-", "--json", given=json.dumps(fitting_json()))
    assert (fitted.returncode, fitted.stderr) == (0, "")
    build = json.loads(fitted.stdout)["build"]
    weighed = outside("weigh", "-", "--json", given=json.dumps(build))
    assert json.loads(weighed.stdout) == json.loads(fitted.stdout)["weighing"]


def test_bad_input_outside_leaves_standard_output_empty():
    bad = outside("fit", "-", given='{"player": {"age_years": 30, "height_mm": 17570}}')
    assert bad.returncode == 2
    assert bad.stdout == ""
    assert bad.stderr == "player.height_mm: 17570 given; a number from 900 to 2300 allowed\n"


def test_missing_argument_leaves_with_2_and_an_empty_standard_output():
    bad = outside("lawcheck", "-")
    assert (bad.returncode, bad.stdout) == (2, "")
    assert "--level" in bad.stderr
