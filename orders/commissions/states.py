"""Where a commission, a proposal and a bat can stand; the moves between: transitions.py, stages.py."""

from django.db import models
from django.utils.translation import gettext_lazy as _


class State(models.TextChoices):
    """Where a commission stands."""

    SENT = "sent", _("sent")
    CHANGE_ASKED = "change_asked", _("change asked for")
    PROPOSED = "proposed", _("proposed")
    ACCEPTED = "accepted", _("accepted")
    MAKING = "making", _("being made")
    READY = "ready", _("ready")
    DELIVERED = "delivered", _("delivered")
    BACK = "back", _("came back")
    MENDING = "mending", _("being put right")
    REFUNDED = "refunded", _("refunded")
    CANCELLED = "cancelled", _("cancelled")


class ProposalState(models.TextChoices):
    """What became of a proposal."""

    OPEN = "open", _("open")
    ACCEPTED = "accepted", _("accepted")
    CHANGE_ASKED = "change_asked", _("change asked for")
    LAPSED = "lapsed", _("lapsed")
    WITHDRAWN = "withdrawn", _("withdrawn")
    CLOSED = "closed", _("closed with the commission")


class Origin(models.TextChoices):
    """How a build sheet came to be."""

    RECOMMENDED = "recommended", _("recommended")
    EDITED = "edited", _("edited")
    RE_SHAPED = "re_shaped", _("re-shaped for a cleft")
    AS_BUILT = "as_built", _("as built")
    ADJUSTED = "adjusted", _("adjusted")


class Stage(models.TextChoices):
    """Where a bat is on its way over the bench."""

    WAITING = "waiting", _("waiting for the bench")
    CLEFT_SELECTION = "cleft_selection", _("cleft selection")
    PRESSING = "pressing", _("pressing")
    SHAPING = "shaping", _("shaping")
    HANDLE_FITTING = "handle_fitting", _("handle fitting")
    FINISHING = "finishing", _("finishing")
    INSPECTION = "inspection", _("final inspection")
    DONE = "done", _("done")


# The five stages in which a bat is worked on, in their order.
BENCH_STAGES: tuple[Stage, ...] = (
    Stage.CLEFT_SELECTION,
    Stage.PRESSING,
    Stage.SHAPING,
    Stage.HANDLE_FITTING,
    Stage.FINISHING,
)


class Cause(models.TextChoices):
    """Why a bat goes over the bench."""

    MAKING = "making", _("making")
    ADJUSTMENT = "adjustment", _("adjustment")
    REBUILD = "rebuild", _("rebuild")


class Unit(models.TextChoices):
    """The unit of a reading; the stored integer is a tenth of it, but for a count."""

    MM = "mm", _("mm")
    G = "g", _("g")
    PERCENT = "percent", _("%")
    COUNT = "count", _("pieces")
    DEGREES = "degrees", _("°")
    SECONDS = "seconds", _("s")


class About(models.TextChoices):
    """What a player is asked about a bat that is being made."""

    AS_BUILT = "as_built", _("the bat as it was built")
    SMALLER_BAT = "smaller_bat", _("a smaller bat")


class Answer(models.TextChoices):
    """What the player says to it."""

    YES = "yes", _("yes")
    NO = "no", _("no")


class ChangeField(models.TextChoices):
    """What a player wants changed in a proposal."""

    MASS = "mass", _("the mass")
    PICKUP = "pickup", _("how heavy it feels to lift")
    LENGTH = "length", _("the length")
    SHAPE = "shape", _("the shape of the blade")
    SWEET_SPOT = "sweet_spot", _("where the sweet spot lies")
    HANDLE = "handle", _("the handle")
    LOOKS = "looks", _("the looks of the willow")
    PRICE = "price", _("the price")
    DATE = "date", _("the date")
    OTHER = "other", _("something else")
