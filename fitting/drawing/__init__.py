"""The bat as drawn from its build sheet: views and sections on one axis, as SVG."""

from fitting.drawing.bat_drawing import bat_small, draw_bat
from fitting.drawing.labels import DrawingLabels

__all__ = ["DrawingLabels", "bat_small", "draw_bat"]
