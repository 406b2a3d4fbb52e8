"""A workshop in full swing: at least one record of every kind that a page can show, in every state."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django.db import transaction
from django.utils import timezone

from fitting.answers import sheet_from, situation_of
from fitting.sheets.default_book import DEFAULT_BOOK
from orders.care import returns
from orders.care.models import Return
from orders.commissions import lifecycle, stages
from orders.commissions.bench_entries import Required
from orders.commissions.consents import ask_consent
from orders.commissions.editions import keep_edition
from orders.commissions.models import Bat, Commission
from orders.commissions.states import BENCH_STAGES, Stage, Unit
from orders.interview.models import Fitting
from orders.messages.models import Letter, Photo
from orders.messages.outbox import post
from orders.messages.photographs import keep_photograph
from orders.people.invitations import invite
from orders.people.models import Player, Role, StaffInvitation, User
from tests.factories import a_bat_in, a_commission, an_agreed_bat, propose_to
from tests.orders.messages.pictures import picture, upload
from tests.workshop.rack.noted_wood import a_file, a_load, marked, of_load, photographed, seasoned
from tests.workshop.stock.shelves import a_handle, glue, grips
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.inspection import pass_bat, rows_of
from workshop.bench.work import choose_cleft, work_on
from workshop.rack.clefts import change_standing
from workshop.rack.holds import hold
from workshop.rack.models import Cleft, CleftFile, CleftPhoto, Load
from workshop.stock.models import Handle, StockBat, Supply
from workshop.stock.scrap import write_off
from workshop.stock.stock_bats import lay_by
from workshop.stock.supplies import use

# Wishes that no bat can meet together: the pages then tell what pulls apart.
APART: dict[str, Any] = {"wishes": {"mass_g": {"max": 950}, "edges": "thick", "profile": "full"}}
TYPED: dict[str, Any] = {
    "age": {"": "32"},
    "height": {"": "5'9\""},
    "batting_hand": {"": "right"},
    "level": {"": "club"},
    "bounce": {"": "low"},
    "overs_mix": {"long": "2", "fifty": "14", "twenty": "6"},
    "shots": {"1": "lofted", "2": "cut"},
    "ball": {"": ["hard", "machine"]},
    "bat_liked": {"": "no"},
    "bat_mass": {"": "2 lb 9"},
}
APART_TYPED: dict[str, Any] = {
    "wish_mass": {"min": "", "max": "950"},
    "wish_edges": {"": "thick"},
    "wish_profile": {"": "full"},
}
CHILD_TYPED: dict[str, Any] = {"age": {"": "12"}, "height": {"": "1.5 m"}}
TOLD = "Late in the day it is too heavy for me, and the toe is chipped."


@dataclass(frozen=True)
class World:
    """The records by what they are."""

    draft: Fitting
    child_draft: Fitting
    at_counter: Fitting
    commissions: dict[str, Commission]
    bats: dict[str, Bat]
    clefts: list[Cleft]
    load: Load
    file: CleftFile
    cleft_photo: CleftPhoto
    asked: Return
    decided: Return
    closed: Return
    in_press: Bat
    too_heavy: Bat
    photo: Photo
    invitation: StaffInvitation
    handle: Handle
    supply: Supply
    stock_bat: StockBat


def build_world(player: Player, child: Player, maker: User) -> World:
    """Make them all by the verbs themselves, as of now."""
    now = timezone.now()
    commissions = _commissions(player, child, maker)
    clefts = _clefts(maker, commissions["proposed"])
    bats: dict[str, Bat] = {
        Stage.WAITING: an_agreed_bat(player, maker, at=now),
        **{stage: a_bat_in(stage, player, maker, at=now) for stage in (*BENCH_STAGES, Stage.INSPECTION)},
        Stage.DONE: a_bat_in(Stage.DONE, player, maker, at=now - timedelta(weeks=12)),
    }
    asked, decided, closed = (_came_back(player, maker) for _ in range(3))
    returns.adjust(
        decided, by=maker, stages_needed=[Stage.FINISHING], words="A new grip.", to_do="New grip, oil."
    )
    returns.find_nothing(closed, by=maker, words="Within a gram of what was agreed.")
    with transaction.atomic():
        lost = post("bat_ready", to="gone@players.example", context=_ready_context(commissions["delivered"]))
    Letter.objects.filter(pk=lost.pk).update(state="failed", fault="the address was refused")
    _second_edition(maker)
    return World(
        draft=a_draft({**TYPED, **APART_TYPED}, holder=player.holder),
        child_draft=a_draft(CHILD_TYPED, holder=child.holder),
        at_counter=a_draft(TYPED, begun_by=maker),
        commissions=commissions,
        bats=bats,
        clefts=clefts,
        **_wood(maker, clefts),
        asked=asked,
        decided=decided,
        closed=closed,
        in_press=_in_press(player, maker),
        too_heavy=_too_heavy(player, maker),
        photo=_photo(asked, maker),
        invitation=invite("new@workshop.example", name="Noel New", role=Role.BENCH_HAND, by=maker),
        **_stock(maker, bats[Stage.SHAPING]),
    )


def _second_edition(maker: User) -> None:
    """Keep an edition of the book beside the one that the program came with."""
    wishes = DEFAULT_BOOK.wish_numbers.model_copy(update={"bow_slight_mm": 6})
    book = DEFAULT_BOOK.model_copy(update={"wish_numbers": wishes})
    keep_edition(book, seen=DEFAULT_BOOK.version, by=maker, note="A little more bow")


def _commissions(player: Player, child: Player, maker: User) -> dict[str, Commission]:
    now = timezone.now()
    found = {"sent": a_commission(player, at=now, **APART)}
    for state in ("proposed", "change_asked", "cancelled"):
        found[state] = a_commission(player, at=now)
        propose_to(found[state], maker, at=now, words="Light, with a low swell.")
    lifecycle.ask_change(
        found["change_asked"], by=player.holder, field="mass", words="A little lighter, please."
    )
    lifecycle.cancel(found["cancelled"], by=player.holder, why="I move away.")
    found["child"] = a_commission(
        child, at=now, player={"age_years": 12, "height_mm": 1500}, level="junior", present_bat={}
    )
    propose_to(found["child"], maker, at=now)
    late = now - timedelta(weeks=15)
    found["late"] = an_agreed_bat(player, maker, at=late).commission
    found["delivered"] = _delivered(player, maker)
    return found


def _delivered(player: Player, maker: User) -> Commission:
    bat = a_built_bat(player, maker)
    lifecycle.deliver(bat.commission, by=maker)
    return bat.commission


def _came_back(player: Player, maker: User) -> Return:
    return returns.send_back(
        _delivered(player, maker),
        by=player.holder,
        words=TOLD,
        answers={"lifts": "too_heavy", "damage": ["toe_cracked", "through"], "dead_from_toe_mm": 180.0},
    )


def a_built_bat(player: Player, maker: User) -> Bat:
    """Return a bat that was inspected at the bench, so that what was built stands beside what was agreed."""
    bat = a_bat_in(Stage.INSPECTION, player, maker, at=timezone.now() - timedelta(days=3))
    pass_bat(work_on(bat), by=maker, reason="Measured by eye; the lift is as agreed.")
    bat.refresh_from_db()
    return bat


def _in_press(player: Player, maker: User) -> Bat:
    """Return a bat whose cleft is in the press, and may fail there."""
    bat = an_agreed_bat(player, maker, at=timezone.now())
    stages.begin(bat, by=maker)
    choose_cleft(work_on(bat), a_cleft(420, maker), by=maker)
    stages.pass_on(bat, by=maker, required=Required())
    return bat


def _too_heavy(player: Player, maker: User) -> Bat:
    """Return a bat whose player is asked to take it heavier than was promised."""
    bat = a_bat_in(Stage.INSPECTION, player, maker, at=timezone.now())
    reading = {"unit": Unit.G, "by": maker, "round": 1, "stage": Stage.FINISHING}
    bat.readings.create(key="mass", value=12000, **reading)
    rows = [row.stored() for row in rows_of(work_on(bat))]
    ask_consent(bat, rows=rows, words="The willow was denser than it read.", by=maker)
    return bat


def _photo(asked: Return, maker: User) -> Photo:
    return keep_photograph(
        upload(picture()),
        commission=asked.commission,
        by=maker,
        bat=asked.bat,
        stage=returns.picture_mark(asked),
        caption="the toe",
        shown_to_player=True,
    )


def _clefts(maker: User, proposed: Commission) -> list[Cleft]:
    clefts = [a_cleft(410 + number, maker, density=385.0 + 20 * number) for number in range(4)]
    hold(clefts[1], proposed.proposals.get(), by=maker)
    change_standing(clefts[3], "reject", by=maker, words="A knot in the middle.")
    return clefts


def _wood(maker: User, clefts: list[Cleft]) -> dict[str, Any]:
    """Note all that can be noted of clefts: a load, blemishes, a course to rest, a photograph; and a file."""
    load = a_load()
    of_load(load, *clefts)
    marked(clefts[1], maker)
    seasoned(clefts[2], maker)
    return {"load": load, "file": a_file(maker), "cleft_photo": photographed(clefts[1], maker)}


def _stock(maker: User, shaping: Bat) -> dict[str, Any]:
    """Return a handle, grips too few, a bat without an owner; wood is written off beside them."""
    a_handle(2, maker, construction="stiffened_cane")
    glue(maker, use_by=date(2020, 1, 1))
    supply = grips(maker, came=2)
    use(supply, 1, bat=shaping, by=maker)
    write_off(
        cause="overcut",
        cleft=None,
        bat=shaping,
        stage=Stage.SHAPING,
        words="Toe of 11 mm.",
        by=maker,
        minutes=90,
    )
    stock_bat = lay_by(
        kind="finished",
        length_code="short_handle",
        cleft=None,
        bat=None,
        words="Nobody fetched it.",
        by=maker,
        cost=9000,
        mass=11600,
        price=21000,
    )
    return {"handle": a_handle(1, maker), "supply": supply, "stock_bat": stock_bat}


def a_draft(answers: dict[str, Any], **owner: Any) -> Fitting:
    """Return a fitting with some answers, as typed."""
    sheet = sheet_from(answers, situation_of(answers, at_counter="begun_by" in owner)).sheet
    return Fitting.objects.create(answers=answers, sheet=sheet, **owner)


def _ready_context(commission: Commission) -> dict[str, str]:
    return {"name": "Ash", "reference": commission.reference, "player": "Ash", "site": "", "path": "/"}
