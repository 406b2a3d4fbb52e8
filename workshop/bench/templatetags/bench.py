"""What the head of every bench page needs: whose bat, said shortly, and what place this tablet stands at."""

from typing import Any

from django import template

from workshop.bench.place import place_words

register = template.Library()


@register.filter
def first_name(name: str) -> str:
    """Return the first word of a name: enough to know a bat by."""
    return name.split()[0] if name.split() else ""


@register.simple_tag(takes_context=True)
def tablet_place(context: dict[str, Any]) -> dict[str, str]:
    """Return the stage that this tablet was told it stands at: its key and words, empty where it was not."""
    request = context.get("request")
    return place_words(request.session) if request is not None else {}
