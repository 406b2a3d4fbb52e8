"""What a mesh is told as: its bodies with volume, mass centre and number of triangles."""

from collections.abc import Mapping

from django.utils.translation import gettext as _

from fitting.bat.mesh import Triangles
from orders.words.measures import show_decimals, show_length


def report_mesh(bodies: Mapping[str, Triangles], file: str) -> str:
    """Report a mesh, one line a body, and where it was written."""
    names = {"blade": _("blade"), "handle": _("handle")}
    lines = []
    for name, body in bodies.items():
        row = {
            "name": names[name],
            "volume": show_decimals(body.volume_mm3 / 1000, 1),
            "centre": show_length(float(body.centre_mm[0]), decimals=1),
            "count": len(body.faces),
        }
        lines.append(
            _("%(name)-8s %(volume)8s cm³   centre %(centre)10s from the toe   %(count)6d triangles") % row
        )
    lines.append(_("written to %(file)s, in millimetres, x from the toe") % {"file": file})
    return "\n".join(lines)
