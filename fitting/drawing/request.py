"""What one drawing is asked to show."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np

from fitting.bat import outline
from fitting.drawing import lines
from fitting.drawing.labels import DrawingLabels
from fitting.drawing.response import Response, response_of
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.weighing import Weighing

SOFT_MM = 5.0


def plain_mm(value: float) -> str:
    """Word a measure in millimetres to a tenth, without an idle zero."""
    return f"{value:.1f}".removesuffix(".0")


def soft_mm(value: float) -> str:
    """Word a soft measure in millimetres, to the nearest 5."""
    return f"{round(value / SOFT_MM) * SOFT_MM:.0f}"


def plain_g(value: float) -> str:
    """Word a mass to the gram."""
    return f"{value:.0f} g"


@dataclass(frozen=True)
class Request:
    """One bat to draw, what is known of it, and how its measures are worded."""

    build: BuildSheet
    weighing: Weighing | None
    labels: DrawingLabels
    show_mm: Callable[[float], str]
    part: str | None = None
    compare: BuildSheet | None = None
    left_handed: bool = False
    compare_weighing: Weighing | None = None
    show_soft: Callable[[float], str] = soft_mm
    show_mass: Callable[[float], str] = plain_g

    @cached_property
    def response(self) -> Response | None:
        """The response curve to draw, with the other bat's; None where the weighing has none."""
        return response_of(self.weighing, self.compare_weighing if self.compare else None)

    @property
    def overall_mm(self) -> float:
        """Toe to the top of the handle."""
        return self.build.blade.length_mm + self.build.handle.length_mm

    @property
    def longest_mm(self) -> float:
        """The longer of the two bats, where two are drawn."""
        if self.compare is None:
            return self.overall_mm
        return max(self.overall_mm, self.compare.blade.length_mm + self.compare.handle.length_mm)

    @property
    def deepest_mm(self) -> float:
        """The highest point of the back or the grip above the plane of the face."""
        bats = [self.build] if self.compare is None else [self.build, self.compare]
        backs = [float(lines.side_lines(bat)[3].max()) for bat in bats]
        grips = [float(lines.handle_strip(bat, seen="side", grip=True)[:, 1].max()) for bat in bats]
        return max(*backs, *grips)

    @property
    def lowest_mm(self) -> float:
        """How far the handle dips below the plane of the face; 0 where it does not."""
        bats = [self.build] if self.compare is None else [self.build, self.compare]
        return min(0.0, *(float(lines.handle_strip(bat, seen="side", grip=True)[:, 1].min()) for bat in bats))

    @property
    def widest_mm(self) -> float:
        """The greater width of the two."""
        return max(bat.blade.width_mm for bat in (self.build, self.compare or self.build))

    def swell(self) -> lines.Swell:
        """Return the thickest point of this bat."""
        return self._swell

    @cached_property
    def _swell(self) -> lines.Swell:
        return lines.swell(self.build)

    def places(self, room: Callable[[str], float], scale: float) -> list[float]:
        """Return where to cut the blade so that neither sections nor the numbers over them meet.

        ``room`` tells how much of the page a number takes, ``scale`` how much a millimetre does.
        """
        for more in range(0, 160, 10):
            places = lines.section_places(self.build, more)
            x = np.array(places)
            depths = [*outline.spine(self.build.blade, x), *outline.edge(self.build.blade, x), *places]
            widest = max(room(self.show_mm(float(value))) for value in depths)
            if all((b - a) * scale >= widest + 4 for a, b in pairwise(places)):
                break
        return places

    def swell_words(self) -> str:
        """Return where the swell lies; where no sweet spot is known, what was asked for too."""
        swell = self.swell()
        words = self.labels.swell_reach if self.response is None else self.labels.swell_place
        return words.format(
            at=self.show_mm(swell.at_mm),
            lower=self.show_mm(swell.lower_mm),
            upper=self.show_mm(swell.upper_mm),
            by=self.show_mm(lines.SWELL_REACH_MM),
            choice=self.labels.choices[self.build.sweet_spot.choice],
        )

    def sweet_words(self) -> str:
        """Return where the bat hits hardest, as softly as that is known; empty without a response."""
        if self.response is None:
            return ""
        sweet = self.response.sweet_spot
        return self.labels.sweet_spot.format(
            at=self.show_soft(sweet.peak_from_toe_mm),
            lower=self.show_soft(sweet.from_mm),
            upper=self.show_soft(sweet.to_mm),
            choice=self.labels.choices[self.build.sweet_spot.choice],
        )

    def level_words(self) -> tuple[str, str, str]:
        """Return what the curve's lines stand for: its peak, where the sweet spot ends, its foot."""
        if self.response is None:
            return "", "", ""
        told = (self.response.reach_share, self.response.floor)
        reach, foot = (self.labels.share_of_fastest.format(percent=f"{share * 100:.0f}") for share in told)
        return self.labels.fastest, reach, foot

    def depth_words(self, spine_mm: float, edge_mm: float) -> str:
        """Return both depths of a section in one line."""
        return self.labels.spine_and_edge.format(spine=self.show_mm(spine_mm), edge=self.show_mm(edge_mm))

    def mass_words(self) -> str:
        """Return the forecast mass with its spread; empty without a weighing."""
        if self.weighing is None:
            return ""
        weighing = self.weighing
        return self.labels.weighs.format(
            mass=self.show_mass(weighing.mass_g), spread=self.show_mass(weighing.mass_sd_g)
        )

    def balance_words(self) -> str:
        """Return where the bat balances, to the millimetre: it is a forecast; empty without a weighing."""
        if self.weighing is None:
            return ""
        return self.labels.balance.format(at=self.show_mm(float(round(self.weighing.balance_from_toe_mm))))

    def bow_words(self) -> str:
        """Return what a straight edge on the face finds, and where; empty for a straight blade."""
        blade = self.build.blade
        if blade.bow_mm == 0:
            return ""
        return self.labels.bow.format(
            depth=self.show_mm(blade.bow_mm), at=self.show_mm(blade.bow_peak_from_toe_mm)
        )

    def title(self) -> str:
        """Return the drawing's accessible name."""
        return self.labels.title

    def description(self) -> str:
        """Return in words what the drawing shows: sizes, and as far as it was weighed what comes of them."""
        build = self.build
        sizes = self.labels.description.format(
            overall=self.show_mm(self.overall_mm),
            blade=self.show_mm(build.blade.length_mm),
            handle=self.show_mm(build.handle.length_mm),
            width=self.show_mm(build.blade.width_mm),
            swell=self.show_mm(self.swell().at_mm),
        )
        if self.weighing is None:
            return sizes
        told = (sizes, self.mass_words(), self.balance_words(), self.sweet_words(), self.labels.units)
        return "; ".join(filter(None, told))
