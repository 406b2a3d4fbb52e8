"""Every address by every role on a real record: whose it is, who is sent to sign in, who finds nothing."""

import pytest
from django.db import transaction
from django.test import Client

from orders.commissions.models import Consent
from orders.commissions.states import Stage
from orders.messages.models import Letter, LetterState
from orders.people.once import new_key
from tests.journeys.world import build_world
from tests.rules.test_addresses import ADDRESSES

COLUMNS = ("anyone", "player", "other player", "guardian", "maker", "bench hand")
# Of each address the page as it is asked for, then the form sent with nothing but its key; the record is the
# player's. "in" is sent to sign in, 404 finds nothing, 405 is the wrong method whoever calls; every other
# answer means that the door was open (200; 302 done or led on; 409, 422 something in the form; 410 no token).
MATRIX = {
    "health/": ("200 200 200 200 200 200", "405 405 405 405 405 405"),
    "": ("200 200 200 200 302 302", "405 405 405 405 405 405"),
    "sign-in/": ("200 200 200 200 200 200", "422 422 422 422 422 422"),
    "sign-in/letter/": ("200 200 200 200 200 200", "422 422 422 422 422 422"),
    "sign-in/link/": ("410 410 410 410 410 410", "410 410 410 410 410 410"),
    "sign-in/link/<str:token>/": ("302 302 302 302 302 302", "405 405 405 405 405 405"),
    "sign-in/workshop/": ("200 200 200 200 200 200", "422 422 422 422 422 422"),
    "sign-out/": ("in 405 405 405 405 405", "in 302 302 302 302 302"),
    "sign-out/everywhere/": ("in 405 405 405 405 405", "in 302 302 302 302 302"),
    "account/": ("in 200 200 200 200 200", "in 422 422 422 422 422"),
    "open/": ("404 404 404 404 404 404", "404 404 404 404 404 404"),
    "invitation/": ("410 410 410 410 410 410", "410 410 410 410 410 410"),
    "invitation/<str:token>/": ("302 302 302 302 302 302", "405 405 405 405 405 405"),
    "mail/": ("404 404 404 404 404 404", "405 405 405 405 405 405"),
    "photographs/<str:code>/": ("in 200 404 404 200 200", "in 405 405 405 405 405"),
    "fitting/": ("200 200 200 200 200 200", "405 405 405 405 405 405"),
    "fitting/begin/": ("405 405 405 405 405 405", "302 302 302 302 302 404"),
    "fitting/<str:code>/preview/": ("404 200 404 404 404 404", "405 405 405 405 405 405"),
    "fitting/<str:code>/besides/": ("404 200 404 404 404 404", "405 405 405 405 405 405"),
    "fitting/<str:code>/draft/": ("404 200 404 404 404 404", "405 405 405 405 405 405"),
    "fitting/<str:code>/keep/": ("404 302 404 404 404 404", "404 302 404 404 404 404"),
    "fitting/<str:code>/who/": ("in 200 404 404 404 404", "in 422 404 404 404 404"),
    "fitting/<str:code>/send/": ("in 405 405 405 405 405", "in 302 404 404 404 404"),
    "fitting/<str:code>/share/": ("404 200 404 404 404 404", "404 200 404 404 404 404"),
    "fitting/<str:code>/share/end/": ("405 405 405 405 405 405", "404 302 404 404 404 404"),
    "shared/<str:token>/": ("404 404 404 404 404 404", "405 405 405 405 405 405"),
    "fitting/<str:code>/<slug:page>/": ("404 200 404 404 404 404", "404 409 404 404 404 404"),
    "rules/": ("200 200 200 200 200 200", "405 405 405 405 405 405"),
    "rules/<slug:subject>/": ("200 200 200 200 200 200", "405 405 405 405 405 405"),
    "my/": ("in 200 200 200 404 404", "in 405 405 405 405 405"),
    "commissions/<str:code>/": ("in 200 404 404 404 404", "in 405 405 405 405 405"),
    "commissions/<str:code>/accept/": ("in 405 405 405 405 405", "in 409 404 404 404 404"),
    "commissions/<str:code>/ask-change/": ("in 200 404 404 404 404", "in 422 404 404 404 404"),
    "commissions/<str:code>/answer/": ("in 405 405 405 405 405", "in 422 404 404 404 404"),
    "commissions/<str:code>/cancel/": ("in 200 404 404 404 404", "in 302 404 404 404 404"),
    "commissions/<str:code>/record/": ("in 200 404 404 200 200", "in 405 405 405 405 405"),
    "commissions/<str:code>/record.pdf": ("in 200 404 404 200 200", "in 405 405 405 405 405"),
    "commissions/<str:code>/care/": ("in 200 404 404 200 200", "in 405 405 405 405 405"),
    "commissions/<str:code>/send-back/": ("in 200 404 404 200 404", "in 422 404 404 422 404"),
    "floor/": ("in 404 404 404 200 404", "in 405 405 405 405 405"),
    "floor/search/": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/commissions/<str:code>/": ("in 404 404 404 200 404", "in 405 405 405 405 405"),
    "floor/commissions/<str:code>/alternatives/": ("in 404 404 404 200 404", "in 405 405 405 405 405"),
    "floor/commissions/<str:code>/edit/": ("in 404 404 404 200 404", "in 404 404 404 422 404"),
    "floor/commissions/<str:code>/weigh/": ("in 405 405 405 405 405", "in 404 404 404 200 404"),
    "floor/commissions/<str:code>/propose/": ("in 404 404 404 200 404", "in 404 404 404 422 404"),
    "floor/commissions/<str:code>/withdraw/": ("in 405 405 405 405 405", "in 404 404 404 302 404"),
    "floor/commissions/<str:code>/cancel/": ("in 404 404 404 200 404", "in 404 404 404 422 404"),
    "floor/returns/": ("in 404 404 404 200 404", "in 405 405 405 405 405"),
    "floor/returns/<str:code>/": ("in 404 404 404 200 404", "in 404 404 404 422 404"),
    "floor/returns/<str:code>/look/": ("in 405 405 405 405 405", "in 404 404 404 200 404"),
    "floor/commissions/<str:code>/deliver/": ("in 404 404 404 200 404", "in 404 404 404 422 404"),
    "floor/workshop/": ("in 404 404 404 200 404", "in 404 404 404 422 404"),
    "floor/people/": ("in 404 404 404 200 404", "in 404 404 404 422 404"),
    "floor/people/let-go/": ("in 405 405 405 405 405", "in 404 404 404 302 404"),
    "floor/people/letters/": ("in 405 405 405 405 405", "in 404 404 404 302 404"),
    "floor/people/invitations/<str:code>/withdraw/": ("in 405 405 405 405 405", "in 404 404 404 302 404"),
    "floor/book/": ("in 404 404 404 200 404", "in 405 405 405 405 405"),
    "floor/book/try/": ("in 404 404 404 302 404", "in 405 405 405 405 405"),
    "floor/book/save/": ("in 405 405 405 405 405", "in 404 404 404 302 404"),
    "floor/book/drop/": ("in 405 405 405 405 405", "in 404 404 404 302 404"),
    "floor/book/editions/": ("in 404 404 404 200 404", "in 405 405 405 405 405"),
    "floor/book/steps/": ("in 404 404 404 200 404", "in 404 404 404 409 404"),
    "floor/book/signs/<slug:subject>/": ("in 404 404 404 200 404", "in 404 404 404 409 404"),
    "floor/book/<slug:chapter>/": ("in 404 404 404 200 404", "in 404 404 404 409 404"),
    "floor/rack/": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/rack/take-in/": ("in 404 404 404 200 200", "in 404 404 404 422 422"),
    "floor/rack/<slug:code>/": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/rack/seasoning/": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/rack/labels.pdf": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/rack/clefts.csv": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/rack/clefts.xlsx": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/rack/import/": ("in 404 404 404 200 200", "in 404 404 404 422 422"),
    "floor/rack/import/pattern.xlsx": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    # The file is the maker's.
    "floor/rack/import/<slug:code>/": ("in 404 404 404 200 404", "in 405 405 405 405 405"),
    "floor/rack/import/<slug:code>/take/": ("in 405 405 405 405 405", "in 404 404 404 422 404"),
    "floor/rack/import/<slug:code>/bad-rows.csv": ("in 404 404 404 200 404", "in 405 405 405 405 405"),
    "floor/rack/loads/": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/rack/loads/new/": ("in 404 404 404 200 200", "in 404 404 404 422 422"),
    "floor/rack/loads/<slug:code>/": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/rack/loads/<slug:code>/change/": ("in 404 404 404 200 200", "in 404 404 404 422 422"),
    "floor/rack/<slug:code>/amend/": ("in 404 404 404 200 200", "in 404 404 404 422 422"),
    "floor/rack/<slug:code>/grade/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/rack/<slug:code>/blemish/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/rack/<slug:code>/blemish/strike-out/": ("in 405 405 405 405 405", "in 404 404 404 302 302"),
    "floor/rack/<slug:code>/photograph/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/rack/<slug:code>/photograph/change/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/rack/<slug:code>/photograph/<slug:photo>/": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/rack/<slug:code>/label.pdf": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/rack/<slug:code>/weigh/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/rack/<slug:code>/standing/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/rack/<slug:code>/hold/": ("in 405 405 405 405 405", "in 404 404 404 422 404"),
    "floor/rack/<slug:code>/release/": ("in 405 405 405 405 405", "in 404 404 404 302 404"),
    "floor/stock/": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/stock/handles/": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/stock/handles/take-in/": ("in 404 404 404 200 200", "in 404 404 404 422 422"),
    "floor/stock/handles/<slug:code>/": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/stock/handles/<slug:code>/weigh/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/stock/handles/<slug:code>/lay-back/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/stock/handles/<slug:code>/reject/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/stock/supplies/": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/stock/supplies/take-in/": ("in 404 404 404 200 200", "in 404 404 404 422 422"),
    "floor/stock/supplies/<slug:code>/": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/stock/supplies/<slug:code>/move/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/stock/supplies/<slug:code>/take-back/": ("in 405 405 405 405 405", "in 404 404 404 404 404"),
    "floor/stock/supplies/<slug:code>/change/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/stock/bats/": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/stock/bats/lay-by/": ("in 404 404 404 200 200", "in 404 404 404 422 422"),
    "floor/stock/bats/<slug:code>/": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/stock/bats/<slug:code>/keep/": ("in 405 405 405 405 405", "in 404 404 404 422 404"),
    "floor/stock/bats/<slug:code>/let-go/": ("in 405 405 405 405 405", "in 404 404 404 422 404"),
    "floor/stock/bats/<slug:code>/sell/": ("in 405 405 405 405 405", "in 404 404 404 302 404"),
    "floor/stock/bats/<slug:code>/cut-up/": ("in 405 405 405 405 405", "in 404 404 404 422 404"),
    "floor/stock/scrap/": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/stock/scrap/write-off/": ("in 404 404 404 200 200", "in 404 404 404 422 422"),
    "floor/match/": ("in 404 404 404 200 404", "in 405 405 405 405 405"),
    "floor/match/<slug:code>/take/": ("in 405 405 405 405 405", "in 404 404 404 422 404"),
    "floor/match/<slug:code>/refuse/": ("in 405 405 405 405 405", "in 404 404 404 422 404"),
    "floor/match/<slug:code>/think-better/": ("in 405 405 405 405 405", "in 404 404 404 422 404"),
    "floor/match/<slug:code>/keep-aside/": ("in 405 405 405 405 405", "in 404 404 404 422 404"),
    "floor/bench/": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/bench/place/": ("in 405 405 405 405 405", "in 404 404 404 302 302"),
    "floor/bench/<slug:code>/": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/bench/<slug:code>/begin/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/in-hand/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/lay-down/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/step/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/reading/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/take-back/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/photograph/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/pass-on/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/go-back/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/cleft/": ("in 404 404 404 200 200", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/cleft/put-back/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/cleft/lie/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/cleft/lie/take-back/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/press/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/press/take-back/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/handle/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/handle/lay-back/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/handle/reject/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/reason/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/coat/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/material/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/coat/take-back/": ("in 405 405 405 405 405", "in 404 404 404 404 404"),
    "floor/bench/<slug:code>/material/give-back/": ("in 405 405 405 405 405", "in 404 404 404 404 404"),
    "floor/bench/<slug:code>/failed/": ("in 404 404 404 200 200", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/failed/letter/": ("in 405 405 405 405 405", "in 404 404 404 422 404"),
    "floor/bench/<slug:code>/promise/": ("in 404 404 404 200 404", "in 404 404 404 422 404"),
    "floor/bench/<slug:code>/inspection/ask/": ("in 405 405 405 405 405", "in 404 404 404 422 404"),
    "floor/bench/<slug:code>/inspection/": ("in 404 404 404 200 200", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/standing/": ("in 404 404 404 200 200", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/standing/take-back/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/targets/": ("in 405 405 405 405 405", "in 404 404 404 422 422"),
    "floor/bench/<slug:code>/job-card.pdf": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
    "floor/bench/<slug:code>/hanging-label.pdf": ("in 404 404 404 200 200", "in 405 405 405 405 405"),
}


# What names its record in the form rather than in the address.
IN_THE_FORM = {
    "commissions/<str:code>/answer/": {"consent": "askedabout"},
    "floor/people/let-go/": {"email": "bench@workshop.example"},
    # Reserved for no bat, so that there is nobody to show it to.
    "floor/rack/<slug:code>/photograph/change/": {"photo": "acleftview", "act": "show"},
    "floor/people/letters/": {"letter": "<lost@workshop.example>"},
}


@pytest.fixture
def callers(player_user, other_player_user, guardian_user, maker, bench_hand):
    """Who calls, column by column."""
    return (None, player_user, other_player_user, guardian_user, maker, bench_hand)


@pytest.fixture
def addresses(player, child, maker):
    """A real address for every route, its record the player's."""
    world = build_world(player, child, maker)
    Letter.objects.filter(state=LetterState.FAILED).update(message_id="<lost@workshop.example>")
    Consent.objects.filter(bat=world.too_heavy).update(code="askedabout")
    commissions, bats = world.commissions, world.bats
    codes = {
        "fitting/": world.draft.code,
        "commissions/<str:code>/accept": commissions["proposed"].code,
        "commissions/<str:code>/ask": commissions["proposed"].code,
        "commissions/<str:code>/cancel": commissions["proposed"].code,
        "commissions/<str:code>/answer": world.too_heavy.commission.code,
        "commissions/": commissions["delivered"].code,
        "floor/commissions/<str:code>/withdraw": commissions["proposed"].code,
        "floor/commissions/<str:code>/deliver": bats[Stage.DONE].commission.code,
        "floor/commissions/": commissions["sent"].code,
        "floor/returns/": world.asked.code,
        "floor/rack/": world.clefts[1].code,
        "floor/rack/import/": world.file.code,
        "floor/rack/loads/": world.load.code,
        "floor/stock/handles/": world.handle.code,
        "floor/stock/supplies/": world.supply.code,
        "floor/stock/bats/": world.stock_bat.code,
        "floor/match/": bats[Stage.WAITING].code,
        "floor/match/<slug:code>/keep-aside": commissions["proposed"].proposals.get().code,
        "floor/bench/<slug:code>/begin": bats[Stage.WAITING].code,
        "floor/bench/<slug:code>/cleft": bats[Stage.CLEFT_SELECTION].code,
        "floor/bench/<slug:code>/failed": world.in_press.code,
        "floor/bench/<slug:code>/inspection": bats[Stage.INSPECTION].code,
        "floor/bench/": bats[Stage.SHAPING].code,
        "floor/people/invitations/": world.invitation.code,
        "photographs/": world.photo.code,
        "rules/": "bow",
        "floor/book/": "wishes",
        "floor/book/signs/": "bow",
    }

    def real(route):
        code = codes[max((start for start in codes if route.startswith(start)), key=len, default="fitting/")]
        return "/" + route.replace("<str:code>", code).replace("<slug:code>", code).replace(
            "<slug:page>", "you"
        ).replace("<slug:subject>", code).replace("<slug:chapter>", code).replace(
            "<str:token>", "x" * 40
        ).replace("<slug:photo>", world.cleft_photo.code)

    return {route: real(route) for route in ADDRESSES}


def said(response):
    if response.status_code == 302 and response.headers["Location"].startswith("/sign-in/?"):
        return "in"
    return str(response.status_code)


def asked(user, method, address, fields):
    """Call an address as somebody signed in afresh, and undo what that did."""
    with transaction.atomic():
        client = Client()
        if user is not None:
            client.force_login(user)
        form = {"once": new_key(), **fields} if method == "post" else {}
        answer = said(getattr(client, method)(address, form))
        transaction.set_rollback(True)
    return answer


def test_matrix_names_every_address():
    assert set(MATRIX) == set(ADDRESSES)


@pytest.mark.parametrize(("method", "at"), [("get", 0), ("post", 1)])
def test_every_role_gets_what_is_its_own(method, at, callers, addresses):
    found = {}
    for route, expected in MATRIX.items():
        fields = IN_THE_FORM.get(route, {})
        answers = " ".join(asked(user, method, addresses[route], fields) for user in callers)
        if answers != expected[at]:
            found[route] = f"{answers}, not {expected[at]}"
    assert not found
