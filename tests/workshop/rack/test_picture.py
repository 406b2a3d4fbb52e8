"""The rack as a picture: everything inside the frame, nothing over anything else, everybody's needs in it."""

import itertools
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.workshop.match.floors import a_waiting_bat
from tests.workshop.willow_on_rack import a_cleft
from workshop.rack.models import Cleft
from workshop.rack.picture import (
    MOST_LINES_A_GRADE,
    NARROW,
    WIDE,
    Wanted,
    draw_rack,
)
from workshop.willow import Density

FRAMES = pytest.mark.parametrize("frame", [WIDE, NARROW], ids=["wide", "narrow"])


def cleft(number, density, grade=2, spread=11.0):
    return (
        Cleft(number=number, grade=grade, code=f"c{number}"),
        Density(density, density, spread, density, spread),
    )


def wanted(label, least, most, grade=2, short=False):
    return Wanted(label, "/", least, most, grade, short)


def rows(picture):
    return {row.grade: row for row in picture["rows"]}


CLEFTS = st.lists(st.tuples(st.floats(250, 650), st.integers(1, 4)), max_size=60)
WANTS = st.lists(
    st.tuples(st.floats(300, 480), st.floats(2, 120), st.integers(1, 4), st.booleans()), max_size=20
)


@FRAMES
@given(clefts=CLEFTS, wants=WANTS)
def test_everything_lies_inside_the_frame_and_its_row(frame, clefts, wants):
    picture = draw_rack(
        [cleft(number, density, grade) for number, (density, grade) in enumerate(clefts)],
        [
            wanted(f"{number:04d}", least, least + span, grade, short)
            for number, (least, span, grade, short) in enumerate(wants)
        ],
        frame,
    )

    top = 0
    for row in picture["rows"]:
        assert top <= row.top < row.bottom
        top = row.bottom
        for point in row.points:
            assert row.wash_top < point.y < row.bottom
            assert frame.left <= point.x <= frame.width - frame.right
        for line in row.lines:
            assert row.top < line.y < row.wash_top
            half = 0.31 * frame.text * len(line.wanted.label)
            assert half <= line.text_x <= frame.width - half
    assert top == picture["floor"] < picture["height"]


@FRAMES
@given(wants=WANTS)
def test_no_two_lines_or_labels_touch(frame, wants):
    """What lies at the same height lies apart: the line with its label, label by label."""
    picture = draw_rack(
        [],
        [
            wanted(f"{number:04d}", least, least + span, grade, short)
            for number, (least, span, grade, short) in enumerate(wants)
        ],
        frame,
    )

    for row in picture["rows"]:
        for one, other in itertools.combinations(row.lines, 2):
            if one.y != other.y:
                assert abs(one.y - other.y) >= 1.4 * frame.text
                continue
            first, second = sorted((one, other), key=lambda line: line.start)
            assert first.end < second.start
            letters = len(first.wanted.label) + 6 * first.wanted.short
            letters += len(second.wanted.label) + 6 * second.wanted.short
            assert second.text_x - first.text_x >= 0.31 * frame.text * letters


@FRAMES
@given(densities=st.lists(st.floats(340, 500), max_size=25))
def test_points_of_a_moderate_rack_cover_one_another_nowhere(frame, densities):
    points = rows(draw_rack([cleft(n, d, spread=6.0) for n, d in enumerate(densities)], [], frame))[2].points

    crowded = max((sum(abs(a.x - b.x) < 40 for b in points) for a in points), default=0)
    if crowded > 8:
        return
    for one, other in itertools.combinations(points, 2):
        assert (one.x - other.x) ** 2 + (one.y - other.y) ** 2 >= (1.9 * one.radius) ** 2


def test_densities_rise_to_the_right_and_spreads_lie_about_their_point():
    points = rows(draw_rack([cleft(1, 400), cleft(2, 440)], [], WIDE))[2].points

    light, dense = sorted(points, key=lambda point: point.cleft.number)
    assert light.x < dense.x
    middle = light.reach_x + light.reach_width / 2
    assert middle == pytest.approx(light.x, abs=0.2)
    assert light.soft_width == pytest.approx(2 * light.reach_width, abs=0.3)


def test_short_bats_are_drawn_before_all_others_where_there_are_too_many():
    wants = [wanted(f"{n:04d}", 380, 440, short=n >= 8) for n in range(10)]

    row = rows(draw_rack([], wants, WIDE))[2]

    assert len(row.lines) == MOST_LINES_A_GRADE
    assert {line.wanted.label for line in row.lines if line.wanted.short} == {"0008", "0009"}
    assert row.more == 10 - MOST_LINES_A_GRADE


def test_wash_of_a_grade_is_what_any_bat_that_takes_it_could_use():
    """A bat of grade 3 takes grades 1 to 3; two that overlap make one wash."""
    wants = [wanted("0001", 360, 400, 3), wanted("0002", 390, 430, 3), wanted("0003", 450, 470, 1)]

    found = rows(draw_rack([], wants, WIDE))

    assert [len(found[grade].washes) for grade in (1, 2, 3, 4)] == [2, 1, 1, 0]
    assert found[2].washes[0][1] < found[1].washes[0][1] + found[1].washes[1][1]


def test_axis_reaches_what_is_drawn_and_never_less_than_usual():
    usual = [tick["density"] for tick in draw_rack([], [], WIDE)["ticks"]]
    wider = [tick["density"] for tick in draw_rack([cleft(1, 332)], [], WIDE)["ticks"]]

    assert (usual[0], usual[-1]) == (360, 480)
    assert (wider[0], wider[-1]) == (320, 480)


def test_more_clefts_are_drawn_smaller():
    few = rows(draw_rack([cleft(n, 420) for n in range(5)], [], WIDE))[2].points
    many = rows(draw_rack([cleft(n, 420) for n in range(300)], [], WIDE))[2].points

    assert many[0].radius < few[0].radius


@pytest.mark.django_db
def test_page_draws_what_a_bat_can_use_and_says_what_to_buy(maker_client, player, maker):

    bat = a_waiting_bat(player, maker)
    a_cleft(1, maker, density=300)

    page = maker_client.get("/floor/rack/").content.decode()

    assert re.search(rf'class="wants short"[^>]*href="/floor/bench/{bat.code}/"', page)
    assert "What is short, what to buy" in page
    assert "1 cleft" in page
