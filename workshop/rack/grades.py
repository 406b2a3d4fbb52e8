"""The grades that a cleft has been given, dated: as it came, after dressing, after pressing."""

from dataclasses import dataclass
from datetime import datetime

from workshop.rack.models import Cleft


@dataclass(frozen=True)
class DatedGrade:
    """One grading: the grade, when (``arrival``, ``dressing``, ``pressing``, ""), by whom and why."""

    grade: int
    when: str
    at: datetime
    by: str
    words: str = ""


def grades_of(cleft: Cleft) -> list[DatedGrade]:
    """Return the gradings of a cleft in their order; the first is that of its coming in."""
    found = []
    for entry in cleft.entries.filter(verb__in=("take_in", "grade")).select_related("by"):
        data, by = entry.data, entry.by.name if entry.by else ""
        if entry.verb == "take_in":
            found.append(DatedGrade(data.get("grade", cleft.grade), "arrival", entry.at, by))
            continue
        if len(found) == 1 and found[0].when == "arrival":
            # What a cleft came with was not always written down; the first grading after it tells.
            found[0] = DatedGrade(data["grade_before"], "arrival", found[0].at, found[0].by)
        found.append(DatedGrade(data["grade"], data["when"], entry.at, by, data.get("words", "")))
    return found
