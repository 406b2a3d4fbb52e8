"""Where a commission stands, what happened to it and why something was refused, in words."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from django.utils import timezone
from django.utils.formats import date_format
from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from orders.commissions.models import Commission, JournalEntry, Proposal
from orders.commissions.refusals import Refused
from orders.commissions.states import Cause, Stage, State
from orders.words.laws import LAW_SIZES

Words = str | Promise

# Where it stands, said to the player.
STANDING: dict[str, Words] = {
    State.SENT: gettext_lazy("with the maker"),
    State.CHANGE_ASKED: gettext_lazy("with the maker again"),
    State.PROPOSED: gettext_lazy("a proposal waits for your answer"),
    State.ACCEPTED: gettext_lazy("agreed, waiting for the bench"),
    State.MAKING: gettext_lazy("being made"),
    State.READY: gettext_lazy("ready"),
    State.DELIVERED: gettext_lazy("yours"),
    State.BACK: gettext_lazy("back with the maker"),
    State.MENDING: gettext_lazy("being put right"),
    State.REFUNDED: gettext_lazy("refunded"),
    State.CANCELLED: gettext_lazy("cancelled"),
}

NEXT: dict[str, Words] = {
    State.SENT: gettext_lazy(
        "The maker reads your answers, looks at the willow and makes you a proposal: a bat, a price, dates. "
        "Until you accept one, nothing is agreed and nothing is owed."
    ),
    State.CHANGE_ASKED: gettext_lazy("The maker thinks about your change and makes you another proposal."),
    State.PROPOSED: gettext_lazy("Read the proposal below. Accept it, or ask for a change."),
    State.ACCEPTED: gettext_lazy(
        "It is in the queue for the bench. First a cleft of willow is chosen for it."
    ),
    State.MAKING: gettext_lazy("It goes through its stages one after another, then to the final inspection."),
    State.READY: gettext_lazy("The workshop sends it, or arranges with you when to fetch it."),
    State.DELIVERED: gettext_lazy("Play with it. If something is wrong with it, send it back."),
    State.BACK: gettext_lazy("The maker looks at it and decides with you what is to be done."),
    State.MENDING: gettext_lazy("It goes through the stages that it needs, then to a new final inspection."),
    State.REFUNDED: gettext_lazy("Nothing more happens to this commission."),
    State.CANCELLED: gettext_lazy("Nothing more happens to this commission."),
}

# Said honestly to the player: the day is over, and no other is made up.
LATE: Words = gettext_lazy(
    "It was promised for %(day)s and is late. Write to the workshop if you need to know more."
)

# What happened, told to anyone; ``%(stage)s`` is where the bat went.
HAPPENED: dict[str, Words] = {
    "open": gettext_lazy("the fitting was sent"),
    "propose": gettext_lazy("proposal %(proposal)s was made"),
    "withdraw": gettext_lazy("proposal %(proposal)s was taken back"),
    "lapse": gettext_lazy("proposal %(proposal)s lapsed without an answer"),
    "ask_change": gettext_lazy("a change of proposal %(proposal)s was asked for"),
    "accept": gettext_lazy("proposal %(proposal)s was accepted"),
    "start": gettext_lazy("making began"),
    "finish": gettext_lazy("the bat is ready"),
    "deliver": gettext_lazy("the bat was delivered"),
    "send_back": gettext_lazy("the bat came back"),
    "mend": gettext_lazy("it is to be put right"),
    "refund": gettext_lazy("the money is given back"),
    "find_nothing": gettext_lazy("nothing was found wrong; the bat goes to its player again"),
    "cancel": gettext_lazy("the commission was cancelled"),
    "begin": gettext_lazy("on the bench: %(stage)s"),
    "pass_on": gettext_lazy("on to %(stage)s"),
    "go_back": gettext_lazy("back to %(stage)s"),
    "pass_inspection": gettext_lazy("passed the final inspection, serial number %(serial)s"),
    "open_round": gettext_lazy("to go over the bench again"),
    "name_cleft": gettext_lazy("cleft %(cleft)s was chosen for it"),
    "fail_wood": gettext_lazy("the wood failed at the bench; another cleft is needed"),
    "tell_failed": gettext_lazy("the player was told of it"),
    "move_promise": gettext_lazy("the promised days were moved by %(days)s"),
    "ask_consent": gettext_lazy("the player was asked to accept the bat as it was built"),
    "ask_smaller": gettext_lazy("the player was asked about a smaller bat"),
    "say_yes": gettext_lazy("the player said yes"),
    "say_no": gettext_lazy("the player said no"),
}
NO_CLEFT = gettext_lazy("its cleft was taken from it again")

REFUSALS: dict[str, Words] = {
    "not_now": gettext_lazy("That cannot be done as things stand now. Look at where the commission stands."),
    "not_yours": gettext_lazy("That is for somebody else to do."),
    "moved_on": gettext_lazy("Somebody else was faster: this has changed since the page was opened."),
    "lapsed": gettext_lazy("The time to answer this proposal is over. The maker will make you another."),
    "other_snapshot": gettext_lazy(
        "The proposal has changed since you opened the page. Nothing was accepted. This is what is offered "
        "now."
    ),
    "guardian_needed": gettext_lazy(
        "The player is under 18. Only the guardian can accept, signed in with the guardian's own account."
    ),
    "breaks_the_laws": gettext_lazy("This build is outside the Laws: %(what)s."),
    "not_done": gettext_lazy("The stage still asks for something before the bat passes on."),
    "reason_needed": gettext_lazy("A reason in words is needed."),
    "cleft_is_cut": gettext_lazy(
        "The willow for this bat is already being worked. Write to the workshop to talk about it."
    ),
    "wrong_stage": gettext_lazy("The bat is not in a stage that allows it."),
    "taken_back": gettext_lazy("It is already taken back."),
    "fitting_unfinished": gettext_lazy("The fitting is not finished."),
    "consent_needed": gettext_lazy(
        "It is more off than was agreed with the player: it passes only once the player has said yes."
    ),
    "mark_needed": gettext_lazy(
        "It is outside the Laws: it passes only with the mark on the bat that it is not for play under them."
    ),
    "nothing_to_ask": gettext_lazy("There is nothing about this bat that the player would have to accept."),
    "asked_already": gettext_lazy("The player has been asked already, and the answer is awaited."),
    "answered_already": gettext_lazy("This was answered before; an answer is given once."),
    "no_longer_asked": gettext_lazy("This is no longer asked: the bat has gone on or back to the bench."),
    "length_needed": gettext_lazy("Say which bat the wood still makes."),
    "nothing_to_tell": gettext_lazy("The player has been told already."),
    "too_many_days": gettext_lazy("A promise moves by a whole number of days, from 1 to 365."),
    "too_much": gettext_lazy("No more can be given back than was agreed, and no less than something."),
}

TERMS: dict[str, Words] = {
    "made_to_measure": gettext_lazy(
        "This bat is made to your measure. Once you accept, it cannot be given back just because you think "
        "again."
    ),
    "faults_remain": gettext_lazy(
        "If it is faulty or not as agreed, your rights remain, and you can send it back here."
    ),
    "willow_varies": gettext_lazy(
        "Willow is a natural material. The forecast tells how far the mass may differ; the finished bat is "
        "inspected against what stands here."
    ),
    "until_cut": gettext_lazy("Until a cleft is cut for it, you can still cancel on your page."),
    "subject_to_willow": gettext_lazy(
        "Subject to the willow: no cleft is kept aside for it yet. If none on the rack will make this bat, "
        "the workshop tells you and either makes another proposal or cancels; then nothing is owed."
    ),
}


@dataclass(frozen=True)
class Line:
    """One line of a journal."""

    at: datetime
    words: str


def journal_line(entry: JournalEntry, *, staff: bool) -> Line:
    """Say one entry; staff also read who did it and the reasons written down."""
    filled = {
        "proposal": entry.data.get("proposal", ""),
        "serial": entry.data.get("serial", ""),
        "cleft": entry.data.get("cleft", ""),
        "days": _days(entry.data.get("days", 0)),
        "stage": _stage(entry.to_state),
    }
    said = NO_CLEFT if entry.verb == "name_cleft" and not filled["cleft"] else HAPPENED.get(entry.verb)
    words = str(said or entry.verb) % filled
    why = entry.data.get("why") or (entry.data.get("reason") if staff else "")
    if why:
        words = _("%(what)s: “%(why)s”") % {"what": words, "why": why}
    if staff and entry.by is not None:
        words = _("%(what)s (%(who)s)") % {"what": words, "who": entry.by.name or entry.by.email}
    return Line(entry.at, words[:1].upper() + words[1:])


def journal_lines(entries: Iterable[JournalEntry], *, staff: bool) -> list[Line]:
    """Say a whole journal."""
    return [journal_line(entry, staff=staff) for entry in entries]


def _days(count: int) -> str:
    return ngettext("%(count)s day", "%(count)s days", count) % {"count": count}


def _stage(value: str) -> str:
    return str(Stage(value).label) if value in Stage.values else ""


def standing(commission: Commission) -> str:
    """Say to the player where the commission stands."""
    return str(STANDING[commission.state])


def what_next(commission: Commission) -> str:
    """Say to the player what happens next."""
    return str(NEXT[commission.state])


def by_when(commission: Commission, proposal: Proposal | None, *, staff: bool = False) -> str:
    """Say by when the next thing happens, as a range; empty when nobody has promised a day."""
    if commission.state == State.PROPOSED and proposal is not None:
        words = _("The player can answer until %(day)s.") if staff else _("You can answer until %(day)s.")
        return words % {"day": last_moment(proposal.valid_until)}
    at_work = commission.state in (State.ACCEPTED, State.MAKING, State.MENDING)
    if not at_work or commission.promised_to is None:
        return ""
    if commission.promised_to < timezone.localdate():
        words = _("It was promised for %(day)s and is late.") if staff else str(LATE)
        return words % {"day": date_format(commission.promised_to)}
    return _("Ready between %(range)s.") % {
        "range": day_range(commission.promised_from, commission.promised_to)
    }


def moved_words(entry: JournalEntry | None) -> str:
    """Say that other days were promised before, and why they were moved; empty where they never were."""
    if entry is None:
        return ""
    early, late = (date.fromisoformat(day) for day in entry.data["before"])
    return _("It was promised between %(range)s; moved by %(days)s: %(why)s") % {
        "range": day_range(early, late),
        "days": _days(entry.data["days"]),
        "why": entry.data["why"],
    }


def day_range(early: date | None, late: date) -> str:
    """Say a range of days."""
    if early is None or early == late:
        return date_format(late)
    return _("%(early)s and %(late)s") % {"early": date_format(early), "late": date_format(late)}


def moment(at: datetime) -> str:
    """Say a moment in the zone in force, with the zone's name."""
    return date_format(timezone.localtime(at), "j F Y, H:i T")


