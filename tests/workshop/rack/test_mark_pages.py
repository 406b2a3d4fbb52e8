"""Blemishes, photographs and labels on a cleft's page."""

import os

import pypdfium2
import pytest
import segno
from django.core.files.storage import default_storage
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from orders.messages.models import Photo
from orders.people.models import Player, User
from orders.people.once import new_key
from tests.factories import an_agreed_bat
from tests.orders.messages.pictures import picture, upload
from tests.workshop.rack.noted_wood import a_load, of_load, photographed
from tests.workshop.willow_on_rack import a_cleft
from workshop.rack import labels, photographs
from workshop.rack.clefts import fail, put_back, reserve
from workshop.rack.models import Cleft, CleftPhoto

KNOT = {
    "blemish-kind": "knot",
    "blemish-side": "b",
    "blemish-from_end": "120",
    "blemish-across": "4.5 cm",
    "blemish-size": "8",
}


@pytest.fixture
def cleft(maker: User) -> Cleft:
    return a_cleft(41, maker)


def post(client: Client, name: str, cleft: Cleft, fields: dict) -> tuple[int, str]:
    answer = client.post(reverse(f"rack:{name}", args=[cleft.code]), {"once": new_key(), **fields})
    return answer.status_code, answer.content.decode()


def page_of(client: Client, cleft: Cleft) -> str:
    return client.get(reverse("rack:cleft", args=[cleft.code])).content.decode()


def test_blemish_is_placed_by_typed_millimetres_and_struck_out(bench_client: Client, cleft: Cleft):
    assert post(bench_client, "blemish", cleft, KNOT)[0] == 302

    noted = cleft.blemishes.get()
    assert (noted.side, noted.from_end, noted.across, noted.size) == ("b", 1200, 450, 80)
    page = page_of(bench_client, cleft)
    assert "120 mm from end 1, 45 mm across, 8 mm long" in page
    assert 'class="mark knot"' in page

    post(bench_client, "strike-out", cleft, {"blemish": str(noted.pk)})
    assert not cleft.blemishes.exists()


@pytest.mark.parametrize(
    ("field", "typed", "told"),
    [
        ("from_end", "800", "farther from end 1 than the cleft is long"),
        ("across", "150", "beyond the other edge"),
        ("size", "0", "0.5 to 900 mm is allowed"),
        ("from_end", "far", "0 to 900 mm is allowed"),
    ],
)
def test_blemish_that_cannot_be_is_told_at_its_field_and_stays_typed(
    field: str, typed: str, told: str, bench_client: Client, cleft: Cleft
):
    status, page = post(bench_client, "blemish", cleft, {**KNOT, f"blemish-{field}": typed})

    assert status == 422
    assert told in page
    assert f'href="#id_blemish-{field}"' in page
    assert f'value="{typed}"' in page
    assert not cleft.blemishes.exists()


def test_blemish_of_another_cleft_is_not_struck_out(bench_client: Client, cleft: Cleft, maker: User):
    other = a_cleft(42, maker)
    post(bench_client, "blemish", other, KNOT)

    post(bench_client, "strike-out", cleft, {"blemish": str(other.blemishes.get().pk)})

    assert other.blemishes.count() == 1


def test_photograph_is_written_anew_and_seen_by_staff_only(
    bench_client: Client, client: Client, player_user: User, cleft: Cleft
):
    fields = {"photograph": upload(picture("PNG"), "a.png", "image/png"), "caption": "face"}
    assert post(bench_client, "photograph", cleft, fields)[0] == 302

    photo = cleft.photos.get()
    address = reverse("rack:see-photograph", args=[cleft.code, photo.code])
    answer = bench_client.get(address)
    assert answer.content.startswith(b"\xff\xd8")
    assert answer["Content-Type"] == "image/jpeg"
    client.force_login(player_user)
    assert client.get(address).status_code == 404


def test_photograph_that_is_none_is_refused(bench_client: Client, cleft: Cleft):
    status, page = post(bench_client, "photograph", cleft, {"photograph": upload(b"no picture")})

    assert status == 422
    assert "no photograph that can be read" in page
    assert not cleft.photos.exists()


def test_photographs_beyond_the_most_are_refused(bench_client: Client, cleft: Cleft, maker: User):
    CleftPhoto.objects.bulk_create(
        [CleftPhoto(cleft=cleft, width=1, height=1) for _ in range(photographs.MOST_OF_A_CLEFT)]
    )

    status, page = post(bench_client, "photograph", cleft, {"photograph": upload(picture())})

    assert status == 422
    assert "12 photographs are kept of a cleft" in page


