"""The rules of the book in words: subjects, options, what a sign looks at, how strongly it speaks."""

from collections.abc import Iterable

from django.utils.functional import Promise
from django.utils.translation import gettext, ngettext
from django.utils.translation import gettext_lazy as _

from fitting.answers import SHOT_WEIGHTS
from fitting.facts import Kind
from fitting.questions import QUESTIONS, Question
from fitting.recommend.findings import CHOSEN, HEIGHT, MARKS, field_of
from fitting.sheets.book_rules import Condition, Sign
from orders.words.answers import ANSWERS
from orders.words.fields import VALUES
from orders.words.measures import show_body, show_length
from orders.words.questions import WORDS

Text = str | Promise

SUBJECTS: dict[str, Text] = {
    "length": _("Length"),
    "length_child": _("Between two junior sizes"),
    "sweet_spot": _("Place of the sweet spot"),
    "profile": _("Profile"),
    "edges": _("Edges"),
    "bow": _("Bow"),
    "face": _("Face"),
    "toe": _("Toe"),
    "scoop": _("Scoop at the toe"),
    "construction": _("Kind of handle"),
    "section": _("Section of the handle"),
    "toe_guard": _("Toe guard"),
    "face_film": _("Film on the face"),
    "edge_tape": _("Tape on the edges"),
    "grade": _("Grade of the willow"),
}

# Options that read otherwise beside their subject than as a value of the build sheet.
_OPTIONS: dict[tuple[str, str], Text] = {
    ("length_child", "own"): _("the size of the table"),
    ("length_child", "next"): _("the next size up"),
    ("toe_guard", "on"): _("with a guard"),
    ("toe_guard", "none"): _("no guard"),
    ("face_film", "on"): _("with a film"),
    ("face_film", "none"): _("bare and oiled"),
    ("edge_tape", "on"): _("taped"),
    ("edge_tape", "none"): _("no tape"),
    ("scoop", "none"): _("the back left whole"),
    ("bow", "none"): _("no bow"),
}

# Findings that are worked out, and choices made before, as a condition names them.
_NAMED: dict[str, Text] = {
    "player.wrist_to_height": _("your wrist, as a share of your height"),
    "player.leg_to_height": _("your inside leg, as a share of your height"),
    "wishes.gives_way_first.0": _("what gives way first"),
    "game.overs_mix.long": _("all-day cricket, as a share of what you play"),
    "game.overs_mix.fifty": _("40 to 50 overs, as a share of what you play"),
    "game.overs_mix.twenty": _("20 overs or fewer, as a share of what you play"),
    "build.child": _("a child's bat"),
}

# Values whose words in the interview say how to find out, not what was found.
_ANSWERED: dict[tuple[str, str], Text] = {
    ("player.strength", "light"): _("light"),
    ("player.strength", "average"): _("average"),
    ("player.strength", "strong"): _("strong"),
    ("hold.hands", "top"): _("near the top of the handle"),
    ("hold.hands", "middle"): _("in the middle"),
    ("hold.hands", "bottom"): _("low on the handle"),
}

KINDS: dict[Kind, Text] = {
    "practice": _("common practice of the trade, no published source"),
    "memory": _("from memory of the trade; the maker's to change"),
    "research": _("published"),
    "model": _("the program's own arithmetic"),
    "answer": _("the player's own answer"),
}

# From so many points on, in either direction.
_STRENGTHS: tuple[tuple[float, Text, Text], ...] = (
    (4.0, _("decides it, unless a wish does"), _("all but rules it out")),
    (2.0, _("speaks strongly for it"), _("speaks strongly against it")),
    (1.0, _("speaks for it"), _("speaks against it")),
    (0.0, _("speaks a little for it"), _("speaks a little against it")),
)


def say_subject(subject: str) -> str:
    """Name a subject; one without a name of its own as it stands in the book."""
    return str(SUBJECTS.get(subject, subject.replace("_", " ")))


def say_option(subject: str, option: str) -> str:
    """Name an option of a subject."""
    if subject == "grade":
        return gettext("grade %(count)s or finer") % {"count": option}
    return str(_OPTIONS.get((subject, option)) or VALUES.get(option, option.replace("_", " ")))


def say_strength(points: float) -> str:
    """Say how strongly points speak, for or against."""
    if points == 0:
        return gettext("says nothing now")
    least = next(row for row in _STRENGTHS if abs(points) >= row[0])
    return str(least[1] if points > 0 else least[2])


