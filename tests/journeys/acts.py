"""The acts of a commission, each done as people do it: by what they read on the page."""

import re
from datetime import date

from playwright.sync_api import Page, expect

from orders.commissions.models import Bat
from orders.commissions.states import Stage
from orders.people.models import Role, User
from tests.factories import STAFF_PASSWORD
from tests.journeys.reading import link_in, number, the_post
from tests.workshop.bench.at_bench import days_go_by, on_the_numbers, press_once
from workshop.bench.lies import Lie
from workshop.bench.selection import orient
from workshop.bench.work import Typed, keep_entries, work_on
from workshop.willow import RawCleft

# What a grown player answers, page by page: boxes to type in by label, choices by question.
GROWN = {
    "You": {
        "How old are you?": "32",
        "How tall are you?": "5'9\"",
        "Which way round do you bat?": ["right-handed"],
        "How long is your hand?": "7½ in",
    },
    "Your game": {
        "Which cricket is this bat for?": ["club cricket"],
        "Where do you bat in the order?": ["three or four"],
        "How do you make your runs?": ["I take what the ball offers"],
        "all day or longer": "2",
        "40 to 50 overs": "14",
        "20 overs or fewer": "6",
    },
    "Your pitches": {
        "Off a good length": ["thigh"],
        "What do you bat on most?": ["turf"],
        "Is the ground often damp": ["no"],
    },
    "What it has to stand": {
        "Which balls will it meet?": ["hard leather", "machine or hard practice balls"],
        "How many hours a week": "2.5",
    },
    "Your hands on the handle": {
        "How much of the handle shows": ["two or three fingers"],
        "How tightly do you hold it?": ["firmly"],
        "Which hand does the work?": ["the top hand"],
    },
    "The bat you use": {
        "What would you change about the bat": ["much"],
        "Late in a long innings": ["too heavy"],
    },
    "The bat you use, measured": {"What does it weigh?": "2 lb 9", "How long is it?": "851 mm"},
    "Where the ball meets it": {},
    "What comes first": {},
    "What you wish of the blade": {},
    "What you wish of the handle": {"How many grips?": ["one"]},
    "Its face, and its looks": {"How fine should the willow look?": ["fine"]},
}


def answer(page: Page, answers: dict) -> None:
    """Fill in one page of the interview."""
    for ask, given in answers.items():
        if isinstance(given, str):
            page.get_by_label(ask).fill(given)
            continue
        question = page.get_by_role("group", name=ask)
        for choice in given:
            # The word begins the label; an explanation may follow it.
            question.get_by_label(re.compile(rf"^\s*{choice}\b")).check()


def begin_a_fitting(page: Page) -> None:
    """Open the site and begin."""
    page.goto("/")
    page.get_by_role("link", name="Begin a fitting").first.click()
    page.get_by_role("button", name="Begin").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("You")


def answer_all(page: Page, pages: dict, *, after_page=None) -> None:
    """Answer page after page, until the whole bat is shown."""
    for title, answers in pages.items():
        expect(page.get_by_role("heading", level=1)).to_have_text(title)
        answer(page, answers)
        if after_page:
            after_page(title)
        page.get_by_role("button", name=re.compile("^Keep")).click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Your bat, as we would make it")


def leave_the_address(page: Page, address: str) -> None:
    """Leave a mail address on the draft and come back through the letter's link."""
    page.get_by_role("link", name="Keep it, to send it to the maker").first.click()
    page.get_by_label("Your mail address").fill(address)
    page.get_by_role("button", name="Send me the link").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("A letter is on its way")
    open_the_link(page, address)
    expect(page.get_by_role("heading", level=1)).to_have_text("Your bat, as we would make it")


def open_the_link(page: Page, address: str) -> None:
    """Open the newest sign-in link; the button signs in, opening alone does not."""
    page.goto(link_in(the_post(address, "Sign in"), "/sign-in/link/"))
    page.get_by_role("button", name="Yes, sign me in").click()


def sign_in_by_letter(page: Page, address: str) -> None:
    """Sign in as a player or guardian."""
    page.goto("/sign-in/")
    page.get_by_label("Your mail address").fill(address)
    page.get_by_role("button", name="Write to me").click()
    open_the_link(page, address)


def sign_in_by_password(page: Page, address: str) -> None:
    """Sign in as somebody who works here."""
    page.goto("/sign-in/workshop/")
    page.get_by_label("Your mail address").fill(address)
    page.get_by_label("Password").fill(STAFF_PASSWORD)
    page.get_by_role("button", name="Sign in", exact=True).click()
    expect(page.get_by_role("button", name="Sign out")).to_be_visible()


def send_for_myself(page: Page, name: str) -> None:
    """Say that the bat is for oneself, and send it."""
    page.get_by_role("link", name="Say whom it is for, then send it").first.click()
    page.get_by_label("Your own name").fill(name)
    page.get_by_label("for me").check()
    page.get_by_role("button", name="Keep it so").click()
    page.get_by_role("button", name="Send it to the maker").first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text(f"A bat for {name}")


def take_a_cleft_in(page: Page, label: int, raw: RawCleft) -> None:
    """Put a cleft on the rack, ready to be cut."""
    page.get_by_role("link", name="Rack", exact=True).click()
    page.get_by_role("link", name="Take a cleft in").first.click()
    typed = {"Number": str(label), "Length": f"{raw.length_mm:g}", "Moisture": f"{raw.moisture_percent:g}"}
    typed["Mass"] = f"{raw.mass_g / 1000:.4f} kg"
    for what, sizes in (("Width", raw.widths_mm), ("Depth", raw.depths_mm)):
        for where, size in zip(("near end 1", "in the middle", "near end 2"), sizes, strict=True):
            typed[f"{what} {where}"] = f"{size:g}"
    for ask, given in typed.items():
        page.get_by_label(ask, exact=True).fill(given)
    page.get_by_label("Grains").fill("9")
    page.get_by_label("1, the finest").check()
    page.get_by_label("ready to be cut").check()
    page.get_by_role("button", name="Put it on the rack").click()
    expect(page.locator("main")).to_contain_text(f"{label:04d}")


