"""A drawing printed as a PDF of its own size, and measured there in dots."""

from xml.etree import ElementTree as ET

import numpy as np
import pypdfium2
from weasyprint import HTML

DOTS_PER_MM = 20.0
POINTS_PER_MM = 72 / 25.4
STRIP_MM = 1.0


def black_run_mm(svg: str, level_mm: float) -> float:
    """Print a drawing and return how long the first black stretch is at a level below the sheet's top, mm."""
    sheet = ET.fromstring(svg)
    rules = f"@page {{ size: {sheet.get('width')} {sheet.get('height')}; margin: 0 }}"
    pdf = HTML(
        string=f"<style>{rules} body {{ margin: 0 }} svg {{ display: block }}</style>{svg}"
    ).write_pdf()
    document = pypdfium2.PdfDocument(pdf)
    assert len(document) == 1
    page = document[0]
    # Only a strip about the level is made into dots.
    above, strip = (level_mm - STRIP_MM / 2) * POINTS_PER_MM, STRIP_MM * POINTS_PER_MM
    crop = (0, page.get_height() - above - strip, 0, above)
    dots = page.render(scale=DOTS_PER_MM / POINTS_PER_MM, crop=crop, grayscale=True).to_numpy()
    row = dots.reshape(dots.shape[0], -1)[dots.shape[0] // 2]
    black = np.flatnonzero(row < 128)
    gaps = np.flatnonzero(np.diff(black) > 1)
    return float((gaps[0] + 1 if len(gaps) else len(black)) / DOTS_PER_MM)
