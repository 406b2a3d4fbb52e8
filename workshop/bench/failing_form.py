"""What is asked when wood fails: cause, what becomes of it, the next cleft, and what the player is told."""

from collections.abc import Iterable, Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from orders.commissions.models import JournalEntry
from orders.commissions.promising import MOST_DAYS
from orders.messages.forms import PhotographField
from orders.messages.photographs import Picture
from orders.words.measures import show_mass
from orders.words.questions import LENGTHS
from workshop.bench.failing import Failure, Fate, Telling, needs_length
from workshop.bench.work import Work
from workshop.rack.candidates import Candidate
from workshop.rack.models import Cleft
from workshop.stock.models import Cause

MOST_WORDS = 2000
PHOTOGRAPHS = ("photo_1", "photo_2", "photo_3")


class FailedForm(forms.Form):
    """The whole page; what does not apply, or is not for a bench hand, is not asked.

    Args:
        work: the bat.
        found: the clefts that could take the place of the failed one, the best first.
        wanted: which of them the matching has for another commission, by the cleft's key.
        days: by how many days the promise is likely to move.
        failed: how the wood was given up already, where only the rest is asked.
        tells: whether this person tells the player.
    """

    cause = forms.ChoiceField(
        label=gettext_lazy("What failed?"), choices=Cause.choices, widget=forms.RadioSelect
    )
    words = forms.CharField(
        label=gettext_lazy("What is wrong with it"),
        max_length=MOST_WORDS,
        widget=forms.Textarea(attrs={"rows": 2}),
        help_text=gettext_lazy(
            "Where, how deep, when you saw it. For the workshop; the player reads the letter."
        ),
    )
    fate = forms.ChoiceField(
        label=gettext_lazy("What becomes of the wood?"), choices=Fate.choices, widget=forms.RadioSelect
    )
    length_code = forms.ChoiceField(
        label=gettext_lazy("The bat that it still makes"),
        required=False,
        help_text=gettext_lazy("Only where it lives on. This player's bat stays as it was agreed."),
    )
    photo_1 = PhotographField(label=gettext_lazy("Photograph of the fault"), required=False)
    photo_2 = PhotographField(label=gettext_lazy("Another photograph"), required=False)
    photo_3 = PhotographField(label=gettext_lazy("A third photograph"), required=False)
    shown = forms.BooleanField(label=gettext_lazy("The player may see the photographs"), required=False)
    another = forms.ChoiceField(
        label=gettext_lazy("Which cleft takes its place?"), required=False, widget=forms.RadioSelect
    )
    days = forms.IntegerField(
        label=gettext_lazy("Days by which the promise moves"),
        min_value=0,
        max_value=MOST_DAYS,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
    )
    letter = forms.CharField(
        label=gettext_lazy("Your words to the player"),
        max_length=MOST_WORDS,
        widget=forms.Textarea(attrs={"rows": 5}),
        help_text=gettext_lazy("What failed, the new cleft and the new days stand below them by themselves."),
    )
    offer_smaller = forms.BooleanField(
        label=gettext_lazy("Ask whether the player would rather have the smaller bat"), required=False
    )

    def __init__(
        self,
        *args: Any,
        work: Work,
        found: Iterable[Candidate],
        wanted: Mapping[int, str],
        days: int,
        failed: JournalEntry | None,
        tells: bool,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.work, self.clefts = work, {one.cleft.code: one for one in found}
        self._choice("length_code", [("", "—"), *((key, words) for key, (words, _note) in LENGTHS.items())])
        clefts = [(code, cleft_words(one, wanted.get(one.cleft.pk, ""))) for code, one in self.clefts.items()]
        self._choice("another", [*clefts, ("", _("none yet; it is chosen later"))])
        free = (code for code, one in self.clefts.items() if one.cleft.pk not in wanted)
        self.fields["another"].initial = next(free, next(iter(self.clefts), ""))
        self.fields["days"].initial = days
        self.fields["letter"].initial = first_words(work)
        dropped = {"cause", "words", "fate", "length_code", *PHOTOGRAPHS, "shown"} if failed else set()
        if not tells:
            dropped |= {"days", "letter", "offer_smaller"}
        if work.bat.commission.promised_to is None:
            dropped |= {"days"}
        if failed and work.bat.cleft_label:
            dropped |= {"another"}
        if failed and failed.data["fate"] != Fate.SMALLER:
            dropped |= {"offer_smaller"}
        for name in dropped:
            self.fields.pop(name, None)

    def _choice(self, name: str, choices: list[tuple[str, Any]]) -> None:
        field = self.fields[name]
        if isinstance(field, forms.ChoiceField):
            field.choices = choices

    def clean(self) -> dict[str, Any]:
        """See that wood which lives on says as what, and that a smaller bat is a smaller one."""
        found: dict[str, Any] = super().clean() or {}
        fate, code = found.get("fate", ""), found.get("length_code", "")
        if needs_length(fate) and not code and "length_code" not in self.errors:
            self.add_error("length_code", _("Say which bat the wood still makes."))
        if fate == Fate.SMALLER and code and not self._is_smaller(code):
            self.add_error(
                "length_code",
                _("%(given)s is not smaller than this bat, %(own)s.")
                % {"given": LENGTHS[code][0], "own": LENGTHS[self.work.build.length_code][0]},
            )
        if found.get("offer_smaller") and fate and fate != Fate.SMALLER:
            self.add_error("offer_smaller", _("Only wood that is kept for a smaller bat can be offered so."))
        return found

    def _is_smaller(self, code: str) -> bool:
        row = next(row for row in self.work.book.lengths if row.code == code)
        blade, handle = self.work.build.blade, self.work.build.handle
        return row.blade_mm <= blade.length_mm and row.overall_mm < blade.length_mm + handle.length_mm

    def failure(self) -> Failure:
        """Return what failed and what becomes of it."""
        said = self.cleaned_data
        fate = Fate(said["fate"])
        return Failure(
            cause=Cause(said["cause"]),
            fate=fate,
            words=said["words"],
            length_code=said["length_code"] if needs_length(fate) else "",
        )

    def telling(self) -> Telling | None:
        """Return what the player is told; None for a bench hand."""
        said = self.cleaned_data
        if "letter" not in said:
            return None
        return Telling(
            words=said["letter"], days=said.get("days") or 0, offer_smaller=said.get("offer_smaller", False)
        )

    def chosen(self) -> Cleft | None:
        """Return the cleft that takes the failed one's place, if it is chosen at once."""
        one = self.clefts.get(self.cleaned_data.get("another", ""))
        return None if one is None else one.cleft

    def pictures(self) -> list[Picture]:
        """Return the photographs that were taken."""
        found = (self.cleaned_data.get(name) for name in PHOTOGRAPHS)
        return [picture for picture in found if picture is not None]


def first_words(work: Work) -> str:
    """Return what the maker would write, to be changed as it was."""
    return _(
        "I am sorry: the willow that was to become the bat for %(player)s has failed on the bench. I do not "
        "make a bat from a piece that I do not trust, so I have given it up and begin again."
    ) % {"player": work.bat.commission.player.name}


def cleft_words(one: Candidate, wanted_for: str = "") -> str:
    """Say a cleft with what the bat would be in it, and for whom else the matching has it."""
    cleft = one.cleft
    words = [_("cleft %(label)s, grade %(grade)s") % {"label": cleft.label, "grade": cleft.grade}]
    if cleft.grains:
        words.append(ngettext("%(count)s grain", "%(count)s grains", cleft.grains) % {"count": cleft.grains})
    mass = {"mass": show_mass(one.mass_g), "spread": round(one.mass_sd_g)}
    words.append(_("as drawn %(mass)s ± %(spread)s") % mass)
    if one.in_tolerance:
        words.append(_("in tolerance"))
    else:
        off = {"off": show_mass(one.over_g)}
        words.append(_("%(off)s over") % off if one.off_target_g > 0 else _("%(off)s under") % off)
    if wanted_for:
        words.append(_("the matching has it for %(reference)s") % {"reference": wanted_for})
    return " · ".join(words)
