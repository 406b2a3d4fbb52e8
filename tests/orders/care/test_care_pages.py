"""The pages of a finished bat: record, care, and the way back to the workshop."""

import io

import pypdf
import pytest
from django.test import Client
from django.urls import reverse

from fitting.laws import EDITIONS
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.snapshot import book_hash
from orders.care import returns
from orders.care.models import Return
from orders.commissions.models import BookVersion, BuildVersion, Commission, Proposal
from orders.commissions.states import Origin, Stage, State
from orders.messages.models import Letter, Photo
from orders.people.models import Player, User
from tests.factories import a_bat_in
from tests.finished import a_bat_with_its_player, a_ready_bat, a_return, post
from tests.orders.messages.pictures import picture, upload
from tests.weighings import kept_by_model_1

QUERIES_OF_A_RECORD = 22
PAGES = ["record", "record-pdf", "care", "send-back"]


def address(name: str, commission: Commission) -> str:
    return reverse(f"care:{name}", args=[commission.code])


def text(response) -> str:
    return response.content.decode()


@pytest.mark.parametrize("name", PAGES)
def test_page_of_somebody_elses_bat_is_not_there(
    name: str, player: Player, maker: User, other_player_client: Client, guardian_client: Client
):
    bat = a_bat_with_its_player(player, maker)
    for client in (other_player_client, guardian_client):
        assert client.get(address(name, bat.commission)).status_code == 404


@pytest.mark.parametrize("name", PAGES)
def test_page_of_a_bat_that_is_not_finished_is_not_there(
    name: str, player: Player, maker: User, player_client: Client
):
    bat = a_bat_in(Stage.SHAPING, player, maker)
    assert player_client.get(address(name, bat.commission)).status_code == 404


def test_record_is_held_to_the_edition_that_was_agreed_on(
    player: Player, maker: User, player_client: Client, monkeypatch: pytest.MonkeyPatch
):
    bat = a_bat_with_its_player(player, maker)
    page = text(player_client.get(address("record", bat.commission)))
    shares = [share.model_copy(update={"percent": 11}) for share in EDITIONS[2022].shares]
    other = EDITIONS[2022].model_copy(update={"shares": tuple(shares)})
    monkeypatch.setitem(EDITIONS, 2022, other)
    book = DEFAULT_BOOK.model_copy(update={"version": 2, "laws_edition": 2022})
    BookVersion.objects.create(number=2, content=book.model_dump(mode="json"), hash=book_hash(book))

    later = text(player_client.get(address("record", bat.commission)))

    assert "52 %" in page
    assert "52 %" in later
    assert "11 %" not in later


def test_record_shows_what_was_read_beside_what_was_agreed(
    player: Player, maker: User, player_client: Client
):
    bat = a_bat_with_its_player(player, maker)
    inspection = bat.inspections.get()
    mass = next(row for row in inspection.rows if row["key"] == "mass")

    page = text(player_client.get(address("record", bat.commission)))

    assert str(bat.serial) in page
    assert f"{mass['built']:.1f} g" in page
    assert f"{mass['agreed']:.1f} g" in page
    assert "everything in tolerance" in page
    assert page.count("<svg") >= 2
    for station in (row for row in inspection.rows if row["key"] == "spine"):
        assert f"{station['from_toe_mm']:.0f} mm</th>" in page
    assert "kg m²" not in page


def test_record_out_of_tolerance_tells_the_written_reason(player: Player, maker: User, player_client: Client):
    bat = a_ready_bat(player, maker, reason="The player wants the handle so.", girth_top=112)
    page = text(player_client.get(address("record", bat.commission)))
    assert "Passed out of tolerance, because:" in page
    assert "The player wants the handle so." in page
    assert "out of tolerance</span>" in page


def test_record_tells_stages_with_their_days_and_the_whole_history(
    player: Player, maker: User, player_client: Client
):
    found = a_return(player, maker, lifts="toe_heavy", dead_from_toe_mm=90.0)
    returns.adjust(found, by=maker, stages_needed=[Stage.FINISHING], words="A grip.", to_do="One more grip")

    page = text(player_client.get(address("record", found.commission)))

    for stage in ("Cleft selection", "Pressing", "Shaping", "Handle fitting", "Finishing", "Adjustment"):
        assert stage in page
    assert "1 Feb 2027" in page
    for words in ("Too heavy at the toe.", "heavy at the toe", "90 mm", "A grip.", "One more grip"):
        assert words in page


