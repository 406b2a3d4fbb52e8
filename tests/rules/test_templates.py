"""What a strict content policy and a translator need of every template."""

import re

import pytest

from tests.rules.source import shown, sources

FORBIDDEN = {
    "style attribute": re.compile(r"<[^>]*\sstyle\s*=", re.IGNORECASE),
    "event attribute": re.compile(r"<[^>]*\son[a-z]+\s*=", re.IGNORECASE),
    "htmx event attribute": re.compile(r"\shx-on[:\w-]*\s*=", re.IGNORECASE),
    "script in the page": re.compile(r"<script(?![^>]*\bsrc=)(?![^>]*application/json)[^>]*>", re.IGNORECASE),
    "style in the page": re.compile(r"<style\b", re.IGNORECASE),
    "javascript address": re.compile(r"""["']\s*javascript:""", re.IGNORECASE),
    "foreign address": re.compile(r"""\b(?:src|href|action)\s*=\s*["']?(?:https?:)?//""", re.IGNORECASE),
    "escaping switched off": re.compile(r"\|\s*safe\b|autoescape\s+off"),
    "attribute without quotes": re.compile(r"<[^>{]*\s[\w-]+=\{\{"),
}


def faults(text):
    text = re.sub(r"\{#.*?#\}", "", text)
    return [name for name, pattern in FORBIDDEN.items() if pattern.search(text)]


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ('<p class="a" style="color: red">', "style attribute"),
        ('<body onload="go()">', "event attribute"),
        ('<p hx-on:click="go()">', "htmx event attribute"),
        ("<script>go()</script>", "script in the page"),
        ("<style>p {}</style>", "style in the page"),
        ('<a href="javascript:go()">', "javascript address"),
        ('<img src="https://elsewhere.example/a.png">', "foreign address"),
        ("{{ name|safe }}", "escaping switched off"),
        ("<input value={{ typed }}>", "attribute without quotes"),
    ],
)
def test_faults_are_noticed(text, fault):
    assert fault in faults(text)


def test_templates_have_no_faults():
    paths = sources("templates", suffix=".html")
    assert paths
    assert not {shown(path): found for path in paths if (found := faults(path.read_text()))}


def bare_words(text):
    """Words between tags that no translator would ever see; the program's own name is the same everywhere."""
    text = text.replace("Willow Bench", "")
    for pattern in (
        r"\{#.*?#\}",
        r"\{%\s*comment.*?endcomment\s*%\}",
        r"\{%\s*blocktrans(?:late)?\b.*?endblocktrans(?:late)?\s*%\}",
        r"\{%\s*block page_class\s*%\}.*?endblock\s*%\}",
        r"\{%.*?%\}",
        r"\{\{.*?\}\}",
        r"<(script|title\s+lang)\b.*?</\1>",
        r"<!--.*?-->",
        r"<[^>]*>",
        r"&\w+;",
    ):
        text = re.sub(pattern, " ", text, flags=re.DOTALL)
    return [word for word in re.findall(r"[^\W\d_]{3,}", text) if word.islower() or word.istitle()]


def test_bare_words_are_noticed():
    assert bare_words("<p>{% translate 'Known' %} Unknown <b>words</b></p>") == ["Unknown", "words"]
    assert not bare_words('<p title="x">{% translate "Known" %} {{ name }} mm &middot;</p>')


@pytest.mark.parametrize("suffix", [".html", ".txt"])
def test_every_word_of_a_template_can_be_translated(suffix):
    paths = sources("templates", suffix=suffix)
    assert paths
    assert not {shown(path): found for path in paths if (found := bare_words(path.read_text()))}
