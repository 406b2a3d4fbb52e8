"""What a page says once and shows twice: its title, at the head of the window and in the title block."""

from django import template
from django.utils.safestring import SafeString

register = template.Library()


@register.simple_block_tag
def kept(content: SafeString) -> SafeString:
    """Keep what is rendered between the tags under a name: ``{% kept as name %}…{% endkept %}``."""
    return content
