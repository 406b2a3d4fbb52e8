"""What stands in a drawing's SVG: its words and the corners of its lines."""

import re
from xml.etree import ElementTree as ET

import numpy as np

SVG = "{http://www.w3.org/2000/svg}"


def texts(svg: str) -> list[str]:
    """Every label."""
    return ["".join(element.itertext()) for element in ET.fromstring(svg).iter(f"{SVG}text")]


def paths(svg: str, name: str) -> list[np.ndarray]:
    """The corners of every line of one class, (n, 2) in units of the drawing."""
    found = [e.get("d", "") for e in ET.fromstring(svg).iter(f"{SVG}path") if e.get("class") == name]
    return [np.array(re.findall(r"-?[\d.]+", d), dtype=float).reshape(-1, 2) for d in found]
