"""Choices of the dress: guard, film, tape, oil, knocking-in, and the grade of the willow."""

from dataclasses import dataclass, replace

from fitting.recommend.findings import Findings
from fitting.recommend.scores import Decision, choose
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import Covering, Finish, Protection
from fitting.sheets.fitting_sheet import FittingSheet


@dataclass(frozen=True)
class DressChoices:
    """What protects the blade, how it is oiled, and the least acceptable grade."""

    toe_guard: Decision
    face_film: Decision
    edge_tape: Decision
    grade: Decision
    protection: Protection
    finish: Finish

    def deciding(self, name: str, option: str, book: Book) -> "DressChoices":
        """Return the same dress with one covering on or off."""
        decision = replace(getattr(self, name), option=option)
        own = getattr(book.materials, name)
        made = _covering(decision, own.thickness_mm, own.mass_g)
        return replace(self, protection=self.protection.model_copy(update={name: made}), **{name: decision})


def choose_dress(sheet: FittingSheet, findings: Findings, book: Book) -> DressChoices:
    """Choose guard, film, tape and grade; the tape goes under a film."""
    wished_grade = sheet.wishes.looks_grade
    guard = choose("toe_guard", findings, book)
    film = choose("face_film", findings, book)
    tape = choose("edge_tape", findings.knowing(face_film=film.option), book)
    grade = choose(
        "grade",
        findings,
        book,
        str(wished_grade) if wished_grade is not None else None,
        "wishes.looks_grade",
    )
    materials, rules = book.materials, book.rules
    filmed = film.option == "on"
    return DressChoices(
        toe_guard=guard,
        face_film=film,
        edge_tape=tape,
        grade=grade,
        protection=Protection(
            toe_guard=_covering(guard, materials.toe_guard.thickness_mm, materials.toe_guard.mass_g),
            face_film=_covering(film, materials.face_film.thickness_mm, materials.face_film.mass_g),
            edge_tape=_covering(tape, materials.edge_tape.thickness_mm, materials.edge_tape.mass_g),
        ),
        finish=Finish(
            oil_coats=rules.oil_coats_under_film if filmed else rules.oil_coats,
            knocked_in_minutes=rules.knocked_in_minutes,
        ),
    )


def _covering(decision: Decision, thickness_mm: float, mass_g: float) -> Covering | None:
    return Covering(thickness_mm=thickness_mm, mass_g=mass_g) if decision.option == "on" else None
