"""Rows of a law check in words: thin coverings, the gauge, what a national body decides, rows of old."""

import pytest

from fitting.laws import law_check, types_of
from orders.commissions.models import Proposal
from orders.commissions.shown import offer_shown
from orders.words.laws import LAW_SIZES, law_words, level_words
from orders.words.reports import report_laws
from tests.builds import a_build
from tests.factories import a_commission, propose_to

LATER = ("exempt", "book_margin_kept", "decided_by_body", "types", "dimension")


def dressed(**changes):
    return a_build(
        protection__face_film={"thickness_mm": 0.25, "mass_g": 15},
        protection__edge_tape={"thickness_mm": 0.2, "mass_g": 6},
        **changes,
    )


def rows(build, level="club", edition=2026):
    return [row.model_dump(mode="json") for row in law_check(build, level=level, edition=edition)]


def said(build, what, **asked):
    return [law_words(row) for row in rows(build, **asked) if row["what"] == what]


def test_every_row_has_its_own_words():
    words = [law_words(row)["what"] for row in rows(dressed())]
    assert len(set(words)) == len(words) == 12
    assert {row["what"] for row in rows(dressed())} == set(LAW_SIZES)


def test_thickness_is_told_to_the_hundredth():
    (film,) = said(dressed(), "face_film")
    assert (film["value"], film["limit"], film["margin"]) == ("0.25 mm", "0.04 in / 0.1 cm", "0.75 mm")
    (width,) = said(dressed(), "blade_width")
    assert width["value"] == "107.0 mm"


def test_gauge_is_told_bare_and_covered_with_what_decides():
    bare, covered = said(dressed(), "gauge")
    assert bare["what"] == "depth in the gauge, bare"
    assert covered["what"] == "depth in the gauge, with coverings"
    wide, _ = said(a_build(blade__width_mm=110), "gauge")
    assert wide["what"] == "width in the gauge, bare"


def with_share(share):
    return a_build(handle__other_material={"share": share, "reach_into_splice_mm": 40})


@pytest.mark.parametrize(
    ("share", "level", "edition", "words"),
    [
        (0.1, "club", 2022, ""),
        (0.15, "club", 2022, "only if your national governing body allows type C at this level"),
        (0.15, "club", 2026, "only if your national governing body allows type C or D at this level"),
        (0.15, "international", 2026, ""),
    ],
)
def test_what_a_national_body_decides_is_said_beside_the_row(share, level, edition, words):
    (row,) = said(with_share(share), "other_material", level=level, edition=edition)
    assert row["by_body"] == words


def test_level_says_which_types_are_for_the_national_body():
    assert level_words("international", 2026) == "International matches take bats of type A only."
    assert "Types B, C only where the national governing body" in level_words("club", 2022)
    assert "Types B, C, D only where the national governing body" in level_words("club", 2026)
    assert "Types B, C only" in level_words("first_class", 2026)


def test_report_names_the_types_and_the_tightest_place():
    build = with_share(0.15)
    report = report_laws(law_check(build, level="club"), "club", 2026, types_of(build, 2026))
    assert "level: club cricket" in report
    assert "types that it fits by its handle: C, D" in report
    assert "inside, at 220 mm from the toe" in report
    assert level_words("club", 2026) in report
    none = with_share(0.3)
    report = report_laws(law_check(none, level="club"), "club", 2026, types_of(none, 2026))
    assert "none: it is not a lawful bat" in report
    assert "TOO LARGE" in report


def test_row_stored_before_the_later_fields_is_worded_as_it_was():
    old = [{key: value for key, value in row.items() if key not in LATER} for row in rows(dressed())]
    worded = {row["what"]: law_words(row) for row in old[:5]}
    assert worded["blade_depth"]["what"] == "greatest depth"
    assert worded["edge"]["by_body"] == ""
    assert not worded["handle_share"]["exempt"]


@pytest.mark.django_db
def test_offer_made_before_the_gauge_was_checked_is_still_shown(player, maker):
    propose_to(a_commission(player), maker)
    proposal = Proposal.objects.get()
    kept = proposal.snapshot
    kept["laws"] = [
        {key: value for key, value in row.items() if key not in LATER} for row in kept["laws"][:5]
    ]
    shown = offer_shown(proposal)
    assert [row["clause"] for row in shown["laws"]] == ["5.7.1", "5.7.2", "5.7.2", "5.7.2", "5.7.3"]
    assert "Type A may be played at every level." in shown["level_words"]
