"""Tags for forms: ``{% load people_forms %}``."""

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from orders.people.once import FIELD, new_key

register = template.Library()


@register.simple_tag
def once() -> SafeString:
    """Write the hidden key that lets this form count once; it stands beside the csrf token."""
    return format_html('<input type="hidden" name="{}" value="{}">', FIELD, new_key())
