"""`explain`: a fitting's numbers on the terminal."""

from .command import DATA, Command


def test_a_fitting_of_the_demo(command: Command) -> None:
    outcome = command("explain", DATA / "bakery.csv", "rb1", "--stock", DATA / "stock.csv")
    assert (outcome.code, outcome.err) == (0, "")
    assert "RB1: 1 x return box, galvanized 24 ga" in outcome.out
    assert "2 1/2 + 17 1/2 + 20 1/2 + 17 1/2 + 2 1/2 = 60 1/2 in" in outcome.out
    assert "ends.bearing_flange.strips.lip.width = 1/2 in" in outcome.out
    assert "8 each rivet" in outcome.out
    assert command.files() == set()


def test_a_mark_that_is_not_there(command: Command) -> None:
    outcome = command("explain", DATA / "bakery.csv", "RB3")
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err.startswith('"RB3" is no mark of this job. Did you mean "RB')


def test_a_mark_is_not_taken_for_markup(command: Command) -> None:
    job = command.job("[red]D1[/],duct,26,,20,,8,47,,,\n")
    assert "[red]D1[/]: 1 x straight duct" in command("explain", job, "[red]d1[/]").out
