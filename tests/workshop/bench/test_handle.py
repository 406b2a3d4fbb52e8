"""The handle at the bench: taken from stock, weighed, glued in; a joint past its limit needs a reason."""

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from fitting.sheets.book_bench import DEFAULT_BENCH, BenchBook
from fitting.sheets.default_book import DEFAULT_BOOK
from orders.commissions.editions import keep_edition
from orders.commissions.models import Bat
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from orders.people.models import Player, User
from tests.factories import a_bat_in
from tests.workshop.bench.at_bench import days_go_by, do_the_stage, sent
from tests.workshop.stock.shelves import a_handle, glue
from workshop.bench.models import Reason
from workshop.bench.reasons import give_reason, over_limits
from workshop.bench.work import work_on
from workshop.stock.models import Handle, HandleState


@pytest.fixture
def bat(player: Player, maker: User) -> Bat:
    return a_bat_in(Stage.HANDLE_FITTING, player, maker)


def page_of(client: Client, bat: Bat) -> str:
    return client.get(reverse("bench:bat", args=[bat.code])).content.decode()


def fitting(bat: Bat, number: int, by: User, **changes: object) -> Handle:
    """A handle of the construction that the bat has."""
    return a_handle(number, by, construction=work_on(bat).build.handle.construction, **changes)


def test_handle_is_chosen_on_the_page_and_laid_back(bat: Bat, maker: User, bench_client: Client):
    handle = fitting(bat, 7, maker)
    assert handle.label in page_of(bench_client, bat)

    assert sent(bench_client, bat, "choose-handle", handle=handle.code).status_code == 302
    handle.refresh_from_db()
    assert (handle.state, handle.bat) == (HandleState.RESERVED, bat)
    assert "not glued in yet" in page_of(bench_client, bat)

    sent(bench_client, bat, "lay-back-handle")
    handle.refresh_from_db()
    assert (handle.state, handle.bat) == (HandleState.IN_STOCK, None)


def test_handle_of_two_bats_goes_to_the_first(bat: Bat, player: Player, maker: User, bench_client: Client):
    other = a_bat_in(Stage.HANDLE_FITTING, player, maker)
    handle = fitting(bat, 7, maker)
    sent(bench_client, bat, "choose-handle", handle=handle.code)

    answer = sent(bench_client, other, "choose-handle", handle=handle.code)

    assert answer.status_code == 422
    assert "It no longer stands where that can be done." in answer.content.decode()
    handle.refresh_from_db()
    assert handle.bat == bat


def test_handle_that_is_not_there_is_refused_in_words(bat: Bat, bench_client: Client):
    answer = sent(bench_client, bat, "choose-handle", handle="nothing")

    assert answer.status_code == 422
    assert "There is no such handle in stock." in answer.content.decode()


def test_weighing_at_the_bench_is_the_handles_mass_in_stock(bat: Bat, maker: User, bench_client: Client):
    handle = fitting(bat, 7, maker, mass=2900)
    sent(bench_client, bat, "choose-handle", handle=handle.code)

    sent(bench_client, bat, "reading", handle_mass="287.5")

    handle.refresh_from_db()
    assert handle.mass == 2875
    assert handle.entries.get(verb="weigh").data == {"mass": 2875, "mass_before": 2900}


def test_handle_is_fitted_for_good_when_the_bat_goes_on(bat: Bat, maker: User, bench_client: Client):
    handle = fitting(bat, 7, maker)
    sent(bench_client, bat, "choose-handle", handle=handle.code)
    do_the_stage(bench_client, bat)
    handle.refresh_from_db()
    assert handle.state == HandleState.RESERVED

    assert sent(bench_client, bat, "pass-on").status_code == 302

    handle.refresh_from_db()
    assert (handle.state, handle.bat) == (HandleState.FITTED, bat)


def test_handle_that_failed_is_thrown_out_with_the_reason(bat: Bat, maker: User, bench_client: Client):
    handle = fitting(bat, 7, maker)
    sent(bench_client, bat, "choose-handle", handle=handle.code)
    assert sent(bench_client, bat, "reject-handle", words=" ").status_code == 422

    sent(bench_client, bat, "reject-handle", words="cane split in the clamps")

    handle.refresh_from_db()
    assert (handle.state, handle.bat) == (HandleState.REJECTED, None)
    assert handle.entries.get(verb="reject").data["words"] == "cane split in the clamps"


