"""The answer of a matching as keys and numbers, for machines: the contract of ``manage.py match``."""

from typing import Any

from workshop.match.floor import Floor
from workshop.matching import Assigned, Other, Pair, Unmatched


def as_content(floor: Floor) -> dict[str, Any]:
    """Return the whole answer as JSON-like content."""
    return {
        "assigned": [_assigned(floor, one) for one in floor.answer.assigned],
        "unmatched": [_unmatched(floor, one) for one in floor.answer.unmatched],
        "total": round(floor.answer.total, 2),
        "short": [
            {
                "clefts": short.count,
                "for": [floor.bats[row].label for row in short.bats],
                "grade": short.grade,
                "raw_density_kg_m3": {
                    "min": round(short.raw_from_kg_m3),
                    "max": round(short.raw_to_kg_m3),
                },
                "length_mm": round(short.length_mm, 1),
                "width_mm": round(short.width_mm, 1),
                "depth_mm": round(short.depth_mm, 1),
            }
            for short in floor.short()
        ],
    }


def _assigned(floor: Floor, one: Assigned) -> dict[str, Any]:
    return {
        "commission": floor.bats[one.pair.bat].label,
        **_pair(floor, one.pair),
        "why": {
            "points": _points(one.pair),
            "could": one.could,
            "density_kg_m3": round(one.pair.density_kg_m3, 1),
            "density_sd_kg_m3": round(one.pair.density_sd_kg_m3, 1),
            "toe_end": one.pair.way.toe_end,
            "face_side": one.pair.way.face_side,
        },
        "second": None if one.second is None else _other(floor, one.second),
        "off_shelf": _off_shelf(floor, one.pair.bat),
        "free": None if one.free is None else _other(floor, one.free),
    }


def _unmatched(floor: Floor, one: Unmatched) -> dict[str, Any]:
    return {
        "commission": floor.bats[one.bat].label,
        "off_shelf": _off_shelf(floor, one.bat),
        "why": {
            "fails": one.fails,
            "alone": one.alone,
            "could": one.could,
            "taken": [_other(floor, other) for other in one.others],
            "no_cleft": round(one.no_cleft, 2),
        },
    }


def _off_shelf(floor: Floor, row: int) -> list[str]:
    """Finished bats without an owner that could be this one."""
    return [bat.label for bat in floor.shelf[row]]


def _other(floor: Floor, other: Other) -> dict[str, Any]:
    owner = other.taken_by
    return {
        **_pair(floor, other.pair),
        "more": round(other.more, 2),
        "taken_by": None if owner is None else floor.bats[owner].label,
    }


def _pair(floor: Floor, pair: Pair) -> dict[str, Any]:
    return {
        "cleft": floor.clefts[pair.cleft].label,
        "mass_g": round(pair.mass_g, 1),
        "mass_sd_g": round(pair.mass_sd_g, 1),
        "peak_from_toe_mm": round(pair.peak_mm, 1),
        "cost": round(pair.cost, 2),
    }


def _points(pair: Pair) -> dict[str, float]:
    """The parts that count at all."""
    return {part: round(points, 2) for part, points in pair.parts.items() if round(points, 2)}
