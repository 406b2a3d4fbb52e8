"""A photograph in a form, its refusals worded at the field."""

from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from orders.messages.models import Photo
from orders.messages.photographs import (
    ACCEPT,
    PhotographRefused,
    Picture,
    keep_picture,
    read_photograph,
)


def refusal(refused: PhotographRefused) -> str:
    """Say why a photograph was not taken, what was given and what is allowed."""
    if refused.why == "too_big":
        return _("This file has %(given).1f MB; a photograph may have %(allowed)d MB.") % {
            "given": refused.given / 1024**2,
            "allowed": refused.allowed / 1024**2,
        }
    if refused.why == "too_many_pixels":
        return _("This picture has more than the %(allowed)d million points that a photograph may have.") % {
            "allowed": refused.allowed / 1e6
        }
    if refused.why == "too_small":
        return _("This picture is %(given)d points across; at least %(allowed)d are needed.") % {
            "given": refused.given,
            "allowed": refused.allowed,
        }
    if refused.why == "too_many":
        return _("%(allowed)d photographs are kept with a commission, and they are all there.") % {
            "allowed": refused.allowed
        }
    if refused.why == "too_often":
        return _("You have sent very many photographs within the hour. Send this one later.")
    return _("This file is no photograph that can be read. JPEG, PNG, WebP and HEIC are taken.")


class PhotographField(forms.FileField):
    """A file that becomes a ``Picture``."""

    widget = forms.FileInput(attrs={"accept": ACCEPT})
    default_error_messages = {
        "required": gettext_lazy("Choose a photograph."),
        "empty": gettext_lazy("This file is empty. Choose a photograph."),
    }

    def clean(self, data: Any, initial: Any = None) -> Picture | None:
        """Judge the file and write its picture anew."""
        upload = super().clean(data, initial)
        if not isinstance(upload, UploadedFile):
            return None
        try:
            return read_photograph(upload)
        except PhotographRefused as refused:
            raise forms.ValidationError(refusal(refused)) from None


class PhotographForm(forms.Form):
    """One photograph with a line about it; the form tag needs ``enctype="multipart/form-data"``."""

    photograph = PhotographField(
        label=gettext_lazy("Photograph"),
        help_text=gettext_lazy("JPEG, PNG, WebP or HEIC, up to 10 MB. No faces are needed."),
    )
    caption = forms.CharField(label=gettext_lazy("What it shows"), max_length=200, required=False)

    def keep(self, **about: Any) -> Photo | None:
        """Keep the photograph, or add a fault to the field and return None; as ``keep_picture``."""
        try:
            return keep_picture(
                self.cleaned_data["photograph"], caption=self.cleaned_data["caption"], **about
            )
        except PhotographRefused as refused:
            self.add_error("photograph", refusal(refused))
            return None
