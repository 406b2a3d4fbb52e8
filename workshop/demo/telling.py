"""Carrying each commission of the demo to where the plan lets it stand."""

from collections.abc import Callable

from orders.care.delivery import How
from orders.care.models import Return
from orders.commissions.models import Bat
from orders.commissions.states import ChangeField, Stage
from workshop.demo.acts import Story
from workshop.demo.plan import End, Planned

# A little over the top girth's tolerance: such a bat passes only with a reason in writing.
GIRTH_OFF = {"girth_top": 3.4}
# More over than a proposal allows: the player is to say whether the bat may pass.
TOO_HEAVY = {"mass": 21.0}
# Back from the player for the finishing alone: days before the bench begins, and after the stage.
SHORT_ROUND = (1.0, 3.0)


def tell(planned: Planned, story: Story) -> None:
    """Tell one commission's story to its end."""
    end = planned.end
    if end == "sent":
        return
    if end == "cancelled_sent":
        story.cancel(3, by_maker=False, why="My old bat does for one more season after all.")
        return
    if planned.edited:
        story.edit(1)
    if planned.light:
        story.ask_for_light_willow(1)
    story.propose(1 if planned.edited or planned.light else 2, held=planned.held, late=planned.late)
    if end == "proposed":
        return
    if end in ANSWERS:
        ANSWERS[end](story)
        return
    bat = story.accept(3)
    if end == "cancelled_accepted":
        story.cancel(3, by_maker=False, why="We are moving away and there is no cricket there.")
    elif end == "cancelled_making":
        _split_in_the_press(story, bat)
    elif end != "accepted":
        _make(planned, story, bat)


def _ask_change(story: Story) -> None:
    words = "Could it be an ounce lighter? I like to be early on the ball. The shape is just right."
    story.ask_change(2, field=ChangeField.MASS, words=words)


ANSWERS: dict[End, Callable[[Story], None]] = {
    "lapsed": lambda story: story.lapse(),
    "withdrawn": lambda story: story.withdraw(3),
    "change_asked": _ask_change,
}


def _split_in_the_press(story: Story, bat: Bat) -> None:
    story.make(bat, upto=Stage.PRESSING)
    story.lose_cleft(bat, 1, words="Split along the grain at the second pass.")
    why = "The cleft split in the press, and the player does not want to wait for another."
    story.cancel(3, by_maker=True, why=why)


def _begins_anew(story: Story, bat: Bat) -> None:
    """The first cleft splits; the next best one is pressed in its place."""
    story.make(bat, upto=Stage.PRESSING, gaps=(1, 1))
    story.lose_cleft(bat, 1, words="Split from the toe at the second pass.", another=True)
    story.work_on_to(bat, upto=Stage.PRESSING, gaps=(1,))


def _make(planned: Planned, story: Story, bat: Bat) -> None:
    """Make the bat, as far as the plan says."""
    end = planned.end
    upto = Stage(end) if end in Stage.values else Stage.INSPECTION
    if planned.gone_back:
        story.make(bat, upto=Stage.FINISHING, gaps=(1, 1, 2, 1, 2))
        reason = "14 g over at the weighing before the oil: last cuts once more."
        story.go_back(bat, to=Stage.HANDLE_FITTING, reason=reason)
        return
    if planned.failed:
        _begins_anew(story, bat)
        return
    off = GIRTH_OFF if planned.off else TOO_HEAVY if planned.consent else None
    story.make(bat, upto=upto, off=off, cleft=planned.cleft)
    if planned.consent:
        words = "It came out heavier than we agreed; it lifts well all the same. Would you have it so?"
        story.ask_player(bat, words=words)
    if upto != Stage.INSPECTION or end == "inspection":
        return
    story.inspect(bat, 1)
    if end == "ready":
        return
    story.deliver(2, how=How.HANDED_OVER if planned.who == "the_player" else How.SENT)
    if end in CAME_BACK:
        CAME_BACK[end](story)


def _comes_back(story: Story) -> Return:
    """The bat that waits on the desk."""
    return story.send_back(
        14,
        words=(
            "It picks up more heavily than I had thought, and it goes dead when I hit it low. Knocked in as "
            "you wrote, three nets and one match."
        ),
        answers={
            "lifts": "toe_heavy",
            "dead_at": ["toe", "below"],
            "dead_from_toe_mm": 90.0,
            "knocked_in_by": "player",
            "knocked_in_hours": 4.5,
            "ball": ["old_hard", "new_hard"],
            "stored": ["cool"],
        },
    )


def _is_put_right(story: Story) -> None:
    found = story.send_back(
        14,
        words="Too heavy at the toe for me, the bottom hand has to hold it back all the time.",
        answers={
            "lifts": "toe_heavy",
            "knocked_in_by": "player",
            "knocked_in_hours": 6.0,
            "stored": ["room"],
        },
    )
    bat = story.adjust(
        found,
        3,
        keys=("lower_back_off", "edges_rounder"),
        words=(
            "You are right, it came out toe-heavy. I take 2 mm off the lower back and round the edges; the "
            "sweet spot stays. New oil, then it is weighed and timed again."
        ),
    )
    story.make(bat, upto=Stage.HANDLE_FITTING, gaps=(2, 1))


def _is_delivered_again(story: Story) -> None:
    found = story.send_back(
        14,
        words="The handle slips in my hands when it is hot, and the face still feels dead after five hours.",
        answers={
            "lifts": "right",
            "dead_at": ["middle"],
            "handle": ["too_thin", "grip"],
            "knocked_in_by": "player",
            "knocked_in_hours": 5.0,
            "ball": ["old_hard"],
            "stored": ["cool"],
        },
    )
    bat = story.adjust(
        found,
        3,
        keys=("knock_in", "second_grip"),
        words=(
            "A second grip and another hour under the mallet here. The ring is good, it only wants opening. "
            "Give it three more nets before you judge it."
        ),
    )
    story.make(bat, upto=Stage.INSPECTION, gaps=SHORT_ROUND)
    story.inspect(bat, 1)
    story.deliver(1)


def _is_refunded(story: Story) -> None:
    found = story.send_back(
        14,
        words="A crack from the toe right up past the middle, after the first match with it.",
        answers={
            "damage": ["toe_cracked", "through"],
            "knocked_in_by": "player",
            "knocked_in_hours": 6.0,
            "ball": ["new_hard"],
            "stored": ["room"],
        },
    )
    story.refund(
        found,
        4,
        words=(
            "It is cracked through, and that was a fault in the wood, not your doing. No bat comes of it any "
            "more. You have all of your money back; I should be glad to make you another."
        ),
    )


def _waits(story: Story) -> None:
    _comes_back(story)


CAME_BACK: dict[End, Callable[[Story], None]] = {
    "back": _waits,
    "mending": _is_put_right,
    "delivered_again": _is_delivered_again,
    "refunded": _is_refunded,
}
