"""A bench hand at a tablet: scans a bat's label, ticks, reads, presses, waits, passes on."""

import re
from dataclasses import dataclass
from typing import Any

from playwright.sync_api import Locator, Page, expect

from fitting.sheets.book_bench import DEFAULT_BENCH
from orders.commissions.models import Bat
from tests.journeys.reading import number

# Every number of a form with what stands beside it as its aim.
ASKED = """form => [...form.querySelectorAll('.typed input')].map(box => [
  box.name, box.value, document.getElementById(`aim-${box.name}`)?.textContent ?? ''])"""


@dataclass
class Hand:
    """One person with one tablet."""

    page: Page
    name: str
    email: str

    def scan(self, bat: Bat) -> None:
        """Open the bat as the camera does with its label."""
        self.page.goto(f"/floor/bench/{bat.code}/")

    def tap(self, name: str | re.Pattern[str], inside: str = "main") -> None:
        """Tap a button that sends its form, and wait for the page that answers."""
        self.send(self.page.locator(inside).get_by_role("button", name=name).first)

    def send(self, button: Locator) -> None:
        """Tap a button that sends its form, and wait for the page that answers."""
        with self.page.expect_navigation():
            button.tap()

    def tick(self, *, at_rest: bool = False, last: str = "") -> None:
        """Tick the needed steps, no further than ``last``: those before the rest, or those at it."""
        later = {step.key for work in DEFAULT_BENCH.stages for step in work.steps if step.at_rest}
        steps = self.page.locator("#steps button.step", has_text="needed before it passes on")
        keys = steps.evaluate_all("all => all.map(one => one.value)")
        for key in (key for key in keys if (key in later) == at_rest):
            self.page.locator(f"#steps button.step[value='{key}']").tap()
            expect(self.page.locator(f"#step-{key}")).to_have_class("done")
            if key == last:
                return

    def read(self, form: Locator, read: dict[str, str] | None = None) -> None:
        """Type every number of a form: as ``read`` says by name or key, else the number to be hit."""
        known = read or {}
        for name, shown, aim in form.evaluate(ASKED):
            value = known.get(name, known.get(name.split("-")[0], ""))
            if not value and not shown and re.search(r"\d", aim):
                value = f"{number(aim):g}"
            if value:
                form.locator(f"[name='{name}']").fill(value)

    def jump_through(self, form: Locator, read: dict[str, str]) -> int:
        """Type a form's numbers as from an instrument: the number, Enter, the next; return how many."""
        asked = form.evaluate(ASKED)
        form.locator(".typed input").first.focus()
        for name, _shown, aim in asked:
            box = self.page.locator("input:focus")
            expect(box).to_have_attribute("name", name)
            value = read.get(name, read.get(name.split("-")[0], ""))
            self.page.keyboard.type(value or f"{number(aim):g}")
            self.page.keyboard.press("Enter")
        expect(self.page.locator("button:focus")).to_have_count(1)
        return len(asked)

    def keep_readings(self, read: dict[str, str] | None = None, button: str = "Keep these readings") -> None:
        """Type the numbers of the stage and keep them."""
        form = self.page.locator("form", has=self.page.get_by_role("button", name=button)).first
        self.read(form, read)
        self.send(form.get_by_role("button", name=button))
        expect(self.page.locator("#faults")).to_have_count(0)

    def pass_on(self, to: str) -> None:
        """Pass the bat on; it goes."""
        self.tap(re.compile("^Pass on to"))
        expect(self.page.locator("#faults")).to_have_count(0)
        expect(self.page.locator("main .job-stage")).to_have_text(re.compile(to, re.IGNORECASE))

    def is_kept_back(self, *words: str) -> None:
        """Try to pass the bat on, and be told why it does not go."""
        self.tap(re.compile("^Pass on to"))
        for word in words:
            expect(self.page.locator("#faults")).to_contain_text(word)

    def lay_the_cleft(self) -> None:
        """Choose the first lie in which no fault is in the way, and an edge."""
        self.page.locator(".lie:not(.spoilt) input").first.check()
        self.page.locator("#edge-1").check()
        self.tap("Keep how it lies")

    def press(self, *, gauge: str, depths: dict[str, str] | None = None, tool: str = "flat_roller") -> None:
        """Take the wood through the press once."""
        form = self.page.locator("#next-pass")
        form.locator(f"#tool-{tool}").check()
        form.locator("[name='gauge']").fill(gauge)
        for name, depth in (depths or {}).items():
            form.locator(f"[name='{name}']").fill(depth)
        self.send(form.get_by_role("button", name=re.compile("^Keep pass")))
        expect(self.page.locator("#faults")).to_have_count(0)

    def go_to_the_scales(self) -> None:
        """Open the page on which a half-made bat is weighed."""
        self.page.locator("main").get_by_role("link", name=re.compile("scales|Weigh")).first.tap()
        expect(self.page.locator("#id_scales")).to_be_visible()

    def weigh(self, mass_g: float, balance_mm: float) -> None:
        """Put the half-made bat on the scales and keep what they show, in the condition the page tells."""
        page = self.page
        page.locator("#id_scales").fill(f"{mass_g:g}")
        page.locator("#id_balance_at").fill(f"{balance_mm:g}")
        self.tap("Keep this weighing")
        expect(page.locator("#faults")).to_have_count(0)
        expect(page.locator("#kept")).to_contain_text(f"{mass_g:g}")

    def forecast(self) -> dict[str, float]:
        """Return the forecast of the finished bat as it stands on the page, by what it is."""
        rows: Any = self.page.locator("#standing dl.figures > div").evaluate_all(
            """rows => rows.map(row => [row.querySelector('dt').textContent.trim(),
                                        row.querySelector('dd.big').textContent])"""
        )
        return {what: number(told) for what, told in rows}

    def cuts(self) -> dict[float, tuple[str, str]]:
        """Return what spine and edges are to read after the advised cuts, by whole mm from the toe."""
        rows = self.page.locator("table.cuts-table tbody tr").evaluate_all(
            "rows => rows.map(row => [...row.children].map(cell => cell.textContent.trim()))"
        )
        return {float(row[0]): (row[3], row[6]) for row in rows}
