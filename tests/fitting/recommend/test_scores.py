"""Options scored by signs, wishes over rules, and how sure the outcome is."""

import pytest

from fitting.recommend.findings import findings_of
from fitting.recommend.scores import Prior, answered_share, confidence, decide
from fitting.sheets.book_rules import Condition, Sign
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.sheets import fitting

RULES = DEFAULT_BOOK.rules
SIGNS = (
    Sign(subject="bow", option="slight", points=2, fact="bow.resting"),
    Sign(
        subject="bow",
        option="full",
        points=3,
        fact="bow.for",
        when=(Condition(answer="pitches.outfield_grass", one_of=("long",)),),
    ),
    Sign(
        subject="bow",
        option="none",
        points=1,
        fact="bow.against",
        when=(
            Condition(answer="game.approach", one_of=("patient",)),
            Condition(answer="player.height_mm", at_least=1900),
        ),
    ),
)


def found(**chapters):
    return findings_of(fitting(**chapters), DEFAULT_BOOK)


def test_default_stands_without_answers_and_says_so():
    decision = decide(SIGNS, found(), RULES)
    assert decision.option == "slight"
    assert [one.fact for one in decision.because] == ["bow.resting", "default.unanswered"]
    assert all(one.answer is None for one in decision.because)


def test_answers_move_the_choice_and_are_named():
    decision = decide(SIGNS, found(pitches={"outfield_grass": "long"}), RULES)
    assert decision.option == "full"
    assert [(one.answer, one.fact) for one in decision.because] == [("pitches.outfield_grass", "bow.for")]
    assert decision.others == ("slight",)


def test_answer_is_irrelevant_where_another_has_settled_its_sign():
    # height (1) is given, the grass (3) is not; the approach could only matter to the tall
    points = {"slight": 2, "full": 0, "none": 0}
    assert answered_share(SIGNS, found(), points) == pytest.approx(1 / 4)
    assert answered_share(SIGNS, found(pitches={"outfield_grass": "short"}), points) == 1


def test_answer_is_irrelevant_where_it_can_no_longer_change_the_outcome():
    tall = found(player={"height_mm": 1950})
    # the approach could bring "none" to 1 point, which is not enough against 2, but is against 0.5
    assert answered_share(SIGNS, tall, {"slight": 2, "full": 0, "none": 0}) == pytest.approx(1 / 4)
    assert answered_share(SIGNS, tall, {"slight": 0.5, "full": 0, "none": 0}) == pytest.approx(1 / 5)


@pytest.mark.parametrize(("share", "lead", "sure"), [(0, 1, 0.2), (1, 0, 0.2), (1, 1, 1), (0.5, 0.5, 0.4)])
def test_confidence_is_share_of_answers_times_lead_above_the_floor(share, lead, sure):
    assert confidence(RULES, share, lead) == sure


def test_confidence_falls_with_missing_answers_and_with_a_close_second():
    given = decide(SIGNS, found(pitches={"outfield_grass": "short"}), RULES).confidence
    close = decide(SIGNS, found(pitches={"outfield_grass": "long"}), RULES).confidence
    missing = decide(SIGNS, found(), RULES).confidence
    assert missing < close < given == 1
    assert close == 0.6  # ahead by one of the two points of a whole lead


def test_wish_outranks_the_answers_and_names_what_it_overruled():
    decision = decide(SIGNS, found(pitches={"outfield_grass": "long"}), RULES, wish=("none", "wishes.bow"))
    assert decision.option == "none"
    assert decision.overruled == "full"
    assert decision.because[0].answer == "wishes.bow"
    assert decision.confidence < RULES.confidence_of_wish


def test_wish_against_a_mere_default_overrules_nothing():
    decision = decide(SIGNS, found(), RULES, wish=("full", "wishes.bow"))
    assert (decision.option, decision.overruled) == ("full", None)


def test_liked_bat_adds_its_weight():
    prior = Prior("none", "present_bat.liked", "prior.present_bat")
    decision = decide(SIGNS, found(), RULES, prior=prior)
    assert decision.option == "none"
    assert decision.because[-1].fact == "prior.present_bat"


def test_height_condition_leaves_room_for_the_inch():
    tall = Condition(answer="player.height_mm", at_least=1778)
    short = Condition(answer="player.height_mm", below=1778)
    assert found(player={"height_mm": 1777}).meets(tall) is True
    assert found(player={"height_mm": 1775.9}).meets(tall) is False
    for height in (1775, 1776, 1777, 1778, 1780):
        findings = found(player={"height_mm": height})
        assert findings.meets(tall) is not findings.meets(short)


def test_overs_become_shares():
    findings = found(game={"overs_mix": {"long": 1, "fifty": 1, "twenty": 2}})
    assert findings.number("game.overs_mix.twenty") == pytest.approx(0.5)
