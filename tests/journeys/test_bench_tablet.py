"""The bench on a tablet: a finger's targets, touches that count once, what is typed and what comes back."""

import pytest
from django.conf import settings
from django.test import Client
from django.urls import reverse
from playwright.sync_api import expect

from orders.commissions.models import Reading, StepDone
from orders.commissions.states import Stage
from orders.people.models import Role, User
from tests.factories import BenchHandFactory, MakerFactory, PlayerFactory, a_bat_in, an_agreed_bat
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.page import plain
from workshop.bench.spells import begin_work
from workshop.bench.work import work_on

PORTRAIT, LANDSCAPE = {"width": 768, "height": 1024}, {"width": 1024, "height": 768}
SMALLEST_PX, GAP_PX = 60, 12

# Every target a finger may want, all folds open: too small, or too near to its neighbour.
FAULTY_TARGETS = """([smallest, gap]) => {
  document.querySelectorAll('details').forEach(one => { one.open = true })
  const wanted = 'a, button, input:not([type=hidden]), select, textarea, summary, label.tick, .choices label'
  const shown = [...document.querySelectorAll(wanted)].filter(one => {
    const box = one.getBoundingClientRect()
    const inLabel = one.tagName === 'INPUT' && one.closest('label')
    return box.width && box.height && !one.classList.contains('skip') && !inLabel
  })
  const named = one => one.tagName + ' ' + (one.textContent || one.name || '').trim().slice(0, 30)
  const faults = []
  shown.forEach((one, at) => {
    const a = one.getBoundingClientRect()
    if (a.width < smallest - 0.5 || a.height < smallest - 0.5) faults.push('small: ' + named(one))
    shown.slice(at + 1).filter(other => !one.contains(other)).forEach(other => {
      const b = other.getBoundingClientRect()
      const across = Math.max(a.left - b.right, b.left - a.right)
      const down = Math.max(a.top - b.bottom, b.top - a.bottom)
      if (Math.max(across, down) < gap - 0.5) faults.push('near: ' + named(one) + ' / ' + named(other))
    })
  })
  return [shown.length, faults]
}"""


@pytest.fixture
def hand(workshop):
    return BenchHandFactory.create(name="Hazel Hand")


@pytest.fixture
def tablet(open_page, hand, base_url):
    """A tablet on which the bench hand is signed in."""
    client = Client()
    client.force_login(hand)
    page = open_page(viewport=PORTRAIT, has_touch=True)
    name = settings.SESSION_COOKIE_NAME
    page.context.add_cookies([{"name": name, "value": client.cookies[name].value, "url": base_url}])
    return page


@pytest.mark.parametrize("size", [PORTRAIT, LANDSCAPE], ids=["portrait", "landscape"])
def test_targets_of_every_bench_page_are_for_a_finger(size, tablet, hand):
    player = PlayerFactory.create()
    waiting = an_agreed_bat(player, the_maker())
    band = work_on(waiting).build.willow.density_kg_m3
    for number in (41, 42):
        a_cleft(number, hand, density=(band.min + band.max) / 2)
    bats = [a_bat_in(stage, player, the_maker()) for stage in [*Stage][1:7]]
    addresses = [reverse("bench:bats"), reverse("bench:bat", args=[waiting.code])]
    addresses += [reverse("bench:bat", args=[bat.code]) for bat in bats]
    addresses.append(reverse("bench:cleft", args=[bats[0].code]))
    tablet.set_viewport_size(size)

    for address in addresses:
        tablet.goto(address)
        count, faults = tablet.evaluate(FAULTY_TARGETS, [SMALLEST_PX, GAP_PX])
        assert count > 5
        assert not faults, address
        assert tablet.evaluate("document.documentElement.scrollWidth") <= size["width"]


def the_maker():
    """Return the maker who proposes; one for a whole test."""
    return User.objects.filter(role=Role.MAKER).first() or MakerFactory.create()


def test_measuring_of_targets_finds_a_small_one(tablet, hand):
    """The measure itself: a button made small by hand is found, so that an empty list means something."""
    bat = a_bat_in(Stage.SHAPING, PlayerFactory.create(), the_maker())
    tablet.goto(reverse("bench:bat", args=[bat.code]))

    tablet.evaluate("document.querySelector('#onward .do').style.setProperty('min-height', '0')")
    tablet.evaluate("document.querySelector('#onward .do').style.setProperty('padding', '0')")

    _, faults = tablet.evaluate(FAULTY_TARGETS, [SMALLEST_PX, GAP_PX])
    assert faults == ["small: BUTTON Pass on to handle fitting"]


def test_step_touched_is_kept_and_can_be_taken_back(tablet, hand):
    bat = a_bat_in(Stage.SHAPING, PlayerFactory.create(), the_maker())
    tablet.goto(reverse("bench:bat", args=[bat.code]))

    tablet.get_by_role("button", name="Hollow the back").tap()
    expect(tablet.locator("#said")).to_have_text("Kept.")
    expect(tablet.locator("#step-hollow")).to_contain_text("Hazel Hand")
    assert StepDone.objects.standing().get().step == "hollow"

    tablet.locator("#step-hollow").get_by_role("button").tap()
    expect(tablet.locator("#said")).to_have_text("Taken back.")
    expect(tablet.locator("#step-hollow")).not_to_contain_text("Hazel Hand")
    assert not StepDone.objects.standing().exists()


