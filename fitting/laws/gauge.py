"""A blade through the gauge of Appendix B.8, section by section.

A bat is passed through along its length, so that the outline of every cross-section has to go through the
opening, one after the other; the bow only moves a section and does not matter. The opening is symmetric, so a
section is best held in its centre; up and down it may be held where it fits best. What is left there is the
**slack in depth**: the least distance up from the section's back to the opening's roof plus the least
distance down from its face to the arc, in mm: so much deeper could the section be and still pass. The slack
in width is the opening's width less the section's. The margin is the least of all of them, over both printed
units: negative for a section that does not go through.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from fitting.bat.outline import Curves, curves_at
from fitting.bat.sections import corner_radii_of, splice_width
from fitting.curve import FloatArray
from fitting.laws.opening import GAUGE, Dimension, GaugeOpening
from fitting.sheets.build_sheet import SCOOP_START_MM, BuildSheet

GUARD_REACH_MM = 6.0
_STEP_MM = 4.0
_SCOOP_PIECES = 24
# Points along a rounded corner: a slack there is found to within 0.01 mm at the greatest radius of a sheet.
_TURN = np.linspace(0.0, np.pi / 2, 25)
_SIN, _DROP = np.sin(_TURN), 1 - np.cos(_TURN)


@dataclass(frozen=True)
class Passage:
    """How a blade goes through: the deciding dimension, what is left there, and the tightest place."""

    dimension: Dimension
    margin_mm: float
    from_toe_mm: float


@dataclass(frozen=True)
class _Sections:
    """Points of half of every section, face and back, mm; one row a section, from the centre outwards."""

    x: FloatArray
    half: FloatArray
    face_z: FloatArray
    face_y: FloatArray
    back_z: FloatArray
    back_y: FloatArray


def through_gauge(build: BuildSheet, along: Curves | None = None) -> tuple[Passage, Passage]:
    """Pass a blade through both openings, coverings off and on; ``along`` if ``curves_along`` is known."""
    bare = _sections(build, along or curves_along(build))
    return _tightest(bare), _tightest(_covered(bare, build))


def gauge_margin(build: BuildSheet) -> float:
    """Return what is left in the gauge with coverings on, mm: coverings only ever make it tighter."""
    return _tightest(_covered(_sections(build, curves_along(build)), build)).margin_mm


def curves_along(build: BuildSheet) -> Curves:
    """Return every curve of the blade where its sections are taken."""
    return curves_at(build.blade, places_along(build))


def places_along(build: BuildSheet) -> FloatArray:
    """Return where sections are taken, mm from the toe: every 4 mm, and every place where something begins.

    Those places are the stations, the end of the toe's corners, the guard's and the shoulder's ends, and the
    scoop in pieces of its own.
    """
    blade = build.blade
    length, scoop = blade.length_mm, blade.toe.scoop
    grid = np.linspace(0.0, length, int(np.ceil(length / _STEP_MM)) + 1)
    marks = [station.from_toe_mm for station in blade.stations]
    marks += [blade.toe.corner_radius_mm, GUARD_REACH_MM, length - blade.shoulder.length_mm]
    dug = (
        SCOOP_START_MM + scoop.length_mm * np.linspace(0.0, 1.0, _SCOOP_PIECES + 1)
        if scoop is not None
        else np.zeros(0)
    )
    return np.unique(np.concatenate([grid, np.clip(marks, 0.0, length), dug]))


def _sections(build: BuildSheet, along: Curves) -> _Sections:
    """Take the sections of ``fitting.bat.sections.section_outline`` without its bow, all at once.

    The places across are those where the slack can be least: the centre line, the start of each rounded
    corner, points along it, and under a full back the one place where it runs parallel to the roof. Between
    centre and corner neither the face against the arc nor a hollow back against the roof has a least slack of
    its own: there it is concave or rises first.
    """
    x, half = along.x, along.width / 2
    spine, edge, hollow = along.spine, along.edge, along.scallop
    radius_face, radius_back = corner_radii_of(build, along, splice_width(build, x))
    width = np.where(half > 0, half, 1.0)[:, None]
    zero = np.zeros((len(x), 1))

    face_z = np.concatenate([zero, half[:, None] - radius_face[:, None] * (1 - _SIN)], axis=1)
    face_drop = np.concatenate([zero, radius_face[:, None] * _DROP], axis=1)
    face_y = build.blade.face_crown_mm * np.minimum(face_z / width, 1.0) ** 2 + face_drop

    corner_z = half[:, None] - radius_back[:, None] * (1 - _SIN)
    parallel = _parallel_to_roof(half, spine - edge, hollow, corner_z[:, 0])
    back_z = np.concatenate([zero, *parallel, corner_z], axis=1)
    back_drop = np.concatenate([zero, zero, zero, radius_back[:, None] * _DROP], axis=1)
    back_share = 1 - np.clip(back_z / width, 0.0, 1.0)
    rise = (spine - edge)[:, None] * back_share ** hollow[:, None]
    back_y = (edge - along.scoop)[:, None] + rise - back_drop
    return _Sections(x, half, face_z, face_y, back_z, back_y)


def _parallel_to_roof(
    half: FloatArray, rise: FloatArray, hollow: FloatArray, corner: FloatArray
) -> Iterator[FloatArray]:
    """Yield, for each opening, where a full back runs parallel to the roof: k (S - E) u^(k-1) / w = slope."""
    power = np.where(hollow < 1, hollow - 1, -1.0)
    for opening in GAUGE:
        slope = (opening.apex_mm - opening.side_mm) / opening.half_mm
        steep = np.where(rise > 0, rise, 1.0) * hollow
        share = np.exp(np.clip(np.log(np.maximum(slope * half / steep, 1e-9)) / power, -50.0, 0.0))
        place = half * (1 - share)
        yield np.where((hollow < 1) & (rise > 0), np.minimum(place, corner), 0.0)[:, None]


def _covered(bare: _Sections, build: BuildSheet) -> _Sections:
    """Put the coverings on: film on the face, tape on both sides, the guard all round at the toe.

    A thickness counts along the axes: the film's and the guard's along y, the tape's and the guard's along z.
    Tape that wraps round an edge adds nothing more to face and back.
    """
    film, tape, guard = (
        0.0 if covering is None else covering.thickness_mm
        for covering in (
            build.protection.face_film,
            build.protection.edge_tape,
            build.protection.toe_guard,
        )
    )
    if not (film or tape or guard):
        return bare
    toe = np.where(bare.x <= GUARD_REACH_MM, guard, 0.0)[:, None]
    # on the centre line the guard only adds to the depth
    face_z, back_z = (z + np.where(z > 0, toe, 0.0) for z in (bare.face_z, bare.back_z))
    face_y, back_y = bare.face_y - film - toe, bare.back_y + toe
    return _Sections(
        bare.x,
        bare.half + tape + toe[:, 0],
        np.concatenate([face_z, face_z[:, -1:] + tape], axis=1),
        np.concatenate([face_y, face_y[:, -1:]], axis=1),
        np.concatenate([back_z, back_z[:, -1:] + tape], axis=1),
        np.concatenate([back_y, back_y[:, -1:]], axis=1),
    )


def _tightest(sections: _Sections) -> Passage:
    passages = [one for opening in GAUGE for one in _passages(sections, opening)]
    return min(passages, key=lambda one: one.margin_mm)


def _passages(sections: _Sections, opening: GaugeOpening) -> Iterator[Passage]:
    above = np.min(opening.roof(sections.back_z) - sections.back_y, axis=1)
    below = np.min(sections.face_y - opening.floor(sections.face_z), axis=1)
    yield _passage("depth", above + below, sections.x)
    yield _passage("width", opening.width_mm - 2 * sections.half, sections.x)


def _passage(dimension: Dimension, slack: FloatArray, x: FloatArray) -> Passage:
    place = int(np.argmin(slack))
    return Passage(dimension, float(slack[place]), float(x[place]))
