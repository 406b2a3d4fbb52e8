"""What is said back to an answer that stands, but not quite beside another one: kept, and asked again."""

from dataclasses import dataclass
from typing import Literal

from fitting.answers import Answers, sheet_from, situation_of
from fitting.questions import AT_AN_EDGE
from fitting.sheets.book import Book
from fitting.sheets.values import LengthCode

RemarkKey = Literal["liked_too_heavy", "liked_too_light", "not_the_usual_length", "swings_alone", "edge_only"]
# A bat this far from the usual length of its size is asked about, mm: half the step between two sizes.
USUAL_WITHIN_MM = 13.0


@dataclass(frozen=True)
class Remark:
    """One remark, with the usual length in mm where there is one."""

    key: RemarkKey
    usual_mm: float = 0.0
    code: LengthCode | None = None


def remark_on(question: str, answers: Answers, book: Book) -> Remark | None:
    """Return what is to be said back to the answer of one question, beside all the others."""
    present = sheet_from(answers, situation_of(answers, at_counter=True)).sheet.get("present_bat", {})
    if question == "bat_pickup" and present.get("liked"):
        keys: dict[str, RemarkKey] = {"too_heavy": "liked_too_heavy", "too_light": "liked_too_light"}
        key = keys.get(present.get("pickup", ""))
        return Remark(key) if key else None
    if question == "bat_overall" and "length_code" in present and "overall_length_mm" in present:
        usual = book.length(present["length_code"]).overall_mm
        if abs(usual - present["overall_length_mm"]) > USUAL_WITHIN_MM:
            return Remark("not_the_usual_length", usual, present["length_code"])
    if question == "pendulum" and "pendulum" in present:
        needed = {"mass_g", "overall_length_mm", "balance_from_toe_mm"}
        return None if needed <= present.keys() else Remark("swings_alone")
    if question == "bat_sweet_spot" and answers.get("bat_sweet_spot", {}).get("") == AT_AN_EDGE:
        return Remark("edge_only")
    return None