def last_moment(at: datetime) -> str:
    """Say until when: the end of a day where it ends with the day, else the moment."""
    local = timezone.localtime(at)
    if local.time() != time.min:
        return moment(at)
    return _("the end of %(day)s") % {"day": date_format(local.date() - timedelta(days=1))}


def stage_words(stage: str, cause: str = Cause.MAKING) -> str:
    """Say where a bat lies."""
    if stage == Stage.WAITING and cause != Cause.MAKING:
        return _("waiting for the bench again")
    return str(Stage(stage).label)


def refusal_words(refused: Refused) -> str:
    """Say why a verb was refused."""
    words = str(REFUSALS[refused.key])
    if "%(what)s" not in words:
        return words
    broken = dict.fromkeys(str(LAW_SIZES.get(word, word)) for word in refused.what)
    return words % {"what": ", ".join(broken)}


def terms_words(terms: Iterable[str]) -> list[str]:
    """Say the conditions of a proposal in the order in which they stand in it."""
    return [str(TERMS[term]) for term in terms]


CANCELLING: dict[str, Words] = {
    "nothing_made": gettext_lazy("Nothing has been made and nothing is owed."),
    "proposal_closed": gettext_lazy("The open proposal is closed and can no longer be accepted."),
    "holds_end": gettext_lazy("Willow kept aside for it is free for others again."),
    "cleft_back": gettext_lazy("The cleft reserved for it is not cut and goes back on the rack."),
    "cleft_cut": gettext_lazy(
        "Willow has already been cut for it and cannot become another player's bat unchanged: the workshop "
        "keeps it. What is paid or owed for it is settled between workshop and player in words."
    ),
    "place_given_up": gettext_lazy(
        "Its place in the queue is given up; a new commission begins at the end of the queue."
    ),
    "no_way_back": gettext_lazy("It cannot be opened again; the history stays readable."),
}


def cancelling_words(effects: Iterable[str]) -> list[str]:
    """Say what cancelling does to willow and queue."""
    return [str(CANCELLING[effect]) for effect in effects]
