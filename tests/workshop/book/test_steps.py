"""The steps of the bench are the maker's: order, stage, needed, hours to lie, steps of their own."""

import pytest

from fitting.sheets.default_book import DEFAULT_BOOK
from orders.commissions.book_in_force import book_in_force
from orders.commissions.editions import keep_edition, number_in_force
from orders.commissions.models import BookVersion
from orders.people.once import new_key
from orders.words.stages import step_words
from workshop.book.pending import Pending
from workshop.book.step_form import StepForm

pytestmark = pytest.mark.django_db
STEPS = "/floor/book/steps/"


def the_form(**changes):
    """The form as a browser would send it: two underlines stand for a dot, None leaves a box out."""
    typed = {**StepForm.of_book(book_in_force(), Pending(seen=1)).typed, "once": new_key()}
    typed["version"] = str(number_in_force())
    for name, value in changes.items():
        box = name.replace("__", ".")
        typed = {key: said for key, said in typed.items() if key != box} | ({box: value} if value else {})
    return typed


@pytest.fixture
def set_steps(maker_client, save):
    """Change the steps as the maker does and save the book."""

    def send(**changes):
        answer = maker_client.post(STEPS, the_form(**changes))
        assert answer.status_code == 302, answer.content.decode()
        save("our way")
        return book_in_force().bench

    return send


def keys(bench, stage):
    return [step.key for step in bench.work(stage).steps]


def test_step_moves_to_another_stage_and_place(set_steps):
    bench = set_steps(
        stage__cut_socket="shaping",
        place__cut_socket="1",
        stage__glue_and_clamp="shaping",
        place__glue_and_clamp="2",
    )

    assert keys(bench, "shaping")[:3] == ["cut_socket", "cut_outline", "glue_and_clamp"]
    assert "cut_socket" not in keys(bench, "handle_fitting")
    assert bench.step("glue_and_clamp").wait_hours == 24


@pytest.mark.parametrize(
    ("place", "order"),
    [
        ("1", ["oil", "sand", "raise_grain", "burnish", "gauge_bare", "mark", "coverings"]),
        ("3", ["sand", "raise_grain", "oil", "burnish", "gauge_bare", "mark", "coverings"]),
        ("7", ["sand", "raise_grain", "burnish", "gauge_bare", "mark", "coverings", "oil"]),
    ],
)
def test_step_goes_where_it_is_put(set_steps, place, order):
    bench = set_steps(place__oil=place)

    assert keys(bench, "finishing")[:7] == order


def test_own_step_has_its_words_everywhere_and_holds_the_bat(set_steps):
    bench = set_steps(
        new__words="Stamp the  shoulder", new__stage="finishing", new__wait="2,5", new__needed="on"
    )

    own = bench.work("finishing").steps[-1]
    assert (own.key, own.words, own.wait_hours, own.needed) == ("own_1_1", "Stamp the shoulder", 2.5, True)
    assert step_words(own.key, bench) == "Stamp the shoulder"


def test_known_step_keeps_its_words_and_can_be_taken_out_and_put_back(set_steps):
    without = set_steps(out__burnish="on", words__sand="Something else")
    assert "burnish" not in keys(without, "finishing")
    assert step_words("sand", without) == step_words("sand", DEFAULT_BOOK.bench)

    again = set_steps(back="burnish")
    assert keys(again, "finishing")[-1] == "burnish"


def test_needed_flags_of_steps_and_readings_are_the_makers(set_steps):
    bench = set_steps(
        needed__sand="on",
        needed__grip=None,
        entry__finishing__balance=None,
        entry__finishing__swing_time="on",
    )

    assert bench.step("sand").needed
    assert not bench.step("grip").needed
    needed = {entry.key: entry.needed for entry in bench.work("finishing").entries}
    assert (needed["balance"], needed["swing_time"], needed["mass"]) == (False, True, True)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"wait__oil": "721"}, "721 was given; hours from 0 to 720 are allowed."),
        ({"wait__oil": "a day"}, "a day was given; hours from 0 to 720"),
        ({"place__oil": "0"}, "its place is a whole number from 1 to 99"),
        ({"new__place": "3"}, "A step of your own needs its words."),
        ({"new__words": "x" * 161}, "161 letters were given; 160 at most."),
        (
            {f"out__{step.key}": "on" for step in DEFAULT_BOOK.bench.work("shaping").steps},
            "At least one step must stay in each stage.",
        ),
    ],
)
def test_step_that_cannot_be_is_refused_and_all_stays_as_typed(maker_client, workshop, changes, words):
    answer = maker_client.post(STEPS, the_form(place__mark="9", **changes))

    page = answer.content.decode()
    assert answer.status_code == 422
    assert words in page
    assert 'name="place.mark" value="9"' in page
    assert not BookVersion.objects.exists()


def test_what_is_changed_is_told_in_words_before_it_is_saved(maker_client, workshop):
    maker_client.post(STEPS, the_form(wait__oil="48", stage__cure="finishing"))

    page = maker_client.get("/floor/book/").content.decode()

    assert "Step “Oil, a day flat for each coat; never the splice”" in page
    assert "Finishing, not needed, 48 h to lie" in page
    assert "Handle fitting, needed" in page
    assert "Finishing, needed" in page
    assert book_in_force() == DEFAULT_BOOK


def test_steps_typed_upon_an_older_edition_are_told_and_not_kept(maker_client, maker, workshop):
    typed = the_form(wait__oil="48")
    keep_edition(DEFAULT_BOOK.model_copy(update={"law_margin_mm": 1.5}), seen=1, by=maker, note="meanwhile")

    answer = maker_client.post(STEPS, typed)

    assert answer.status_code == 409
    assert 'name="wait.oil" value="48"' in answer.content.decode()
    assert book_in_force().bench == DEFAULT_BOOK.bench


@pytest.mark.parametrize("client", ["player_client", "bench_client"])
def test_steps_are_changed_by_the_maker_alone(client, request, workshop):
    stranger = request.getfixturevalue(client)

    assert stranger.get(STEPS).status_code == 404
    assert stranger.post(STEPS, the_form(wait__oil="1")).status_code == 404
