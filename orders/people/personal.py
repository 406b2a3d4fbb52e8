"""What is kept about people: each field with what for, where it is used, and how long.

Every text, date, JSON and file field of the models of ``orders`` stands either in ``PERSONAL`` or in
``NOT_PERSONAL``; a test holds both against the models (GDPR, articles 5(1)(c) and 25: no field without
a purpose). The rooms above keep a registry of their own in the same form.
"""

from dataclasses import dataclass
from enum import StrEnum


class Kept(StrEnum):
    """How long a field is kept."""

    ACCOUNT = "as long as the account"
    DRAFT = "until the fitting is sent or given up"
    COMMISSION = "as long as the commission and the bat's record"
    LETTER = "as long as the letters of a commission"
    SIGN_IN = "two days after the link is over; deleted by tidying.tidy"
    INVITATION = "thirty days after the invitation is over; deleted by tidying.tidy"


@dataclass(frozen=True)
class Personal:
    """Why a field about a person is kept."""

    purpose: str
    used_by: str
    kept: Kept


PERSONAL: dict[str, Personal] = {
    "people.User.email": Personal("to sign in and to be written to", "sign-in, letters", Kept.ACCOUNT),
    "people.User.name": Personal("to be addressed", "letters, the maker's pages", Kept.ACCOUNT),
    "people.User.password": Personal("to sign in (staff), hashed", "sign-in", Kept.ACCOUNT),
    "people.User.role": Personal("to know who may do what", "doors", Kept.ACCOUNT),
    "people.Player.name": Personal(
        "to know whose bat it is", "job card, bat record, search", Kept.COMMISSION
    ),
    "people.Player.born": Personal(
        "to know whether a guardian must agree", "sending a fitting, accepting", Kept.ACCOUNT
    ),
    "people.Player.relation": Personal(
        "how the guardian is related to the child", "sending a fitting, accepting", Kept.ACCOUNT
    ),
    "people.SignInLink.email": Personal("where the sign-in letter goes", "sign-in", Kept.SIGN_IN),
    "people.SignInLink.next_path": Personal("where the person was heading", "sign-in", Kept.SIGN_IN),
    "people.StaffInvitation.email": Personal("whom the maker invites", "invitation", Kept.INVITATION),
    "people.StaffInvitation.name": Personal(
        "to address whom the maker invites", "invitation", Kept.INVITATION
    ),
    "interview.Fitting.called": Personal(
        "to find a fitting begun at the counter again", "list of drafts", Kept.DRAFT
    ),
    "interview.Fitting.waiting_for": Personal("to go on with the fitting later", "sign-in", Kept.DRAFT),
    "interview.Fitting.answers": Personal(
        "body, play and wishes as typed: what the bat is fitted to", "recommendation, review", Kept.COMMISSION
    ),
    "interview.Fitting.sheet": Personal("the same as a fitting sheet", "recommendation", Kept.COMMISSION),
    "interview.Fitting.sheet_before": Personal(
        "the sheet before the last answer, to show what it moved", "the fitting", Kept.DRAFT
    ),
    "commissions.Commission.sheet": Personal(
        "the fitting sheet as sent", "review, recommendation", Kept.COMMISSION
    ),
    "commissions.Commission.search_text": Personal("to find a commission by name", "search", Kept.COMMISSION),
    "commissions.Commission.cancelled_why": Personal(
        "why it was cancelled, in words", "review", Kept.COMMISSION
    ),
    "commissions.BuildVersion.note": Personal("the maker's note on a version", "review", Kept.COMMISSION),
    "commissions.BuildVersion.reasons": Personal(
        "reasons of the recommendation, made from the answers", "draft, review", Kept.COMMISSION
    ),
    "commissions.Proposal.words": Personal("the maker's words to the player", "proposal", Kept.COMMISSION),
    "commissions.Proposal.snapshot": Personal(
        "exactly what was offered", "proposal, bat record", Kept.COMMISSION
    ),
    "commissions.Proposal.change_words": Personal("what the player wants changed", "review", Kept.COMMISSION),
    "commissions.Round.words": Personal("why the bat is worked on again", "bench", Kept.COMMISSION),
    "commissions.Inspection.reason": Personal(
        "why a bat out of tolerance was passed", "record", Kept.COMMISSION
    ),
    "commissions.Consent.words": Personal(
        "what the maker asks the player about the bat", "commission, bench", Kept.COMMISSION
    ),
    "commissions.Consent.answer_words": Personal(
        "the player's words to the answer", "bench, bat record", Kept.COMMISSION
    ),
    "commissions.JournalEntry.data": Personal("what was done, with its words", "history", Kept.COMMISSION),
    "letters.Letter.to": Personal("where the letter goes", "worker", Kept.LETTER),
    "letters.Letter.context": Personal("what the letter says", "worker", Kept.LETTER),
    "letters.Photo.file": Personal(
        "a picture of the bat; no faces are asked for", "commission", Kept.COMMISSION
    ),
    "letters.Photo.caption": Personal("what the picture shows", "commission", Kept.COMMISSION),
    "care.Return.words": Personal(
        "what is wrong with the bat, in the player's words", "returns", Kept.COMMISSION
    ),
    "care.Return.answers": Personal("where the bat hurts or fails, as asked", "returns", Kept.COMMISSION),
    "care.Return.decision_words": Personal("the maker's answer", "returns", Kept.COMMISSION),
}

NOT_PERSONAL: dict[str, frozenset[str]] = {
    "people.User": frozenset({"session_stamp"}),
    "people.Player": frozenset({"code"}),
    "people.Workshop": frozenset({"name", "place", "country", "email", "currency", "zone"}),
    "people.SignInLink": frozenset({"seed", "token_hash", "code_hash", "browser_hash"}),
    "people.StaffInvitation": frozenset({"code", "role", "seed", "token_hash"}),
    "people.RateBucket": frozenset({"key"}),
    "people.OneTimeKey": frozenset({"key", "said", "location"}),
    "interview.Fitting": frozenset({"code", "browser_hash", "saved_in", "state"}),
    "interview.SharedDraft": frozenset({"token_hash"}),
    "commissions.BookVersion": frozenset({"content", "hash", "note"}),
    "commissions.Commission": frozenset({"code", "state", "promised_from", "promised_to"}),
    "commissions.BuildVersion": frozenset({"origin", "build", "weighing", "book_hash", "model_version"}),
    "commissions.Proposal": frozenset(
        {"code", "currency", "tax", "ready_from", "ready_to", "state", "snapshot_hash", "change_field"}
    ),
    "commissions.Bat": frozenset({"code", "stage", "serial", "cleft_label"}),
    "commissions.Round": frozenset({"cause", "stages"}),
    "commissions.StepDone": frozenset({"stage", "step"}),
    "commissions.Reading": frozenset({"stage", "key", "unit"}),
    "commissions.Inspection": frozenset({"rows"}),
    "commissions.Consent": frozenset({"code", "about", "rows", "length_code", "answer"}),
    "commissions.JournalEntry": frozenset({"verb", "from_state", "to_state"}),
    "letters.Letter": frozenset({"kind", "message_id", "state", "fault", "commission_code"}),
    "letters.Photo": frozenset({"code", "stage"}),
    "care.Return": frozenset({"code", "state", "decision", "stages"}),
}
