"""What is said back to an answer that does not quite go with another one; it is kept all the same."""

from django.utils.translation import gettext as _

from fitting.remarks import Remark
from fitting.units import System
from orders.words.measures import show_length
from orders.words.questions import LENGTHS


def say_remark(remark: Remark, system: System = "metric") -> str:
    """Say one remark; a length in the system in which it was typed."""
    simple = {
        "liked_too_heavy": _(
            "You would change little, and it is too heavy: so the same bat, lighter. "
            "Is that not meant? Then change one of the two."
        ),
        "liked_too_light": _(
            "You would change little, and it is too light: so the same bat, a little heavier. "
            "Is that not meant? Then change one of the two."
        ),
        "swings_alone": _(
            "Kept. Swings alone tell nothing yet: mass, length and balance are needed beside them."
        ),
        "edge_only": _(
            "A sting out at an edge says nothing of the height, so your other answers place the best spot."
        ),
    }
    if remark.key in simple:
        return simple[remark.key]
    size = LENGTHS[remark.code][0] if remark.code else ""
    return _(
        "Kept. A %(size)s is usually %(usual)s long: look at both once more, or leave it if it is right."
    ) % {"size": size, "usual": show_length(remark.usual_mm, system)}
