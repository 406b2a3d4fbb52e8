"""A build sheet as two closed bodies of triangles, and the file that carries them.

The bodies are those of the weighing: the blade with the recess of its splice and with its scoop, and the
handle as cane with splice, without binding and grip. Flat triangles lie inside a round surface and outside a
hollow one by the square of their size, so doubling the fineness takes three quarters of the error away.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import BinaryIO

import numpy as np

from fitting.bat.mesh_handle import handle_half
from fitting.bat.mesh_shell import Half, IntArray, blade_grid, shell, whole
from fitting.curve import FloatArray
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK

HEADER = b"Blade and handle of a bat; millimetres; x from the toe, y to the back, z across."

# Binary STL: little endian, one record of 50 bytes a triangle (format from memory, as in common use).
TRIANGLE = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


@dataclass(frozen=True)
class Triangles:
    """A closed body: vertices (n, 3) in mm on the bat's axes, faces (m, 3) as numbers of vertices.

    Corners turn anticlockwise seen from outside. Every edge belongs to two triangles that run along it in
    opposite ways.
    """

    vertices: FloatArray
    faces: IntArray

    @property
    def corners(self) -> FloatArray:
        """Corners of every triangle, mm, shape (m, 3, 3)."""
        return np.asarray(self.vertices[self.faces])

    @cached_property
    def _pyramids(self) -> tuple[FloatArray, FloatArray]:
        """Signed volume, mm3, and mass centre of the pyramid from the origin to each triangle."""
        a, b, c = self.corners.transpose(1, 0, 2)
        return np.einsum("ij,ij->i", a, np.cross(b, c)) / 6, (a + b + c) / 4

    @property
    def volume_mm3(self) -> float:
        """Volume within."""
        return float(np.sum(self._pyramids[0]))

    @property
    def centre_mm(self) -> FloatArray:
        """Mass centre of the body filled evenly, (x, y, z)."""
        volume, centre = self._pyramids
        return np.asarray(volume @ centre / np.sum(volume))


def mesh_bodies(
    build: BuildSheet, *, book: Book = DEFAULT_BOOK, fineness: float = 1.0
) -> dict[str, Triangles]:
    """Lay out blade and handle as closed bodies of triangles.

    Args:
        build: what is to be made.
        book: whose binding is taken off the handle's girth.
        fineness: how many times as many steps in every direction as the standard, which keeps volumes within
            0.1 % of the weighing's parts for bats within a maker's reach.

    Returns:
        ``blade`` and ``handle``, mm, vertices as exact as the file's single precision. The wedge of the
        handle stays 0.002 mm clear of its recess. The handle is one shell; only where the cane's bottom and
        the splice's end have less than a millimetre of the centre line in common (a sheet that is allowed,
        but no bat), it is two closed shells, one ending and one beginning in the plane of the shoulder.

    Raises:
        ValueError: a fineness not from 0.25 to 8.
    """
    if not 0.25 <= fineness <= 8:
        raise ValueError("fineness from 0.25 to 8")
    halves: dict[str, Half] = {
        "blade": shell(*blade_grid(build, fineness)),
        "handle": handle_half(build, book.materials, fineness),
    }
    return {name: Triangles(*whole(half)) for name, half in halves.items()}


def write_stl(bodies: Iterable[Triangles], file: BinaryIO) -> None:
    """Write bodies one after the other as one binary STL; the same bodies give the same bytes.

    The format has no room for units and names: coordinates are mm, and the header says so.

    Args:
        bodies: closed ones.
        file: open for writing bytes.
    """
    corners = np.concatenate([body.corners for body in bodies])
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normal /= np.linalg.norm(normal, axis=1, keepdims=True)
    records = np.zeros(len(corners), dtype=TRIANGLE)
    records["normal"], records["corners"] = normal, corners
    file.write(HEADER.ljust(80) + np.uint32(len(records)).astype("<u4").tobytes() + records.tobytes())
