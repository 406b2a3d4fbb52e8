"""Tape round an oval handle against the complete elliptic integral of the second kind.

Perimeter of an ellipse 4 a E(m), NIST Digital Library of Mathematical Functions 19.9(i), by scipy.special.
"""

import numpy as np
import pytest
from scipy.special import ellipe

from fitting.bat.sections import handle_ellipse
from tests.builds import a_build


@pytest.mark.parametrize("ratio", [1.0, 1.05, 1.2, 1.5])
def test_ellipse_has_the_girth_of_the_sheet(ratio):
    build = a_build(
        handle__oval_ratio=ratio,
        handle__section_top="oval",
        handle__girth_mm={"top": 104, "middle": 106, "bottom": 112},
    )
    x = np.array([558.0, 558 + 146.5, 851.0])
    width, depth, _ = handle_ellipse(build.handle, build.blade, x)
    assert depth / width == pytest.approx([ratio] * 3, rel=1e-12)
    perimeter = 2 * depth * ellipe(1 - (width / depth) ** 2)
    assert perimeter == pytest.approx([112, 106, 104], rel=1e-9)
