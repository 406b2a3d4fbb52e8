"""The build sheet put together from the choices, at any fullness of the blade."""

from dataclasses import dataclass, replace
from math import floor, inf
from typing import Literal

from fitting.laws import EDITIONS
from fitting.laws.gauge import gauge_margin
from fitting.recommend.blade import BladeChoices, bow_mm, crown_mm, scoop_of, swell_from_toe_mm
from fitting.recommend.dress import DressChoices
from fitting.recommend.handle import HandleChoices
from fitting.recommend.mass import MassAim
from fitting.recommend.scores import Decision
from fitting.recommend.shape import Shapes, shapes_of
from fitting.sheets.book import Book, Edition, LengthRow
from fitting.sheets.build_sheet import (
    Band,
    Blade,
    BuildSheet,
    EdgeRadius,
    Girth,
    Grips,
    Handle,
    OtherMaterial,
    Shoulder,
    SweetSpotAim,
    Target,
    ToeShape,
    Willow,
)
from fitting.sheets.values import Grain

_LOWERED_AT_MOST = 8
_PICKUP_UNSOLVED = Target(target=1, tolerance=1)


@dataclass(frozen=True)
class Draft:
    """All choices of one bat; ``build`` makes the sheet once fullness and density are known."""

    row: LengthRow
    length: Decision
    blade: BladeChoices
    handle: HandleChoices
    dress: DressChoices
    mass: MassAim
    book: Book
    edition: Edition
    child: bool
    grain: Grain | None = None
    outside_edge: Literal["left", "right"] | None = None

    @property
    def width_mm(self) -> float:
        """Width of the blade: the size's own, less under tape, inside the Laws with the book's margin."""
        rules = self.book.rules
        taped = self.dress.edge_tape.option == "on"
        own = self.row.width_mm - (rules.width_less_with_tape_mm if taped else 0.0)
        lawful = EDITIONS[self.edition].size("blade_width").mm - self.book.law_margin_mm
        return floor(min(own, lawful) * 10 + 1e-6) / 10

    @property
    def across(self) -> float:
        """This size's width over the adult's: what is told for an adult's width scales with it."""
        return self.row.width_mm / self.book.length("short_handle").width_mm

    @property
    def swell_mm(self) -> float:
        """Swell of the sweet spot chosen, mm from the toe."""
        return swell_from_toe_mm(self.blade.sweet_spot_value, self.row.blade_mm, self.book)

    @property
    def crown_mm(self) -> float:
        """Crown of the face, mm."""
        return crown_mm(self.blade.face.option, self.book)

    def deciding(self, name: str, option: str) -> "Draft":
        """Return the same bat with one choice of blade or handle made another way."""
        owner = "blade" if hasattr(self.blade, name) else "handle"
        choices = getattr(self, owner)
        decision = replace(getattr(choices, name), option=option)
        return replace(self, **{owner: replace(choices, **{name: decision})})

    def dressing(self, name: str, option: str) -> "Draft":
        """Return the same bat with a covering on or off."""
        return replace(self, dress=self.dress.deciding(name, option, self.book))

    def shapes(self) -> Shapes:
        """The blade from thinnest to fullest; the fullest goes through the gauge with the book's margin.

        What lies between is inside the fullest and passes with it. The trade's own depth leaves the gauge
        room, so that only a book that goes beyond it is lowered.
        """
        deepest = inf
        for _ in range(_LOWERED_AT_MOST):
            shapes = self._shapes(deepest)
            fullest = self.build(shapes, 1.0, self.book.rules.density_usual_kg_m3)
            short = self.book.law_margin_mm - gauge_margin(fullest)
            if short <= 0:
                break
            # a tenth downwards: stations are rounded to it
            deepest = floor((float(shapes.spine_mm.max()) - short) * 10) / 10
        return shapes

    def _shapes(self, deepest_mm: float) -> Shapes:
        return shapes_of(
            self.row,
            self.blade,
            self.book,
            swell_mm=self.swell_mm,
            splice_tip_mm=self.row.blade_mm - self.row.splice_mm,
            crown_mm=self.crown_mm,
            edition=self.edition,
            deepest_mm=deepest_mm,
        )

    def build(
        self,
        shapes: Shapes,
        fullness: float,
        density_kg_m3: float,
        *,
        tilt_mm: float = 0.0,
        mass: Target | None = None,
        pickup: Target = _PICKUP_UNSOLVED,
    ) -> BuildSheet:
        """Make the build sheet at one fullness and one middle of the density band."""
        half = self.book.rules.density_half_band_kg_m3
        return BuildSheet(
            length_code=self.row.code,
            profile=self.blade.profile_value,
            blade=self._blade(shapes, fullness, tilt_mm),
            sweet_spot=SweetSpotAim(choice=self.blade.sweet_spot_value, swell_from_toe_mm=self.swell_mm),
            handle=self._handle(),
            grips=Grips(
                count=self.handle.grip_count,
                mass_g=self.handle.grip.mass_g,
                wall_mm=self.handle.grip.thickness_mm,
            ),
            mass_g=mass or Target(target=self.mass.target_g, tolerance=self.mass.tolerance_g),
            pickup_kg_m2=pickup,
            willow=Willow(
                density_kg_m3=Band(min=density_kg_m3 - half, max=density_kg_m3 + half),
                grade=int(self.dress.grade.option),
                grain=self.grain,
            ),
            protection=self.dress.protection,
            finish=self.dress.finish,
            outside_edge=self.outside_edge,
        )

    def _blade(self, shapes: Shapes, fullness: float, tilt_mm: float) -> Blade:
        rules, length = self.book.rules, self.row.blade_mm
        scooped = self.blade.scoop.option == "scooped"
        return Blade(
            length_mm=length,
            width_mm=self.width_mm,
            stations=shapes.stations(fullness, tilt_mm),
            face_crown_mm=self.crown_mm,
            bow_mm=bow_mm(self.blade.bow.option, self.book),
            bow_peak_from_toe_mm=float(round(length * rules.bow_peak_share)),
            edge_radius_mm=EdgeRadius(face=rules.edge_radius_face_mm, back=rules.edge_radius_back_mm),
            toe=ToeShape(
                corner_radius_mm=round(rules.toe_corner_radius_mm * self.across, 1),
                scoop=scoop_of(self.blade.profile_value, self.row, self.book) if scooped else None,
            ),
            shoulder=Shoulder(
                length_mm=round(rules.shoulder_length_mm * self.across, 1),
                width_mm=round(rules.shoulder_width_mm * self.across, 1),
            ),
        )

    def _handle(self) -> Handle:
        rules, girth = self.book.rules, self.handle.girth_mm
        construction = self.handle.construction_value
        top, bottom = self.handle.sections
        return Handle(
            length_mm=self.row.handle_mm,
            construction=construction,
            section_top=top,
            section_bottom=bottom,
            oval_ratio=self.book.wish_numbers.oval_ratio if "oval" in (top, bottom) else 1.0,
            girth_mm=Girth(
                top=round(girth - rules.girth_top_less_mm, 1),
                middle=girth,
                bottom=round(girth + rules.girth_bottom_more_mm, 1),
            ),
            splice_length_mm=self.row.splice_mm,
            splice_width_mm=round(rules.splice_width_mm * self.across, 1),
            line_mm=0.0,
            cane_mass_g=None,
            other_material=OtherMaterial(
                share=rules.other_material_share[construction],
                reach_into_splice_mm=rules.other_material_reach_mm,
            ),
        )
