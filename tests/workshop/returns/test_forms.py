"""What a decision needs, judged before anything is touched."""

from datetime import date

import pytest

from workshop.returns.forms import DecideForm

GOOD: dict[str, dict[str, object]] = {
    "adjust": {"adjustments": ["second_grip"]},
    "rebuild": {"ready_from": "2027-04-01", "ready_to": "2027-04-20"},
    "refund": {"amount": "420", "sure": "on"},
    "find_nothing": {},
}


def form(decision: str, **fields: object) -> DecideForm:
    typed = {"decision": decision, "words": "My answer.", **GOOD.get(decision, {}), **fields}
    return DecideForm(typed, currency="GBP", agreed=42000, today=date(2027, 3, 1))


@pytest.mark.parametrize("decision", GOOD)
def test_decision_with_what_it_needs_is_good(decision: str):
    assert form(decision).is_valid()


@pytest.mark.parametrize(
    ("decision", "fields", "field", "said"),
    [
        ("", {}, "decision", "required"),
        ("adjust", {"adjustments": []}, "stages", "Tick an adjustment above"),
        ("adjust", {"stages": ["cleft_selection"]}, "stages", "not one of the available choices"),
        ("refund", {"amount": ""}, "amount", "Say how much is given back."),
        ("refund", {"amount": "420.01"}, "amount", "at most £420.00"),
        ("refund", {"amount": "0"}, "amount", "more than nothing"),
        ("refund", {"amount": "much"}, "amount", "no sum of money"),
        ("refund", {"sure": ""}, "sure", "for good"),
        ("find_nothing", {"words": " "}, "words", "required"),
        ("rebuild", {"ready_from": "2027-02-28"}, "ready_from", "is over"),
        ("rebuild", {"ready_to": ""}, "ready_to", "Give both days"),
        ("rebuild", {"ready_from": ""}, "ready_from", "Give both days"),
        ("rebuild", {"ready_to": "2027-03-30"}, "ready_to", "runs forwards"),
    ],
)
def test_decision_with_a_fault_says_it_at_the_field(decision: str, fields, field: str, said: str):
    judged = form(decision, **fields)
    assert not judged.is_valid()
    assert list(judged.errors) == [field]
    assert said in str(judged.errors[field])


def test_stages_are_those_ticked_and_those_that_adjustments_need_in_their_order():
    judged = form("adjust", stages=["pressing"], adjustments=["second_grip", "re_glue"])
    assert judged.is_valid()
    assert judged.stages_needed() == ["pressing", "handle_fitting", "finishing"]
    assert judged.chosen() == ("second_grip", "re_glue")


def test_days_are_promised_as_a_range_or_not_at_all():
    both, none = form("rebuild"), form("find_nothing")
    assert both.is_valid()
    assert none.is_valid()
    assert both.promised() == (date(2027, 4, 1), date(2027, 4, 20))
    assert none.promised() is None