def test_step_touched_twice_counts_once(tablet, hand):
    bat = a_bat_in(Stage.SHAPING, PlayerFactory.create(), the_maker())
    tablet.goto(reverse("bench:bat", args=[bat.code]))

    tablet.get_by_role("button", name="Hollow the back").dblclick()

    expect(tablet.locator("#step-hollow")).to_contain_text("Hazel Hand")
    assert StepDone.objects.count() == 1


def test_reading_typed_says_at_once_where_it_stands(tablet, hand):
    bat = a_bat_in(Stage.FINISHING, PlayerFactory.create(), the_maker())
    aim = work_on(bat).build.mass_g
    tablet.goto(reverse("bench:bat", args=[bat.code]))

    tablet.get_by_label("Mass", exact=True).fill(plain(aim.target + 40))
    tablet.get_by_role("button", name="Keep these readings").tap()

    expect(tablet.locator("#aim-mass")).to_contain_text("40 over, out of tolerance")
    expect(tablet.locator("#readings")).to_contain_text("1 reading is out of tolerance.")


def test_pass_on_with_work_missing_leads_to_it(tablet, hand, complaints):
    bat = a_bat_in(Stage.SHAPING, PlayerFactory.create(), the_maker())
    tablet.goto(reverse("bench:bat", args=[bat.code]))

    tablet.get_by_role("button", name="Pass on to handle fitting").tap()

    expect(tablet.locator("#faults")).to_be_focused()
    tablet.get_by_role("link", name="mass of the bare blade").tap()
    expect(tablet.get_by_label("Mass of the bare blade")).to_be_in_viewport()
    # The answer to a refused form is 422, which the browser writes into its console.
    complaints[:] = [line for line in complaints if "422" not in line]


def test_enter_goes_to_the_next_number_and_sends_nothing(tablet, hand):
    """As an instrument types that ends its number with Enter: station after station, then the button."""
    bat = a_bat_in(Stage.SHAPING, PlayerFactory.create(), the_maker())
    names = [ask.name for ask in work_on(bat).asks if ask.place is not None]
    tablet.goto(reverse("bench:bat", args=[bat.code]))
    tablet.locator("#readings input[name^='spine-']").first.focus()

    seen = []
    for _ in range(3):
        seen.append(tablet.evaluate("document.activeElement.name"))
        tablet.keyboard.type("30.5")
        tablet.keyboard.press("Enter")

    station = names[0].removeprefix("spine-")
    assert seen == [f"spine-{station}", f"edge_left-{station}", f"edge_right-{station}"]
    assert tablet.evaluate("document.activeElement.name").startswith("spine-")
    assert not Reading.objects.exists()
    tablet.locator("#readings form input[inputmode='decimal']").last.focus()
    tablet.keyboard.press("Enter")
    expect(tablet.get_by_role("button", name="Keep these readings")).to_be_focused()


def test_bat_of_another_stage_fills_the_tablet_before_anything_else(tablet, hand):
    """A bat in shaping that is scanned where pressing is done: over the whole width, both stages large."""
    bat = a_bat_in(Stage.SHAPING, PlayerFactory.create(), the_maker())
    tablet.goto(reverse("bench:bats"))
    tablet.get_by_text("Tell this tablet where it stands").tap()
    tablet.get_by_role("radio", name="Pressing").check()
    tablet.get_by_role("button", name="Set it").tap()
    expect(tablet.locator("#notices")).to_contain_text("This place is: pressing.")

    tablet.goto(reverse("bench:bat", args=[bat.code]))

    notice = tablet.locator(".other-place")
    expect(notice).to_be_in_viewport()
    box, main = notice.bounding_box(), tablet.locator("main").bounding_box()
    assert box["width"] == pytest.approx(main["width"], abs=1)
    assert box["y"] < tablet.get_by_role("heading", level=1).bounding_box()["y"]
    for words in ("Shaping", "Pressing"):
        large = notice.locator("dd", has_text=words)
        assert large.evaluate("one => parseFloat(getComputedStyle(one).fontSize)") >= 32


def test_bat_in_another_hand_says_so_on_the_tablet(tablet, hand):
    bat = a_bat_in(Stage.SHAPING, PlayerFactory.create(), the_maker())
    begin_work(bat, by=BenchHandFactory.create(name="Holly Hand"))
    tablet.goto(reverse("bench:bat", args=[bat.code]))

    tablet.get_by_role("button", name="Hollow the back").tap()

    expect(tablet.locator(".notices, [role=status], [role=alert]").first).to_contain_text(
        "Holly Hand has had it"
    )
    assert not StepDone.objects.exists()
    tablet.get_by_role("button", name="Take it over").tap()
    expect(tablet.locator("#hands")).to_contain_text("You have had it since")
    tablet.get_by_role("button", name="Hollow the back").tap()
    expect(tablet.locator("#step-hollow")).to_contain_text("Hazel Hand")
