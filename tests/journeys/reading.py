"""What stands on a page, read as its reader does; and the same asked of the commands."""

import json
import re
from io import BytesIO, StringIO
from pathlib import Path
from urllib.parse import urlsplit

from django.core import mail
from django.core.management import call_command
from playwright.sync_api import Page
from pypdf import PdfReader


def figures(page: Page, inside: str = "main") -> dict[str, tuple[str, str]]:
    """Return the big figures by what they are: the number and its note."""
    rows = page.locator(f"{inside} dl.figures > div").evaluate_all(
        """rows => rows.map(row => [
            row.querySelector("dt").textContent,
            row.querySelector("dd.big").textContent,
            row.querySelector("dd.note")?.textContent ?? "",
        ])"""
    )
    return {what: (number, note) for what, number, note in rows}


def number(words: str) -> float:
    """Return the first number in some words, as a reader takes it."""
    found = re.search(r"[-−+]?\d+(?:\.\d+)?", words)
    assert found, f"no number in {words!r}"
    return float(found[0].replace("−", "-"))


def asked(command: str, sheet: object, folder: Path, *options: str) -> dict:
    """Ask a command about a sheet in a file, as at a terminal, and return its JSON."""
    path = folder / "sheet.json"
    path.write_text(json.dumps(sheet))
    out = StringIO()
    call_command(command, str(path), "--json", *options, stdout=out)
    answer = json.loads(out.getvalue())
    assert answer
    return answer


def the_post(to: str, about: str = "") -> str:
    """Let the worker send what is due, and return the newest letter to an address."""
    call_command("work", "--once", stdout=StringIO())
    letters = [each for each in mail.outbox if each.to == [to] and about in f"{each.subject} {each.body}"]
    assert letters, f"no letter to {to} about {about!r}: {[(each.to, each.subject) for each in mail.outbox]}"
    return str(letters[-1].body)


def link_in(letter: str, part: str = "") -> str:
    """Return the path of the first link in a letter that holds ``part``."""
    found = [link for link in re.findall(r"https?://\S+", letter) if part in link]
    assert found, letter
    return urlsplit(found[0]).path


def rows(page: Page, caption: str) -> list[list[str]]:
    """Return the cells of a table, row by row, the head of each row among them."""
    found = page.locator("table", has=page.locator("caption", has_text=caption)).first
    cells = found.locator("tbody tr").evaluate_all(
        """rows => rows.map(row => [...row.querySelectorAll("th, td")].map(
            cell => cell.textContent.trim().replace(/\\s+/g, " ")))"""
    )
    assert cells, f"no rows under {caption}"
    return list(cells)


def labelled_rows(page: Page, caption: str) -> dict[str, dict[str, str]]:
    """Return the cells of a table by the words of their row and of their column."""
    found = page.locator("table", has=page.locator("caption", has_text=caption)).first
    cells = found.locator("tbody tr").evaluate_all(
        """rows => rows.map(row => [
            row.querySelector("th").textContent.trim(),
            [...row.querySelectorAll("td")].map(cell => [cell.dataset.label, cell.textContent.trim()])])"""
    )
    assert cells, f"no rows under {caption}"
    return {head: dict(row) for head, row in cells}


def choices(page: Page) -> dict[str, str]:
    """Return every choice of the draft page with its value, the folded ones too."""
    large = page.locator("section.reason h4").evaluate_all(
        "heads => heads.map(head => head.textContent.split(/:(.*)/s).map(part => part.trim()))"
    )
    small = page.locator(".subjects dl.facts dt").evaluate_all(
        """terms => terms.map(term => [
            term.textContent.trim(), term.nextElementSibling.querySelector(".num").textContent.trim()])"""
    )
    found = [(row[0], row[1]) for row in [*large, *small]]
    assert len(dict(found)) == len(found), "two choices of one name"
    return dict(found)


def pdf_text(page: Page, address: str) -> str:
    """Fetch a PDF with the session of a page, and return its words with single spaces."""
    answer = page.request.get(address)
    assert answer.ok, answer.status
    assert answer.headers["content-type"] == "application/pdf"
    leaves = PdfReader(BytesIO(answer.body())).pages
    return " ".join(" ".join(leaf.extract_text() for leaf in leaves).split())