def test_record_shows_a_bench_hand_no_sum_of_money(
    player: Player, maker: User, bench_client: Client, maker_client: Client
):
    found = a_return(player, maker)
    returns.refund(found, by=maker, amount=12345, words="Half of it back.")
    assert "£123.45" in text(maker_client.get(address("record", found.commission)))
    again = a_return(player, maker)
    page = text(bench_client.get(address("record", again.commission)))
    assert str(again.bat.serial) in page
    assert "£" not in page


def test_record_names_who_did_it_to_staff_only(
    player: Player, maker: User, player_client: Client, maker_client: Client
):
    bat = a_bat_with_its_player(player, maker)
    assert f"({maker.name})" in text(maker_client.get(address("record", bat.commission)))
    assert f"({maker.name})" not in text(player_client.get(address("record", bat.commission)))


def test_record_on_paper_has_its_numbers_and_asks_nothing_of_the_net(
    player: Player, maker: User, player_client: Client
):
    bat = a_bat_with_its_player(player, maker)
    response = player_client.get(address("record-pdf", bat.commission))
    assert response["Content-Type"] == "application/pdf"
    assert response["Content-Disposition"] == f'inline; filename="bat-record-{bat.serial}.pdf"'
    pages = pypdf.PdfReader(io.BytesIO(response.content)).pages
    printed = " ".join(page.extract_text() for page in pages)
    mass = next(row for row in bat.inspections.get().rows if row["key"] == "mass")
    for words in (str(bat.serial), player.name, f"{mass['built']:.1f} g", "5.7.2", "Over the bench"):
        assert words in printed


def test_care_is_written_for_this_bat(player: Player, maker: User, player_client: Client):
    bat = a_bat_with_its_player(player, maker)
    page = text(player_client.get(address("care", bat.commission)))
    assert "of knocking-in left to you" in page
    assert "g for each per cent of moisture" in page
    assert "can catch fire" in page
    assert "A child knocks in" not in page


def test_care_of_a_childs_bat_speaks_to_an_adult(child: Player, maker: User, guardian_client: Client):
    bat = a_bat_with_its_player(child, maker)
    assert "A child knocks in and oils only with an adult" in text(
        guardian_client.get(address("care", bat.commission))
    )


def test_send_back_by_form_keeps_words_answers_and_photographs(
    player: Player, maker: User, player_client: Client
):
    bat = a_bat_with_its_player(player, maker)

    response = post(
        player_client,
        address("send-back", bat.commission),
        words="It stings low down.",
        lifts="toe_heavy",
        dead_at=["toe", "below"],
        dead_from_toe_mm="3 1/2 in",
        knocked_in_hours="4,5",
        photo_toe=upload(picture()),
    )

    assert response.status_code == 302
    assert response["Location"] == address("record", bat.commission)
    found = Return.objects.get()
    assert found.words == "It stings low down."
    assert found.answers == {
        "lifts": "toe_heavy",
        "dead_at": ["toe", "below"],
        "dead_from_toe_mm": 88.9,
        "knocked_in_hours": 4.5,
    }
    photo = Photo.objects.get()
    assert (photo.commission_id, photo.bat_id, photo.by) == (bat.commission_id, bat.pk, player.holder)
    assert photo.stage == returns.picture_mark(found)
    assert Commission.objects.get().state == State.BACK


def test_send_back_sent_twice_counts_once(player: Player, maker: User, player_client: Client):
    bat = a_bat_with_its_player(player, maker)
    where = address("send-back", bat.commission)
    key = text(player_client.get(where)).split('name="once" value="')[1][:26]
    answers = [player_client.post(where, {"once": key, "words": "Dead."}) for _ in range(2)]
    assert [answer["Location"] for answer in answers] == [address("record", bat.commission)] * 2
    assert Return.objects.count() == 1
    assert Letter.objects.filter(kind="bat_came_back").count() == 1