def test_photograph_is_shown_to_the_player_once_the_cleft_is_reserved_and_hidden_again(
    bench_client: Client, client: Client, cleft: Cleft, maker: User, player: Player
):
    photo = photographed(cleft, maker)
    status, page = post(bench_client, "change-photograph", cleft, {"photo": photo.code, "act": "show"})
    assert status == 422
    assert "reserved for no bat" in page

    bat = an_agreed_bat(player, maker, at=timezone.now())
    reserve(cleft, bat, by=maker)
    assert post(bench_client, "change-photograph", cleft, {"photo": photo.code, "act": "show"})[0] == 302

    shown = Photo.objects.get()
    assert (shown.bat, shown.stage, shown.shown_to_player) == (bat, "cleft_selection", True)
    client.force_login(player.holder)
    seen = client.get(reverse("letters:photograph", args=[shown.code]))
    with photo.file.open() as file:
        assert seen.content == file.read()
    commission = client.get(reverse("commissions:commission", args=[bat.commission.code])).content.decode()
    assert shown.code in commission

    post(bench_client, "change-photograph", cleft, {"photo": photo.code, "act": "hide"})
    assert not Photo.objects.exists()
    assert cleft.photos.count() == 1


@pytest.mark.parametrize("ends", ["put_back", "fail"])
def test_photograph_is_not_shown_of_a_cleft_that_is_no_longer_the_bats(
    ends: str, cleft: Cleft, maker: User, player: Player
):
    photo = photographed(cleft, maker)
    reserve(cleft, an_agreed_bat(player, maker, at=timezone.now()), by=maker)
    photo = CleftPhoto.objects.select_related("cleft__bat__commission").get(pk=photo.pk)
    photographs.show(photo, by=maker)
    assert Photo.objects.count() == 1

    cleft = Cleft.objects.get(pk=cleft.pk)
    if ends == "put_back":
        put_back(cleft, by=maker)
    else:
        fail(cleft, "reject", by=maker, words="A shake in the middle.")

    assert not Photo.objects.exists()
    assert cleft.photos.get().shown_as is None


def test_photograph_removed_takes_its_file_along(
    bench_client: Client, cleft: Cleft, maker: User, django_capture_on_commit_callbacks
):
    photo = photographed(cleft, maker)
    name = photo.file.name or ""
    assert default_storage.exists(name)

    with django_capture_on_commit_callbacks(execute=True):
        post(bench_client, "change-photograph", cleft, {"photo": photo.code, "act": "remove"})

    assert not cleft.photos.exists()
    assert not default_storage.exists(name)


def test_sweep_removes_old_files_that_no_photograph_knows(cleft: Cleft, maker: User, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    kept = photographed(cleft, maker)
    for name in ("clefts/aa/old.jpg", "clefts/aa/new.jpg"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_bytes(b"x")
    for path in (tmp_path / "clefts/aa/old.jpg", tmp_path / (kept.file.name or "")):
        os.utime(path, (0, 0))

    assert photographs.sweep_files() == 1
    assert not (tmp_path / "clefts/aa/old.jpg").exists()
    assert (tmp_path / "clefts/aa/new.jpg").exists()
    assert (tmp_path / (kept.file.name or "")).exists()


def test_label_holds_the_address_of_the_cleft_as_a_square_code(bench_client: Client, cleft: Cleft):
    """The printed modules against those of the address, one by one."""
    answer = bench_client.get(reverse("rack:label", args=[cleft.code]))

    assert answer["Content-Type"] == "application/pdf"
    page = pypdfium2.PdfDocument(answer.content)[0]
    assert [round(size / 72 * 25.4) for size in page.get_size()] == [70, 37]
    assert cleft.label in page.get_textpage().get_text_range()
    wanted = segno.make(f"http://testserver/floor/rack/{cleft.code}/", error="m")
    assert _modules(page, len(wanted.matrix)) == [[bool(one) for one in row] for row in wanted.matrix]


def _modules(page: pypdfium2.PdfPage, count: int) -> list[list[bool]]:
    """Read a code of 29 mm with two modules of white about it, 3 mm from the label's corner."""
    scale = 9
    picture = page.render(scale=scale).to_pil().convert("L")
    mm = scale * 72 / 25.4
    module = 29 * mm / (count + 4)
    return [
        [
            picture.getpixel((int(3 * mm + (x + 2.5) * module), int(3 * mm + (y + 2.5) * module))) < 128
            for x in range(count)
        ]
        for y in range(count)
    ]


def test_label_sheets_are_of_what_the_filter_shows_24_on_a_page(bench_client: Client, maker: User):
    clefts = [a_cleft(41 + at, maker) for at in range(labels.A_SHEET + 2)]
    of_load(a_load(name="Winter <felling>"), *clefts)

    answer = bench_client.get(reverse("rack:labels"), {"shown": "ready"})

    pages = pypdfium2.PdfDocument(answer.content)
    words = [page.get_textpage().get_text_range() for page in pages]
    assert len(pages) == 2
    assert [sum(cleft.label in text for cleft in clefts) for text in words] == [24, 2]
    assert "Winter <felling>" in words[0].replace("\r\n", " ")
    assert bench_client.get(reverse("rack:labels"), {"shown": "seasoning"}).status_code == 404