@pytest.mark.parametrize(
    ("key", "limit", "over"), [("splice_gap", "0.3", "0.4"), ("handle_offset", "1.5", "1.6")]
)
def test_joint_past_its_limit_goes_on_only_with_a_reason(
    key: str, limit: str, over: str, bat: Bat, bench_client: Client
):
    do_the_stage(bench_client, bat, **{key: float(over)})

    refused = sent(bench_client, bat, "pass-on")
    page = refused.content.decode()
    assert refused.status_code == 422
    assert f"{over} mm, at most {limit} mm." in page
    assert f'href="#id_reason_{key}"' in page
    assert bat.stage == Stage.HANDLE_FITTING

    assert sent(bench_client, bat, "reason", about=key, words="  ").status_code == 422
    assert sent(bench_client, bat, "reason", about=key, words="a filler strip holds it").status_code == 302
    assert sent(bench_client, bat, "pass-on").status_code == 302
    assert Reason.objects.get().words == "a filler strip holds it"


def test_joint_at_its_limit_needs_no_reason(bat: Bat, bench_client: Client):
    do_the_stage(bench_client, bat, splice_gap=0.3, handle_offset=1.5)

    assert over_limits(work_on(bat)) == []
    assert sent(bench_client, bat, "pass-on").status_code == 302


def test_reason_counts_for_what_was_read_and_not_for_worse(bat: Bat, maker: User, bench_client: Client):
    sent(bench_client, bat, "reading", splice_gap="0.4")
    give_reason(work_on(bat), about="splice_gap", words="filler strip", by=maker)

    sent(bench_client, bat, "reading", splice_gap="0.6", **{"was-splice_gap": "0.4"})
    (worse,) = over_limits(work_on(bat))
    assert (worse.value_mm, worse.limit_mm, worse.reason) == (0.6, 0.3, None)

    sent(bench_client, bat, "reading", splice_gap="0.4", **{"was-splice_gap": "0.6"})
    (better,) = over_limits(work_on(bat))
    assert better.reason is not None


def test_reason_for_what_is_inside_its_limit_is_refused(bat: Bat, maker: User):
    with pytest.raises(Refused) as refused:
        give_reason(work_on(bat), about="splice_gap", words="just so", by=maker)

    assert refused.value.key == "not_over"


def test_shop_that_glues_first_has_handle_and_glue_in_shaping(
    player: Player, maker: User, bench_client: Client
):
    """Steps are data: the handle's panel, its materials and its curing go where the maker puts the steps."""
    keep_edition(DEFAULT_BOOK.model_copy(update={"bench": handle_first()}), seen=1, by=maker, note="our way")
    bat = a_bat_in(Stage.SHAPING, player, maker)
    handle, bottle = fitting(bat, 7, maker), glue(maker)
    page = page_of(bench_client, bat)
    assert handle.label in page
    assert bottle.code in page
    assert page.index('id="step-glue_and_clamp"') < page.index('id="step-cut_outline"')

    sent(bench_client, bat, "choose-handle", handle=handle.code)
    do_the_stage(bench_client, bat)
    step = bat.steps.standing().get(step="glue_and_clamp")
    bat.steps.filter(pk=step.pk).update(at=timezone.now())
    refused = sent(bench_client, bat, "pass-on")
    assert refused.status_code == 422
    assert "“Glue and clamp” needs its time" in refused.content.decode()
    days_go_by(bat)
    assert sent(bench_client, bat, "pass-on").status_code == 302

    handle.refresh_from_db()
    assert (bat.stage, handle.state) == (Stage.HANDLE_FITTING, HandleState.FITTED)
    assert "glue_and_clamp" not in work_on(bat).required.steps


def handle_first() -> BenchBook:
    """The bench of a shop that glues the handle in before it shapes."""
    first = [DEFAULT_BENCH.step(key) for key in ("weigh_handle", "cut_socket", "glue_and_clamp", "cure")]
    steps = {work.stage: [step for step in work.steps if step not in first] for work in DEFAULT_BENCH.stages}
    steps["shaping"] = [*(step for step in first if step), *steps["shaping"]]
    stages = tuple(
        work.model_copy(update={"steps": tuple(steps[work.stage])}) for work in DEFAULT_BENCH.stages
    )
    return DEFAULT_BENCH.model_copy(update={"stages": stages})