def say_sign(sign: Sign) -> str:
    """Say what a sign looks at: "how the ball bounces: waist or higher"; the usual choice without."""
    return say_conditions(sign.when) or gettext("with nothing said")


def say_conditions(conditions: Iterable[Condition]) -> str:
    """Say conditions that hold together."""
    return gettext("; and ").join(say_condition(condition) for condition in conditions)


def say_condition(condition: Condition) -> str:
    """Say one condition in the words of the interview."""
    answer = condition.answer
    if condition.one_of is not None:
        if answer == "build.child":
            return gettext("a child's bat") if True in condition.one_of else gettext("not a child's bat")
        words = [say_answered(answer, value) for value in condition.one_of]
        return gettext("%(answer)s: %(words)s") % {
            "answer": say_finding(answer),
            "words": gettext(" or ").join(words),
        }
    if answer.startswith("game.shots."):
        return _say_stroke(condition)
    return gettext("%(answer)s: %(range)s") % {"answer": say_finding(answer), "range": _say_range(condition)}


def say_finding(answer: str) -> str:
    """Name what a condition looks at: an answer, something worked out of one, or a choice made before."""
    if answer in _NAMED:
        return str(_NAMED[answer])
    if answer.startswith(CHOSEN):
        return gettext("chosen before, %(subject)s") % {
            "subject": say_subject(answer.removeprefix(CHOSEN)).lower()
        }
    field = field_of(answer) or answer
    return str(ANSWERS.get(answer) or ANSWERS.get(field, answer))


def say_answered(answer: str, value: str | bool | int) -> str:
    """Say one value of an answer as the interview words it."""
    if answer.startswith(CHOSEN):
        return say_option(answer.removeprefix(CHOSEN), str(value))
    if isinstance(value, bool):
        return gettext("yes") if value else gettext("no")
    if (answer, str(value)) in _ANSWERED:
        return str(_ANSWERED[answer, str(value)])
    question = question_for(answer)
    if question is not None and str(value) in WORDS[question.key].choices:
        return str(WORDS[question.key].choices[str(value)][0])
    return str(VALUES.get(str(value), str(value).replace("_", " ")))


def question_for(answer: str) -> Question | None:
    """Return the question of the interview that a condition's answer comes from, None where none asks it."""
    field = field_of(answer)
    if field is None:
        return None
    return next(
        (
            question
            for question in QUESTIONS
            if any(
                name == field or name.startswith(f"{field}.") or field.startswith(f"{name}.")
                for name in question.fields
            )
        ),
        None,
    )


def _say_stroke(condition: Condition) -> str:
    """Say what a stroke must bring: the interview ranks three, the best with the most weight."""
    stroke = say_finding(condition.answer)
    if condition.at_least is None:
        return gettext("%(stroke)s: brings hardly a run") % {"stroke": stroke}
    ranked = sum(weight >= condition.at_least for weight in SHOT_WEIGHTS)
    if ranked <= 1:
        return gettext("%(stroke)s: brings you the most") % {"stroke": stroke}
    words = ngettext("%(stroke)s: your best stroke", "%(stroke)s: among your best %(count)s strokes", ranked)
    return words % {"stroke": stroke, "count": ranked}


def _say_range(condition: Condition) -> str:
    least, below = condition.at_least, condition.below
    if least is not None and below is not None:
        return gettext("from %(least)s to below %(below)s") % {
            "least": _say_number(condition.answer, least),
            "below": _say_number(condition.answer, below),
        }
    if least is not None:
        return gettext("%(least)s or more") % {"least": _say_number(condition.answer, least)}
    return gettext("below %(below)s") % {"below": _say_number(condition.answer, below or 0.0)}


def _say_number(answer: str, value: float) -> str:
    if answer == HEIGHT:
        return gettext("%(metric)s (%(imperial)s)") % {
            "metric": show_body(value),
            "imperial": show_body(value, "imperial"),
        }
    if answer == MARKS:
        return gettext("%(length)s above the toe") % {"length": show_length(value)}
    if answer.endswith("_mm"):
        return show_length(value)
    if answer.endswith("_g"):
        return gettext("%(number)s g") % {"number": f"{value:g}"}
    if answer.endswith(("_to_height",)) or answer.startswith("game.overs_mix."):
        return gettext("%(number)s %%") % {"number": f"{100 * value:g}"}
    if answer.endswith("_years"):
        return gettext("%(number)s years") % {"number": f"{value:g}"}
    if answer.endswith("hours_a_week"):
        return gettext("%(number)s hours a week") % {"number": f"{value:g}"}
    return f"{value:g}"
