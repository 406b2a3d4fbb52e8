"""What a choice changes, in words."""

from orders.words.effects import say_effect


def test_change_is_said_by_quantity_with_its_direction():
    said = say_effect(
        {"mass_g": -32.1, "pickup_kg_m2": -0.0065, "balance_from_toe_mm": 2.8, "reach_mm": -10.7},
        pickup_kg_m2=0.18,
    )
    assert said == (
        "32 g lighter",
        "3.6 % lighter to lift",
        "balances 3 mm nearer the hands",
        "a middle 11 mm shorter",
    )


def test_peak_towards_the_toe_is_lower_down():
    assert say_effect({"peak_from_toe_mm": -13.8}, pickup_kg_m2=0.18) == ("hits hardest 14 mm lower down",)


def test_speed_and_willow_are_said():
    said = say_effect({"exit_speed_percent": -1.2, "density_kg_m3": 20}, pickup_kg_m2=0.18)
    assert said == ("1.2 % less speed", "willow 20 kg/m³ denser")


def test_what_nobody_notices_is_not_said():
    quiet = {"mass_g": 1.4, "pickup_kg_m2": 0.0004, "balance_from_toe_mm": -1.1, "peak_from_toe_mm": 0.2}
    assert say_effect(quiet, pickup_kg_m2=0.18) == ()
    assert say_effect({}, pickup_kg_m2=0.18) == ()
