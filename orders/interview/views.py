"""The pages of the interview: begin, ask, save, show the bat grow."""

from collections.abc import Callable, Mapping
from functools import wraps
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from fitting.answers import AnswerFault, Boxes
from fitting.questions import CHAPTERS, FIRST_PAGE, Page, neighbours, page_at, pages
from orders.commissions.book_in_force import book_in_force
from orders.interview import drafts
from orders.interview.access import drafts_of, fitting_for, hash_of, known_browser, remember_browser
from orders.interview.asked import (
    answered_words,
    echo,
    name_of,
    page_as_shown,
    read_form,
    stale,
    summary,
    words_of,
)
from orders.interview.models import Fitting
from orders.interview.preview import example_drawing, preview_of
from orders.people.codes import CODE_LENGTH, new_code
from orders.people.doors import ANYONE, open_to
from orders.people.models import User, Workshop
from orders.people.once import once
from orders.words.measures import show_body
from orders.words.pickup import PLAIN_PLAYER
from orders.words.price_and_wait import price_and_wait
from orders.words.questions import CHAPTERS as CHAPTER_WORDS
from orders.words.questions import PAGES as PAGE_WORDS

View = Callable[..., HttpResponseBase]


def kept_from_caches(view: View) -> View:
    """Keep what a fitting says out of every cache: a draft has no session to tell that it is private."""

    @wraps(view)
    def wrapped(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        response = view(request, *args, **kwargs)
        response.headers["Cache-Control"] = "no-store, private"
        return response

    return wrapped


@require_http_methods(["GET", "HEAD"])
@open_to(ANYONE)
@kept_from_caches
def start(request: HttpRequest) -> HttpResponse:
    """Say what a fitting is and takes; offer to begin, or to go on with a draft."""
    rows = [
        {
            "fitting": fitting,
            "page": _next_open_page(fitting),
            "answered": _say_answered(len(fitting.answers)),
        }
        for fitting in drafts_of(request)
    ]
    context = {
        "drafts": rows,
        "example": example_drawing(),
        "terms": price_and_wait(Workshop.objects.the_one()),
        "example_height": show_body(PLAIN_PLAYER["height_mm"]),
        "example_age": PLAIN_PLAYER["age_years"],
    }
    return render(request, "interview/start.html", context)


def _say_answered(count: int) -> str:
    return ngettext("%(count)s answer so far", "%(count)s answers so far", count) % {"count": count}


def _next_open_page(fitting: Fitting) -> str:
    """Return the first page that has not a single answer, or the first of all."""
    for each in pages(drafts.situation(fitting)):
        if not any(question.key in fitting.answers for question in each.questions):
            return each.key
    return FIRST_PAGE


@require_POST
@open_to(ANYONE)
@kept_from_caches
@once
def begin(request: HttpRequest) -> HttpResponse:
    """Begin a fitting and go to its first page."""
    user = request.user if isinstance(request.user, User) else None
    if user is not None and not (user.is_holder or user.is_maker):
        raise Http404
    browser = known_browser(request)
    begun = drafts.begin(user=user, browser=hash_of(browser))
    response = redirect("interview:page", begun.code, FIRST_PAGE)
    if begun.browser_hash:
        remember_browser(response, browser)
    return response


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(ANYONE)
@kept_from_caches
@never_cache
def page(request: HttpRequest, code: str, page: str) -> HttpResponse:
    """Ask one page of questions, and save its answers.

    Saving is by content: the same form sent twice finds its answers there and changes nothing, so it
    needs no key against repetition.
    """
    fitting = fitting_for(request, code)
    if not fitting.is_draft:
        return redirect("interview:draft", code)
    asked = page_at(page, drafts.situation(fitting))
    if asked is None or (page != FIRST_PAGE and not drafts.is_complete(fitting)):
        return redirect("interview:page", code, FIRST_PAGE)
    if request.method == "POST":
        return _save(request, fitting, asked)
    return render(request, "interview/page.html", _page_context(fitting, asked))


def _save(request: HttpRequest, fitting: Fitting, asked: Page) -> HttpResponse:
    if "called" in request.POST:
        drafts.call(fitting, request.POST["called"])
    posted, picked = _with_reading(request.POST, asked)
    given = read_form(asked, posted)
    htmx = request.headers.get("HX-Request") == "true"
    try:
        version = int(request.POST.get("version", ""))
    except ValueError:
        version = -1
    try:
        saved = drafts.save_answers(
            fitting,
            asked.questions,
            given,
            version=version,
            window=request.POST.get("window", "")[:CODE_LENGTH],
            whole_page=not htmx and not picked,
        )
    except drafts.Elsewhere:
        return _elsewhere(request, fitting, asked, given)
    if htmx:
        return _saved_quietly(request, saved, asked, given)
    if saved.faults:
        context = _page_context(saved.fitting, asked, typed=given, faults=saved.faults)
        return render(request, "interview/page.html", context, status=422)
    if picked:
        return redirect(f"{reverse('interview:page', args=[fitting.code, asked.key])}#{picked}")
    if request.POST.get("then") == "draft":
        return redirect("interview:draft", fitting.code)
    following = neighbours(asked.key, drafts.situation(saved.fitting))[1]
    if following is None:
        return redirect("interview:draft", fitting.code)
    return redirect("interview:page", fitting.code, following)


def _with_reading(posted: QueryDict, asked: Page) -> tuple[QueryDict, str]:
    """Put the reading that was picked of a doubtful text into its box; return the box's name too."""
    name, _equals, text = posted.get("reading", "").partition("=")
    names = {name_of(question, part.key) for question in asked.questions for part in question.parts}
    if name not in names:
        return posted, ""
    changed = posted.copy()
    changed[name] = text
    return changed, name


def _saved_quietly(
    request: HttpRequest, saved: drafts.Saved, asked: Page, given: Mapping[str, Boxes]
) -> HttpResponse:
    """Answer an answer that htmx sent: the bat, and around the boxes what was understood or is wrong."""
    context = _page_context(saved.fitting, asked, typed=given, faults=saved.faults)
    context["said"] = _("Not kept yet: something needs another look") if saved.faults else _("Kept")
    return render(request, "interview/page.html#bat-so-far", context | {"after_save": True})


def _page_context(
    fitting: Fitting,
    asked: Page,
    *,
    typed: Mapping[str, Boxes] | None = None,
    faults: tuple[AnswerFault, ...] = (),
) -> dict[str, Any]:
    situation = drafts.situation(fitting)
    keys = [each.key for each in pages(situation)]
    questions = page_as_shown(asked, fitting.answers, book_in_force(), typed=typed, faults=faults)
    before = neighbours(asked.key, situation)[0] if asked.key in keys else None
    at = keys.index(asked.key) + 1 if asked.key in keys else 1
    return {
        "fitting": fitting,
        "page": asked,
        "title": PAGE_WORDS[asked.key],
        "at": at,
        "of": len(keys),
        "is_last": at == len(keys),
        "before": before,
        "chapters": chapters(fitting, asked.key),
        "questions": questions,
        "faults": summary(questions),
        "preview": preview_of(fitting),
        "understood_before": _understood_on(before, fitting),
        "asked_back": asked_back(fitting, besides=asked.key),
        "at_counter": fitting.begun_by_id is not None,
        "asks_called": fitting.begun_by_id is not None and not fitting.holder_id and asked.key == FIRST_PAGE,
        "window": new_code(),
    }


def _understood_on(key: str | None, fitting: Fitting) -> list[dict[str, Any]]:
    """Return what was understood of the measures of the page before, for who has no JavaScript."""
    before = page_at(key, drafts.situation(fitting)) if key else None
    rows = []
    for question in before.questions if before else ():
        words = echo(question, fitting.answers.get(question.key, {}), fitting.answers)
        if words:
            rows.append({"ask": words_of(question, fitting.answers).ask, "words": words})
    return rows


def asked_back(fitting: Fitting, *, besides: str = "") -> list[dict[str, Any]]:
    """Return the other pages with an answer that was kept and no longer goes with a later one."""
    return [
        {"page": each.key, "words": PAGE_WORDS[each.key]}
        for each in pages(drafts.situation(fitting))
        if each.key != besides and stale(each, fitting.answers)
    ]


def chapters(fitting: Fitting, here: str = "") -> list[dict[str, Any]]:
    """Return the chapters that apply, each with its first page and how it stands."""
    situation = drafts.situation(fitting)
    ready = drafts.is_complete(fitting)
    found: dict[str, dict[str, Any]] = {}
    for each in pages(situation):
        row = found.setdefault(
            each.chapter,
            {
                "key": each.chapter,
                "words": CHAPTER_WORDS[each.chapter],
                "page": each.key,
                "is_here": False,
                "is_open": ready or each.key == FIRST_PAGE,
            },
        )
        row["is_here"] = row["is_here"] or each.key == here
    return [found[chapter] for chapter in CHAPTERS if chapter in found]


def _elsewhere(
    request: HttpRequest, fitting: Fitting, asked: Page, given: Mapping[str, Boxes]
) -> HttpResponse:
    """Show both: what was saved in the other place, and what stands in this form."""
    fresh = Fitting.objects.get(pk=fitting.pk)
    rows = []
    for question in asked.questions:
        theirs: Boxes = fresh.answers.get(question.key, {})
        yours = {key: text for key, text in given.get(question.key, {}).items() if text}
        rows.append(
            {
                "ask": words_of(question, fresh.answers).ask,
                "theirs": answered_words(question, theirs, fresh.answers),
                "yours": answered_words(
                    question, _known(question.choices, yours), {**fresh.answers, **given}
                ),
                "differs": yours != theirs,
            }
        )
    hidden = [
        (name, value)
        for name, values in request.POST.lists()
        for value in values
        if name not in {"version", "csrfmiddlewaretoken"}
    ]
    context = {"fitting": fresh, "page": asked, "rows": rows, "hidden": hidden}
    response = render(request, "interview/elsewhere.html", context, status=409)
    if request.headers.get("HX-Request") == "true":
        # htmx leaves a page alone on 409; it is told to show this one as a whole.
        response.status_code = 200
        response["HX-Retarget"], response["HX-Reselect"] = "main", "main"
        response["HX-Reswap"] = "outerHTML"
    return response


def _known(choices: tuple[str, ...], boxes: Boxes) -> Boxes:
    """Leave out chosen words that are no choice, which only a tampered form holds."""
    if not choices:
        return boxes
    allowed = {*choices, "unsure"}
    return {
        key: [word for word in value if word in allowed] if isinstance(value, list) else value
        for key, value in boxes.items()
        if isinstance(value, list) or value in allowed
    }


@require_http_methods(["GET", "HEAD"])
@open_to(ANYONE)
@kept_from_caches
def preview(request: HttpRequest, code: str) -> HttpResponse:
    """Show the bat as far as it is known, alone."""
    fitting = fitting_for(request, code)
    context = {"fitting": fitting, "preview": preview_of(fitting)}
    return render(request, "interview/page.html#bat-so-far", context)
