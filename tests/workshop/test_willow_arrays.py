"""Many clefts at once have the densities that each has by itself."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitting.sheets.book_bench import DEFAULT_BENCH
from workshop.willow import RawCleft, cleft_density, usual_pressing
from workshop.willow_arrays import raw_densities

CLEFTS = st.lists(
    st.builds(
        lambda length, widths, depths, density, moisture: RawCleft(
            length_mm=length,
            widths_mm=widths,
            depths_mm=depths,
            mass_g=length * widths[1] * depths[1] * density / 1e6,
            moisture_percent=moisture,
        ),
        st.floats(500, 800),
        st.tuples(*[st.floats(90, 140)] * 3),
        st.tuples(*[st.floats(50, 90)] * 3),
        st.floats(320, 520),
        st.floats(0, 45),
    ),
    min_size=1,
    max_size=5,
)


@given(CLEFTS)
def test_many_clefts_have_the_densities_of_each(clefts):
    pressing = usual_pressing(DEFAULT_BENCH)
    single = [cleft_density(cleft, pressing, DEFAULT_BENCH) for cleft in clefts]

    density, sd = raw_densities(
        np.array([cleft.length_mm for cleft in clefts]),
        np.array([cleft.widths_mm for cleft in clefts]),
        np.array([cleft.depths_mm for cleft in clefts]),
        np.array([cleft.mass_g for cleft in clefts]),
        np.array([cleft.moisture_percent for cleft in clefts]),
        DEFAULT_BENCH,
    )

    assert density == pytest.approx([one.at_12 for one in single])
    assert sd == pytest.approx([one.at_12_sd for one in single])
