"""What stands beside a field: defaults in the owner's units, guesses that rest on other guesses."""

from engine.plan import Plan, with_text
from wizard.echo import echo, hint
from wizard.examples import examples_for, summary


def test_a_default_stands_in_the_owners_units() -> None:
    assert echo(Plan(units="metric"), "hull.water_temperature") == "empty: 15 C"
    assert echo(Plan(units="imperial"), "hull.water_temperature") == "empty: 59 F"
    assert "Empty: 104 F (" in hint(Plan(units="imperial"), "engine.intake_air")


def test_a_guess_that_rests_on_other_guesses_is_told() -> None:
    plan = Plan(units="imperial")
    for path, text in (("kind", "harbour launch"), ("waterline_length", "36 ft"), ("waterline_beam", "?")):
        plan = with_text(plan, f"hull.{path}", text)
    plan = with_text(with_text(plan, "hull.displacement", "?"), "hull.hull_draft", "?")
    assert all(echo(plan, f"hull.{name}").startswith("taken: ") for name in ("waterline_beam", "displacement"))
    assert echo(plan, "hull.hull_draft").startswith("taken: ")


def test_what_was_understood_of_a_volume_is_told_in_cubic_feet_too() -> None:
    assert echo(with_text(Plan(), "hull.keel_volume", "2 m3"), "hull.keel_volume") == "2 m3 = 70.63 ft3"


def test_each_of_several_values_is_told_as_it_was_understood() -> None:
    assert echo(with_text(Plan(), "range.tank", "2 x 120 L; 0.2 m3"), "range.tank") == (
        "120 L = 31.7 US gal; 120 L = 31.7 US gal; 200 L = 52.83 US gal"
    )


def test_how_unsure_a_value_is_stands_in_the_owners_units() -> None:
    text, path = "6.7 t (6.4 t to 7.5 t)", "hull.displacement"
    best = "6700 kg = 14770 lb"
    assert echo(with_text(Plan(units="metric"), path, text), path) == f"{best} (6400 kg to 7500 kg)"
    assert echo(with_text(Plan(units="imperial"), path, text), path) == f"{best} (14110 lb to 16530 lb)"


def test_an_example_is_told_in_the_owners_units() -> None:
    example = examples_for("engine.candidate")["invented 22 kW diesel"]
    assert summary(example, "metric") == "22 kW at 3000 rpm, 185 kg"
    assert summary(example, "imperial") == "29.5 hp at 3000 rpm, 408 lb"
