from tests.builds import a_build
from workshop.review.comparing import changed_rows


def test_the_same_bat_differs_in_nothing():
    build = a_build()

    assert changed_rows(build, build) == ()


def test_a_second_grip_is_told_in_its_field():
    rows = changed_rows(a_build(), a_build(grips__count=2))

    assert [(row.what, row.first, row.second) for row in rows] == [("grips", "1", "2")]


def test_depths_are_told_by_their_place():
    stations = a_build().model_dump(mode="json")["blade"]["stations"]
    stations[3]["spine_mm"] -= 2

    rows = changed_rows(a_build(), a_build(blade__stations=stations))

    assert ("spine at 220", "63.0 mm", "61.0 mm", "−2.0 mm") in [
        (row.what, row.first, row.second, row.change) for row in rows
    ]


def test_a_covering_that_one_of_them_lacks_is_told():
    film = a_build(protection__face_film={"thickness_mm": 0.25, "mass_g": 15})

    rows = {row.what: (row.first, row.second) for row in changed_rows(a_build(), film)}

    assert rows["face film, mass"] == ("none", "15 g")
