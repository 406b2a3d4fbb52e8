"""One pass of the press as it is typed."""

import pytest

from workshop.bench.press_form import Before, PassForm, pass_form

PLACES = (1500, 2500)
DEPTHS = {("left", 1500): 64.0, ("centre", 1500): 64.0, ("left", 2500): 66.0}
DROP = {"drop_height": "1000", "ball": "old leather", "support": "two battens"}
FIVE = {f"drop_{number}": str(value) for number, value in enumerate((480, 470, 500, 475, 490), start=1)}


def typed(**fields: str) -> PassForm:
    """Return the form with some fields typed."""
    names = {name.replace("__", "-"): value for name, value in fields.items()}
    before = Before(number=2, bowed=False, places=PLACES, depths=DEPTHS, width_mm=107.0)
    return pass_form(before, {"tool": "flat_roller", **names})


def faults(form: PassForm) -> dict[str, str]:
    """Return what is wrong by field."""
    return {fault.field_id: fault.words for fault in form.faults()}


def test_pass_with_a_tool_alone_is_enough():
    form = typed()

    assert not form.faults()
    assert form.values == {
        "tool": "flat_roller",
        "gauge": None,
        "width": None,
        "depths": {},
        "rebounds": [],
        "drop": {},
        "words": "",
    }


def test_everything_typed_is_read_in_its_unit():
    lines = {f"pass-left-{place}": depth for place, depth in zip(PLACES, ("63,2", "65.5"), strict=True)}
    form = typed(gauge="92.5", pass_width="107.6", words=" rings clear ", **FIVE, **DROP, **lines)

    assert not form.faults()
    assert form.values["gauge"] == 925
    assert form.values["width"] == 1076
    assert form.values["depths"] == {"left": [63.2, 65.5]}
    assert form.values["rebounds"] == [480, 470, 500, 475, 490]
    assert form.values["drop"] == {"height_mm": 1000, "ball": "old leather", "support": "two battens"}
    assert form.values["words"] == "rings clear"


def test_slipped_point_in_a_depth_asks_what_was_meant():
    form = typed(**{"pass-left-1500": "6.4", "pass-left-2500": "65"})

    assert faults(form) == {
        "id_pass-left-1500": "Depth after the pass, left edge, 150 mm from the toe: 6.4 given; 32 to 96 mm "
        "is allowed. Did you mean 64 mm?"
    }
    assert dict(form.rows)["150"][0].shown == "6.4"
    assert dict(form.rows)["250"][0].shown == "65"


def test_line_that_was_begun_is_read_whole():
    form = typed(**{"pass-centre-1500": "63"})

    assert list(faults(form)) == ["id_pass-centre-2500"]


@pytest.mark.parametrize("lost", ["drop_1", "drop_5"])
def test_four_drops_are_not_five(lost: str):
    assert list(faults(typed(**{**FIVE, **DROP, lost: ""}))) == [f"id_{lost}"]


@pytest.mark.parametrize("lost", ["drop_height", "ball", "support"])
def test_height_ball_and_support_belong_to_the_record(lost: str):
    found = faults(typed(**{**FIVE, **DROP, lost: ""}))

    assert list(found) == [f"id_{lost}"]
    assert "belongs to the record" in found[f"id_{lost}"]


def test_ball_cannot_come_back_higher_than_it_fell():
    found = faults(typed(**{**FIVE, **DROP, "drop_2": "1020"}))

    assert list(found) == ["id_drop_2"]


@pytest.mark.parametrize("tool", ["", "hammer", "second_bow"])
def test_tool_that_is_not_offered_is_refused(tool: str):
    assert list(faults(typed(tool=tool))) == ["id_tool"]


def test_second_pressing_is_offered_for_a_bowed_bat():
    before = Before(number=1, bowed=True, places=PLACES, depths={}, width_mm=107.0)

    form = pass_form(before, {"tool": "second_bow"})

    assert not form.faults()
    assert form.values["tool"] == "second_bow"


def test_empty_form_knows_how_the_ball_fell_last():
    drop = {"height_mm": 900.0, "ball": "old leather", "support": "two battens"}
    before = Before(number=1, bowed=False, places=PLACES, depths=DEPTHS, width_mm=107.0, drop=drop)

    form = pass_form(before)

    assert [one.shown for one in form.drop] == ["900", "old leather", "two battens"]
    assert dict(form.rows)["150"][0].aim == "was 64"
    assert not form.faults()
