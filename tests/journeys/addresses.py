"""The addresses of all pages, by who looks at them."""

from collections.abc import Iterable

from django.urls import reverse

from fitting.questions import Situation, pages
from orders.commissions.states import Stage
from orders.interview.models import Fitting
from orders.interview.sharing import share
from tests.journeys.world import World


def of_a_stranger(draft: Fitting, empty: Fitting) -> list[str]:
    """Pages without an account."""
    asked = [reverse("interview:page", args=[draft.code, each.key]) for each in pages(Situation(32, True))]
    return [
        "/",
        "/fitting/",
        f"/fitting/{empty.code}/you/",
        *asked,
        f"/fitting/{draft.code}/draft/",
        f"/fitting/{draft.code}/besides/",
        f"/fitting/{draft.code}/keep/",
        f"/fitting/{draft.code}/share/",
        f"/shared/{share(draft)}/",
        "/sign-in/",
        "/sign-in/letter/",
        "/sign-in/workshop/",
        "/rules/",
        "/rules/bow/",
        "/rules/length/",
    ]


def of_the_player(world: World) -> list[str]:
    """Pages of a grown player, a commission in every state among them."""
    shown = {name: one for name, one in world.commissions.items() if name != "child"}
    shown |= {str(stage): world.bats[stage].commission for stage in (Stage.SHAPING, Stage.DONE)}
    shown |= {"too_heavy": world.too_heavy.commission}
    shown |= {"back": world.asked.commission, "mending": world.decided.commission}
    delivered = f"/commissions/{world.commissions['delivered'].code}/"
    proposed = f"/commissions/{world.commissions['proposed'].code}/"
    return [
        "/",
        "/my/",
        "/account/",
        "/fitting/",
        f"/fitting/{world.draft.code}/you/",
        f"/fitting/{world.draft.code}/draft/",
        f"/fitting/{world.draft.code}/who/",
        f"/fitting/{world.draft.code}/share/",
        *(f"/commissions/{one.code}/" for one in shown.values()),
        f"{proposed}ask-change/",
        f"{proposed}cancel/",
        f"{delivered}record/",
        f"{delivered}care/",
        f"{delivered}send-back/",
        f"/commissions/{world.decided.commission.code}/record/",
    ]


def of_the_guardian(world: World) -> list[str]:
    """Pages of a guardian: a child's fitting and commission."""
    code = world.child_draft.code
    asked = [reverse("interview:page", args=[code, each.key]) for each in pages(Situation(12, True))]
    return [
        "/my/",
        *asked,
        f"/fitting/{code}/draft/",
        f"/fitting/{code}/who/",
        f"/commissions/{world.commissions['child'].code}/",
    ]


def of_the_maker(world: World) -> list[str]:
    """Pages of the maker; of the bench only what a maker sees otherwise than a bench hand."""
    shown = {**world.commissions, "making": world.bats[Stage.SHAPING].commission}
    shown |= {"ready": world.bats[Stage.DONE].commission, "back": world.asked.commission}
    sent = f"/floor/commissions/{world.commissions['sent'].code}/"
    delivered = f"/commissions/{world.commissions['delivered'].code}/"
    return [
        "/account/",
        "/floor/",
        "/floor/search/",
        "/floor/search/?q=alder",
        *(f"/floor/commissions/{one.code}/" for one in shown.values()),
        f"{sent}alternatives/",
        f"{sent}edit/",
        f"{sent}propose/",
        f"/floor/commissions/{world.commissions['proposed'].code}/cancel/",
        f"/floor/commissions/{world.bats[Stage.DONE].commission.code}/deliver/",
        "/floor/returns/",
        *(f"/floor/returns/{one.code}/" for one in (world.asked, world.decided, world.closed)),
        "/floor/match/",
        "/floor/match/?proposed=1",
        "/floor/workshop/",
        "/rules/profile/",
        "/floor/book/",
        "/floor/book/try/?edition=1",
        *(f"/floor/book/{part}/" for part in ("lengths", "limits", "wishes", "signs", "signs/bow", "shapes")),
        *(
            f"/floor/book/{part}/"
            for part in ("thresholds", "materials", "blow", "bench", "costs", "editions", "steps")
        ),
        "/floor/people/",
        f"/floor/rack/import/{world.file.code}/",
        f"/fitting/{world.at_counter.code}/bat-face/",
        f"/fitting/{world.at_counter.code}/keep/",
        *(f"{delivered}{part}/" for part in ("record", "care", "send-back")),
        f"/floor/bench/{world.in_press.code}/promise/",
        *_with_prices(world),
    ]


def of_the_bench_hand(world: World) -> list[str]:
    """Pages of a bench hand, a bat in every stage among them."""
    delivered = f"/commissions/{world.commissions['delivered'].code}/"
    own = ["/account/", "/floor/search/?q=alder", f"{delivered}record/", f"{delivered}care/"]
    return [*own, *_bench_and_rack(world, world.bats)]


def _with_prices(world: World) -> list[str]:
    """Pages of rack, stock and bench that say more to the maker than to a bench hand."""
    return [
        "/floor/rack/",
        "/floor/rack/take-in/",
        f"/floor/rack/loads/{world.load.code}/",
        f"/floor/rack/loads/{world.load.code}/change/",
        f"/floor/rack/{world.clefts[0].code}/",
        *(f"/floor/stock/{part}" for part in ("", "supplies/", "bats/", "scrap/")),
        f"/floor/stock/handles/{world.handle.code}/",
        f"/floor/stock/supplies/{world.supply.code}/",
        f"/floor/stock/bats/{world.stock_bat.code}/",
        f"/floor/bench/{world.bats[Stage.PRESSING].code}/",
        f"/floor/bench/{world.bats[Stage.CLEFT_SELECTION].code}/cleft/",
        f"/floor/bench/{world.in_press.code}/failed/",
        f"/floor/bench/{world.too_heavy.code}/inspection/",
    ]


def _bench_and_rack(world: World, stages: Iterable[str]) -> list[str]:
    bats = [f"/floor/bench/{world.bats[stage].code}/" for stage in stages if stage != Stage.INSPECTION]
    return [
        "/floor/rack/",
        "/floor/rack/take-in/",
        *(f"/floor/rack/{part}/" for part in ("seasoning", "import", "loads", "loads/new")),
        f"/floor/rack/loads/{world.load.code}/",
        f"/floor/rack/loads/{world.load.code}/change/",
        f"/floor/rack/{world.clefts[0].code}/amend/",
        *(f"/floor/rack/{one.code}/" for one in world.clefts),
        "/floor/stock/",
        *(f"/floor/stock/{part}/" for part in ("handles", "supplies", "bats", "scrap")),
        *(f"/floor/stock/{part}/take-in/" for part in ("handles", "supplies")),
        "/floor/stock/bats/lay-by/",
        "/floor/stock/scrap/write-off/",
        f"/floor/stock/handles/{world.handle.code}/",
        f"/floor/stock/supplies/{world.supply.code}/",
        f"/floor/stock/bats/{world.stock_bat.code}/",
        "/floor/bench/",
        *bats,
        *(f"{bat}standing/" for bat in bats),
        f"/floor/bench/{world.bats[Stage.INSPECTION].code}/inspection/",
        f"/floor/bench/{world.in_press.code}/failed/",
        f"/floor/bench/{world.too_heavy.code}/inspection/",
        f"/floor/bench/{world.bats[Stage.CLEFT_SELECTION].code}/cleft/",
        f"/floor/bench/{world.decided.bat.code}/",
    ]
