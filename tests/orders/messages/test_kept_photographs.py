"""Photographs as they are kept with a commission, and who gets to see them."""

import os
import time
from pathlib import Path

import pytest
from django.conf import settings as django_settings
from django.utils.datastructures import MultiValueDict

from orders.commissions.models import Commission
from orders.messages.forms import PhotographForm
from orders.messages.models import Photo
from orders.messages.photographs import (
    MOST_PER_COMMISSION,
    ORPHAN_AFTER_SECONDS,
    PhotographRefused,
    keep_photograph,
    remove_photograph,
    sweep_files,
)
from orders.people.rate_limits import PHOTOGRAPHS_BY_PERSON, count
from tests.orders.messages.pictures import from_a_phone, picture, upload

pytestmark = pytest.mark.django_db


@pytest.fixture
def commission(player):
    """The player's commission, in a state in which the bench sees it."""
    return Commission.objects.create(number=1, player=player, holder=player.holder, sheet={}, state="making")


@pytest.fixture
def photo(commission, maker):
    """A photograph the maker took and shows to the player."""
    return keep_photograph(upload(picture()), commission=commission, by=maker, shown_to_player=True)


def address(photo):
    """Return where a photograph is seen."""
    return f"/photographs/{photo.code}/"


def test_file_gets_a_name_of_its_own_outside_of_what_is_served(commission, maker):
    sent = upload(from_a_phone(), "../../evil.php.jpg")
    photo = keep_photograph(sent, commission=commission, by=maker, caption="toe")
    path = Path(photo.file.path)
    assert path.is_relative_to(Path(django_settings.MEDIA_ROOT) / "photographs")
    assert "evil" not in str(photo.file.name)
    assert (photo.width, photo.height, photo.caption, photo.shown_to_player) == (60, 120, "toe", False)
    assert path.read_bytes() != from_a_phone()


def test_photograph_is_sent_so_that_it_can_only_be_looked_at(photo, player_client):
    answer = player_client.get(address(photo))
    assert answer.content == Path(photo.file.path).read_bytes()
    assert answer["Content-Type"] == "image/jpeg"
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Content-Security-Policy"] == "default-src 'none'; sandbox"
    assert answer["Cross-Origin-Resource-Policy"] == "same-origin"
    assert answer["Cache-Control"] == "no-store, private"
    assert answer["Content-Disposition"] == f'inline; filename="photograph-{photo.code}.jpg"'


def test_stranger_finds_no_photograph(photo, other_player_client, guardian_client, anyone):
    assert other_player_client.get(address(photo)).status_code == 404
    assert guardian_client.get(address(photo)).status_code == 404
    assert anyone.get(address(photo))["Location"].startswith("/sign-in/")
    assert anyone.get(f"/media/{photo.file.name}").status_code == 404
    assert anyone.get(f"/static/{photo.file.name}").status_code == 404


def test_photograph_that_does_not_exist_is_not_found(player_client):
    assert player_client.get("/photographs/0000000000/").status_code == 404


def test_photograph_whose_file_is_lost_is_not_found(photo, player_client):
    Path(photo.file.path).unlink()
    assert player_client.get(address(photo)).status_code == 404


def test_photograph_not_meant_for_the_player_is_seen_in_the_workshop_only(
    commission, maker, player_client, maker_client, bench_client
):
    photo = keep_photograph(upload(picture()), commission=commission, by=maker)
    assert player_client.get(address(photo)).status_code == 404
    assert maker_client.get(address(photo)).status_code == 200
    assert bench_client.get(address(photo)).status_code == 200


def test_player_sees_the_photograph_they_sent(commission, player_user, player_client):
    photo = keep_photograph(upload(picture()), commission=commission, by=player_user)
    assert player_client.get(address(photo)).status_code == 200


def test_one_photograph_too_many_is_refused_at_the_field(commission, maker):
    for _ in range(MOST_PER_COMMISSION):
        keep_photograph(upload(picture()), commission=commission, by=maker)
    with pytest.raises(PhotographRefused, match="too_many"):
        keep_photograph(upload(picture()), commission=commission, by=maker)
    form = PhotographForm({"caption": ""}, MultiValueDict({"photograph": [upload(picture())]}))
    assert form.is_valid()
    assert form.keep(commission=commission, by=maker) is None
    assert "20 photographs" in str(form.errors["photograph"])
    assert Photo.objects.count() == MOST_PER_COMMISSION


def test_very_many_photographs_of_one_person_must_wait(commission, maker):
    for _ in range(PHOTOGRAPHS_BY_PERSON.most):
        count(PHOTOGRAPHS_BY_PERSON, str(maker.pk))
    with pytest.raises(PhotographRefused, match="too_often"):
        keep_photograph(upload(picture()), commission=commission, by=maker)
    assert not Photo.objects.exists()


def test_form_keeps_the_photograph_with_its_caption(commission, maker):
    form = PhotographForm({"caption": "a crack"}, MultiValueDict({"photograph": [upload(picture())]}))
    assert form.is_valid()
    kept = form.keep(commission=commission, by=maker, stage="shaping")
    assert kept is not None
    assert (kept.caption, kept.stage) == ("a crack", "shaping")


def test_removed_photograph_leaves_no_file(photo, django_capture_on_commit_callbacks):
    path = Path(photo.file.path)
    with django_capture_on_commit_callbacks(execute=True):
        remove_photograph(photo)
    assert not path.exists()
    assert not Photo.objects.exists()


def test_sweeping_removes_old_files_without_a_row_and_nothing_else(photo):
    folder = Path(photo.file.path).parent
    old = time.time() - ORPHAN_AFTER_SECONDS - 60
    os.utime(photo.file.path, (old, old))
    orphan, fresh = folder / "orphan.jpg", folder / "fresh.jpg"
    orphan.write_bytes(b"x")
    fresh.write_bytes(b"x")
    os.utime(orphan, (old, old))
    assert sweep_files() == 1
    assert not orphan.exists()
    assert fresh.exists()
    assert Path(photo.file.path).exists()


def test_files_go_with_their_commission(photo, commission):
    path = Path(photo.file.path)
    old = time.time() - ORPHAN_AFTER_SECONDS - 60
    os.utime(path, (old, old))
    commission.delete()
    assert not Photo.objects.exists()
    sweep_files()
    assert not path.exists()
