"""A letter as text: its template filled in, its secrets derived at the last moment."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, cast

from django.conf import settings
from django.template import Context
from django.template.backends.django import Template
from django.template.loader import get_template
from django.urls import reverse
from django.utils import timezone

from orders.messages.models import Letter
from orders.people.link_tokens import short_code_of, shown_code, token_of
from orders.people.models import Workshop


@dataclass(frozen=True)
class Text:
    """A letter's subject, one line, and its body."""

    subject: str
    body: str


def text_of(letter: Letter) -> Text:
    """Fill the letter's template in.

    The template's first line is the subject. ``site`` is the address of the site as configured,
    never as somebody's browser named it; ``workshop`` the row.
    """
    return _filled_in(letter, Workshop.objects.the_one())


def texts_of(letters: Iterable[Letter]) -> list[Text]:
    """Fill several letters in, asking for the workshop once."""
    workshop = Workshop.objects.the_one()
    return [_filled_in(letter, workshop) for letter in letters]


def _filled_in(letter: Letter, workshop: Workshop | None) -> Text:
    filled_in = {
        **letter.context,
        **_secrets(letter.context),
        "site": settings.SITE_URL,
        "workshop": workshop,
    }
    template = cast(Template, get_template(f"letters/{letter.kind}.txt"))
    with timezone.override(workshop.zone if workshop else "UTC"):
        # Plain text: an apostrophe in a name stays one.
        written = template.template.render(Context(filled_in, autoescape=False))
    subject, _, body = written.strip().partition("\n")
    return Text(" ".join(subject.split()), re.sub(r"\n{3,}", "\n\n", body.strip()) + "\n")


def _secrets(context: dict[str, Any]) -> dict[str, str]:
    """Derive the link and code that a letter carries from the seed in its row."""
    if seed := context.get("sign_in_seed"):
        path = reverse("people:open-link", args=[token_of(seed)])
        return {"link": settings.SITE_URL + path, "code": shown_code(short_code_of(seed))}
    if seed := context.get("invitation_seed"):
        return {"link": settings.SITE_URL + reverse("people:open-invitation", args=[token_of(seed)])}
    return {}
