"""What has to be said with a bat, whatever else was chosen."""

from fitting.laws import EDITIONS, edition_on
from fitting.recommend.length import is_grown
from fitting.sheets.book import Book
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Caution


def cautions_of(
    sheet: FittingSheet, book: Book, *, child: bool, rare_willow: bool = False
) -> tuple[Caution, ...]:
    """Return the cautions that the answers call for, the gravest first; the care of a new bat always."""
    said: list[Caution] = []
    if not is_grown(sheet):
        said.append(Caution(key="child.guardian", answers=("player.age_years",)))
        said.append(Caution(key="child.lighter", answers=("player.age_years",)))
    if child:
        said.append(Caution(key="child.measure_again", answers=("player.height_mm",)))
        said.append(Caution(key="child.knock_in_with_adult", answers=("player.age_years",)))
    if sheet.wishes.easy_on_joints:
        said.append(Caution(key="joints.professional", answers=("wishes.easy_on_joints",)))
    if "machine" in (sheet.game.ball or ()):
        said.append(Caution(key="ball.machine", answers=("game.ball",)))
    if rare_willow:
        said.append(Caution(key="willow.rare", answers=("wishes.gives_way_first",)))
    if sheet.pitches.often_damp:
        said.append(Caution(key="damp.limits", answers=("pitches.often_damp",)))
    if edition_on(sheet.play_from, book.laws_edition) != max(EDITIONS):
        said.append(Caution(key="laws.older_edition", answers=("play_from",) if sheet.play_from else ()))
    said.append(Caution(key="laws.local_body", answers=("level",) if sheet.level else ()))
    said.append(Caution(key="care.knock_in", answers=()))
    said.append(Caution(key="care.oil_rags", answers=()))
    return tuple(said)
