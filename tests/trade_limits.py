"""The trade's limits looked at on a blade, independently of what shapes it."""

import numpy as np

from fitting.bat.outline import edge, spine
from fitting.sheets.book import TradeLimits
from fitting.sheets.build_sheet import Blade, BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK


def check_trade_limits(build: BuildSheet) -> None:
    """Every depth of a bat lies in the trade's limits of the default book."""
    limits = DEFAULT_BOOK.trade_limits(build.length_code)
    blade = build.blade
    toe, top = blade.stations[0], blade.stations[-1]
    assert limits.toe_centre_least_mm <= toe.spine_mm <= limits.toe_most_mm
    assert toe.edge_mm >= limits.toe_corner_least_mm
    assert limits.spine_shoulder_least_mm <= top.spine_mm <= limits.spine_shoulder_most_mm
    assert limits.edge_shoulder_least_mm <= top.edge_mm <= limits.edge_shoulder_most_mm
    x = np.union1d(np.linspace(0, blade.length_mm, 400), [s.from_toe_mm for s in blade.stations])
    depths, edges = spine(blade, x), edge(blade, x)
    assert limits.spine_swell_least_mm <= depths.max() <= limits.spine_swell_most_mm
    # the trade's own depth on a flat face: 62 mm and the crown; the gauge itself is a row of the law check
    assert depths.max() <= DEFAULT_BOOK.gauge_depth_on_flat_face_mm + blade.face_crown_mm + 1e-9
    third = (x >= blade.length_mm / 3) & (x <= 2 * blade.length_mm / 3)
    assert edges[third].min() >= limits.edge_least_mm - 1e-9
    assert edges[third].max() <= limits.edge_most_mm + 1e-9
    tip = float(spine(blade, np.array([blade.length_mm - build.handle.splice_length_mm]))[0])
    assert limits.spine_splice_least_mm - 1e-9 <= tip <= limits.spine_splice_most_mm + 1e-9
    check_no_kink(blade, limits)
    assert limits.girth_least_mm <= build.handle.girth_mm.middle <= limits.girth_most_mm
    assert blade.bow_mm <= limits.bow_most_mm


def check_no_kink(blade: Blade, limits: TradeLimits) -> None:
    """No 25 mm of a blade's length change its depth by more than the trade takes for smooth."""
    low = np.arange(0, blade.length_mm - 25, 2.5)
    for of in (spine, edge):
        change = np.abs(of(blade, low + 25) - of(blade, low))
        gentle = low >= limits.slope_low_reach_mm
        assert change[~gentle].max() <= limits.slope_low_mm
        assert change[gentle].max() <= limits.slope_mm
