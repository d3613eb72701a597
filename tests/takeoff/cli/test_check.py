"""`check`: the blanks, and what was taken for granted."""

from takeoff.jobs.files import read_job

from .command import DATA, Command


def test_the_blanks_of_a_job(command: Command) -> None:
    # return box 18 high, 17 1/2 wide, 21 deep (common practice, no source): wrap 58 1/2 x 23,
    # two ends 18 x 20 3/4
    job = command.file(
        "job.csv", "mark,fitting,gauge,width,depth,height\nRB1,return box,26,17 1/2,21,18\n"
    )
    outcome = command("check", job)
    assert outcome.code == 0
    assert outcome.err == ""
    rows = [" ".join(line.split()) for line in outcome.out.splitlines()]
    assert "RB1 wrap return box 58 1/2 23 1 galvanized 26 ga" in rows
    assert "RB1 end return box 18 20 3/4 2 galvanized 26 ga" in rows
    assert "Sound: 1 fitting, 3 blanks." in outcome.out
    assert "Sheets: the standard sizes." in outcome.out
    assert "material is blank in every row: galvanized." in outcome.out


def test_what_the_shop_does_otherwise_is_told(command: Command) -> None:
    shop = command.file("shop.toml", 'units = "mm"\n[cut]\nkerf = 3\n')
    job = command.file(
        "job.csv", "mark,fitting,gauge,width,height,length\nD1,duct,26,500,200,900\n"
    )
    out = command("check", job, "--profile", shop).out
    assert "Numbers without a unit are millimetres: the list has no line # units." in out
    assert "Shop setting cut.kerf = 3 (default 0)." in out
    assert "Width (mm)" in out


def test_the_demo_jobs_are_sound(command: Command) -> None:
    outcome = command("check", DATA / "bakery.csv", "--stock", DATA / "stock.csv")
    assert outcome.code == 0
    assert "The run of 142 in is cut into 4 joints" in outcome.out
    assert command("check", DATA / "studio_mm.csv").code == 0


def test_the_demo_is_a_whole_job() -> None:
    job = read_job(DATA / "bakery.csv")
    assert sum(line.qty for line in job.lines) >= 12
    assert len({line.metal for line in job.lines}) >= 2
    assert {"return box", "plenum", "straight duct", "end cap", "box"} <= {
        line.fitting.kind for line in job.lines
    }


def test_a_blank_that_the_shear_cannot_cut_is_not_called_sound(command: Command) -> None:
    shop = command.file("shop.toml", "[shear]\nlength = 52\n")
    job = command.file("job.csv", "mark,fitting,gauge,width,height\nC1,end cap,26,70,8\n")
    outcome = command("check", job, "--profile", shop)
    assert "C1 cap cannot be sheared" in outcome.out
    last = outcome.out.splitlines()[-1]
    assert last == "Sound but for 1 blank that the shear cannot cut: 1 fitting, 1 blank."


def test_a_transition_that_changes_nothing_is_told(command: Command) -> None:
    job = command.file(
        "job.csv", "mark,fitting,gauge,width,height,length\nT1,transition,26,10,10,12\n"
    )
    out = " ".join(command("check", job).out.split())
    assert "T1: its second opening is as large as the first and in line with it" in out
    assert "Sound: 1 fitting" in out