def thicken_a_station(page: Page, place: int, by_mm: float) -> None:
    """In the form of the build sheet put some wood on one station, and see the numbers follow."""
    before = page.locator("#weighing dd.big").first.inner_text()
    box = page.get_by_label(f"spine, station {place}", exact=True)
    box.fill(f"{float(box.input_value()) + by_mm:g}")
    expect(page.locator("#weighing dd.big").first).not_to_have_text(before)


def propose(page: Page, *, price: str, ready: tuple[date, date], cleft: str, words: str) -> None:
    """Fill in the proposal's form and send it."""
    page.get_by_role("link", name="Propose it").click()
    page.get_by_label(re.compile("^Price in")).fill(price)
    page.get_by_label("Ready not before").fill(ready[0].isoformat())
    page.get_by_label("Ready not after").fill(ready[1].isoformat())
    page.get_by_label(re.compile(rf"^\s*{cleft} · grade")).check()
    page.get_by_label("A word to the player").fill(words)
    page.get_by_role("button", name="Propose it").click()
    expect(page.get_by_role("status").first).to_contain_text("Proposed.")


def to_my_bat(page: Page, player: str) -> None:
    """Go to the player's own page of the bat."""
    page.get_by_role("link", name="My bats", exact=True).click()
    page.get_by_role("link", name=f"A bat for {player}").first.click()


def to_the_bench(page: Page, player: str) -> None:
    """Go to the bat's page at the bench."""
    page.get_by_role("link", name="Bench", exact=True).click()
    page.get_by_role("link", name=player.split()[0]).click()


def tick_every_step(page: Page) -> None:
    """Tick every step of the stage, one after the other."""
    open_steps = page.locator("#steps button.step")
    for left in range(open_steps.count(), 0, -1):
        open_steps.first.click()
        expect(open_steps).to_have_count(left - 1)


def read_the_instruments(page: Page, read: dict[str, str]) -> None:
    """Type every reading of the stage: as ``read`` says by name, else the number to be hit."""
    for box in page.locator("#readings .typed input").all():
        name = str(box.get_attribute("name"))
        if box.input_value():
            continue
        aim = page.locator(f"#aim-{name}").inner_text()
        known = read.get(name) or read.get(name.split("-")[0])
        if known or re.search(r"\d", aim):
            box.fill(known or f"{number(aim):g}")


def keep_the_readings(page: Page) -> None:
    """Keep what was typed."""
    page.get_by_role("button", name="Keep these readings").click()


def work_the_stage(page: Page, read: dict[str, str], onward: str) -> None:
    """Do a whole stage, let its time go by, and pass the bat on.

    How the cleft lies, the press and its depths have a journey of their own and are entered straight away.
    """
    bat = Bat.objects.get(code=page.url.split("/floor/bench/")[1].split("/")[0])
    hand = User.objects.get(role=Role.BENCH_HAND)
    tick_every_step(page)
    if bat.stage == Stage.CLEFT_SELECTION:
        orient(work_on(bat), Lie(toe_end=1, face_side="a"), outside_edge=1, by=hand)
    if bat.stage == Stage.PRESSING:
        press_once(bat, hand)
    days_go_by(bat)
    if bat.stage == Stage.PRESSING:
        typed = {name: float(value) for name, value in on_the_numbers(bat).items()}
        keep_entries(work_on(bat), Typed(typed, {}), by=hand)
        page.goto(f"/floor/bench/{bat.code}/")
    else:
        # Anew, and not the answer to a form that was refused.
        page.goto(f"/floor/bench/{bat.code}/")
        read_the_instruments(page, read)
        keep_the_readings(page)
        expect(page.locator("#faults")).to_have_count(0)
        expect(page.locator("#kept")).to_be_visible()
    page.get_by_role("button", name=re.compile("^Pass on to")).click()
    expect(page.locator("#faults")).to_have_count(0)
    expect(page.locator("main .job-stage")).to_have_text(re.compile(onward, re.IGNORECASE))


def deliver(page: Page, player: str, words: str) -> None:
    """Hand the finished bat to the carrier."""
    page.get_by_role("link", name="Morning", exact=True).click()
    page.get_by_role("region", name="Ready to go").get_by_role("link", name=player).click()
    page.get_by_role("link", name="Deliver it").click()
    page.get_by_role("radio").first.check()
    page.get_by_label("A word to the player").fill(words)
    page.get_by_role("button", name="It is delivered").click()


def send_for_a_child(page: Page, *, guardian: str, child: str, born: str) -> None:
    """Say that the bat is for a child that one answers for, and send it."""
    page.get_by_role("link", name="Say whom it is for, then send it").first.click()
    page.get_by_label("Your own name").fill(guardian)
    page.get_by_label("Their name").fill(child)
    page.get_by_label("Their date of birth").fill(born)
    page.get_by_label("How you are related").fill("mother")
    page.get_by_label("I am 18 or older").check()
    page.get_by_role("button", name="Keep it so").click()
    page.get_by_role("button", name="Send it to the maker").first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text(f"A bat for {child}")