@pytest.mark.parametrize(
    ("field", "given", "said"),
    [
        ("words", "", "This field is required"),
        ("dead_from_toe_mm", "tall", "“tall” was given"),
        ("dead_from_toe_mm", "17.57 m", "“17.57 m” was given"),
        ("knocked_in_hours", "-3", "“-3” was given"),
        ("knocked_in_hours", "NaN", "“NaN” was given"),
        ("lifts", "sideways", "not one of the available choices"),
    ],
)
def test_send_back_with_a_fault_says_so_keeps_what_was_typed_and_stores_nothing(
    field: str, given: str, said: str, player: Player, maker: User, player_client: Client
):
    bat = a_bat_with_its_player(player, maker)
    fields = {"words": "It stings low down.", "handle": ["loose"], field: given}

    response = post(player_client, address("send-back", bat.commission), **fields)

    assert response.status_code == 422
    page = text(response)
    assert said in page.replace("&#x27;", "'")
    assert f'href="#id_{field}' in page
    assert page.count('value="loose"') == 1
    assert (
        'value="loose" id="id_handle_2" checked' in page or "checked" in page.split('value="loose"')[1][:60]
    )
    if field != "words":
        assert "It stings low down." in page
    assert not Return.objects.exists()
    assert Commission.objects.get().state == State.DELIVERED


@pytest.mark.parametrize(
    "content", [b"<svg onload=alert(1)>", b"", b"\xff\xd8\xff\xe0 not a picture"], ids=["svg", "empty", "cut"]
)
def test_send_back_with_a_file_that_is_no_photograph_keeps_the_words(
    content: bytes, player: Player, maker: User, player_client: Client
):
    bat = a_bat_with_its_player(player, maker)
    response = post(
        player_client,
        address("send-back", bat.commission),
        words="It stings low down.",
        photo_face=upload(content),
    )
    assert response.status_code == 422
    assert "It stings low down." in text(response)
    assert 'href="#id_photo_face"' in text(response)
    assert not Return.objects.exists()
    assert not Photo.objects.exists()


def test_send_back_of_a_bat_that_is_not_delivered_shows_why_and_changes_nothing(
    player: Player, maker: User, player_client: Client
):
    bat = a_ready_bat(player, maker)
    response = player_client.get(address("send-back", bat.commission))
    assert response.status_code == 409
    assert "Nothing was changed" in text(response)
    assert Commission.objects.get().state == State.READY


def test_send_back_is_not_for_a_bench_hand(player: Player, maker: User, bench_client: Client):
    bat = a_bat_with_its_player(player, maker)
    assert bench_client.get(address("send-back", bat.commission)).status_code == 404


def test_maker_writes_a_return_down_for_the_player(player: Player, maker: User, maker_client: Client):
    bat = a_bat_with_its_player(player, maker)
    response = post(maker_client, address("send-back", bat.commission), words="Rang up: the handle creaks.")
    assert response.status_code == 302
    assert Return.objects.get().asked_by == maker


def test_record_with_more_in_it_takes_no_more_queries(
    player: Player, maker: User, player_client: Client, django_assert_num_queries
):
    found = a_return(player, maker)
    # The first visit notes the session.
    player_client.get(address("care", found.commission))
    with django_assert_num_queries(QUERIES_OF_A_RECORD):
        player_client.get(address("record", found.commission))
    for words in ("Sound.", "Sound again."):
        returns.find_nothing(Return.objects.get(state="asked"), by=maker, words=words)
        returns.send_back(
            Commission.objects.get(), by=player.holder, words="It is not.", answers={"lifts": "too_heavy"}
        )
    with django_assert_num_queries(QUERIES_OF_A_RECORD):
        player_client.get(address("record", found.commission))


def test_record_tells_where_the_bat_as_built_hits_hardest(player: Player, maker: User, player_client: Client):
    bat = a_bat_with_its_player(player, maker)
    built = bat.commission.builds.get(origin=Origin.AS_BUILT).weighing["sweet_spot"]
    page = text(player_client.get(address("record", bat.commission)))
    assert f"about {5 * round(built['peak_from_toe_mm'] / 5)} mm" in page
    assert "agreed about" in page
    assert "older model" not in page


def test_record_of_a_bat_by_the_first_model_says_so_on_page_and_paper(
    player: Player, maker: User, player_client: Client
):
    bat = a_bat_with_its_player(player, maker)
    for version in bat.commission.builds.all():
        old = kept_by_model_1(version.weighing)
        BuildVersion.objects.filter(pk=version.pk).update(weighing=old)
    proposal = bat.commission.proposals.get()
    kept = {**proposal.snapshot, "weighing": kept_by_model_1(proposal.snapshot["weighing"])}
    Proposal.objects.filter(pk=proposal.pk).update(snapshot=kept)
    page = text(player_client.get(address("record", bat.commission)))
    assert "older model" in page
    assert "hits hardest, above the toe" not in page
    paper = player_client.get(address("record-pdf", bat.commission)).content
    words = " ".join(one.extract_text() for one in pypdf.PdfReader(io.BytesIO(paper)).pages)
    assert "lder model" in words
