"""`blankwright commit`, `cut`, `release`, `undo`: what a plan does to the stock room."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from takeoff.plural import many

from .options import PlanFolder, ProfileFile, Remark, RoomPlace, printing
from .outcome import WRONG_INPUT
from .shown import tell_step, told_step

if TYPE_CHECKING:
    from takeoff.stockroom import PiecesGone, Room, Step
    from takeoff.storekeeping.plan_file import PlanOnFile

HIDDEN = "***"
"""Stands in the place of a room for a password."""

MOST_PLANS = 5
"""So often is planned again before the shop is told to do it by hand."""


def commit(
    folder: PlanFolder,
    replan: Annotated[
        bool,
        typer.Option(
            "--replan", help="Plan again, into the same folder, where something is gone by now."
        ),
    ] = False,
    room: RoomPlace = None,
    profile: ProfileFile = None,
) -> None:
    """Reserve all that a plan takes from the stock room, or nothing.

    If something is gone since it was planned, the plan is refused with a list of it.
    """
    from takeoff.profile import load  # noqa: PLC0415 - slow to load
    from takeoff.stockroom import PiecesGone  # noqa: PLC0415 - takes a database library
    from takeoff.storekeeping.which_room import open_existing, open_or_set_up, place_of  # noqa: PLC0415

    place = place_of(room, load(profile))
    for left in reversed(range(MOST_PLANS)):
        plan = _read(folder)
        # a plan that draws on no room may be the first one of a new room
        opening = open_or_set_up if plan.identity is None else open_existing
        with opening(place) as opened:
            plan.check_room(opened.identity, opened.place)
            plan = plan.as_noted(opened.plans.all())
            try:
                _commit(opened, plan)
            except PiecesGone as error:
                _complain(error, plan)
                if not (replan and plan.again and left):
                    typer.echo(_advice(plan, room), err=True)
                    raise typer.Exit(WRONG_INPUT) from None
            else:
                return
        _plan_again(plan, place)


def cut(
    folder: PlanFolder,
    place: Annotated[
        str,
        typer.Option(
            "--place", metavar="TEXT", callback=printing, help="Where the offcuts kept are put."
        ),
    ] = "",
    labels: Annotated[
        Path | None, typer.Option(metavar="PDF", help="Write labels for the offcuts kept.")
    ] = None,
    room: RoomPlace = None,
    profile: ProfileFile = None,
    note: Remark = "",
) -> None:
    """Take out of the stock room what a plan reserved, and put its offcuts on the rack."""
    from takeoff.profile import load  # noqa: PLC0415 - slow to load
    from takeoff.storekeeping.which_room import open_existing, place_of  # noqa: PLC0415

    shop = load(profile)
    plan = _read(folder)
    with open_existing(place_of(room, shop)) as opened:
        plan.check_room(opened.identity, opened.place)
        plan = plan.as_noted(opened.plans.all())
        step = opened.plans.cut(plan.key, plan.kept_at(place), note)
        kept = [opened.rack.get(label) for label in step.labels]
    tell_step(step)
    _tell_kept(plan, step)
    if labels is not None:
        from .rack_papers import write  # noqa: PLC0415

        write(kept, labels, shop.unit)


def release(
    folder: PlanFolder, room: RoomPlace = None, profile: ProfileFile = None, note: Remark = ""
) -> None:
    """Release what a plan has reserved."""
    from takeoff.profile import load  # noqa: PLC0415 - slow to load
    from takeoff.storekeeping.which_room import open_existing, place_of  # noqa: PLC0415

    plan = _read(folder)
    with open_existing(place_of(room, load(profile))) as opened:
        plan.check_room(opened.identity, opened.place)
        plan = plan.as_noted(opened.plans.all())
        tell_step(opened.plans.release(plan.key, note))


def undo(
    number: Annotated[
        int | None,
        typer.Argument(
            metavar="[STEP]", help="Its number; without it the last that is not undone."
        ),
    ] = None,
    room: RoomPlace = None,
    profile: ProfileFile = None,
    note: Remark = "",
) -> None:
    """Undo a step of the stock room. The history keeps both."""
    from takeoff.profile import load  # noqa: PLC0415 - slow to load
    from takeoff.storekeeping.which_room import open_existing, place_of  # noqa: PLC0415

    with open_existing(place_of(room, load(profile))) as opened:
        step = opened.undo(number, note)
        undone = opened.step(step.undoes) if step.undoes is not None else step
    typer.echo(f"{told_step(undone)}; undone by step {step.number}.")


def _read(folder: Path) -> PlanOnFile:
    from takeoff.storekeeping.plan_file import read_plan  # noqa: PLC0415

    return read_plan(folder)


def _commit(room: Room, plan: PlanOnFile) -> None:
    from takeoff.stockroom import NotThere, PlanState  # noqa: PLC0415 - takes a database library

    try:
        before = room.plans.get(plan.key).state
    except NotThere:
        before = PlanState.PLANNED
    step = room.plans.commit(plan.key, plan.name, plan.needs, str(plan.folder.resolve()))
    if before is PlanState.COMMITTED:
        typer.echo(f'The plan "{plan.name}" was reserved before, by step {step.number}.')
        return
    tell_step(step)
    sheets = sum(need.qty for need in plan.needs.sheets)
    offcuts = many(len(plan.needs.offcuts), "offcut")
    typer.echo(f"Reserved: {offcuts}, {many(sheets, 'sheet', 'on hand')}.")


def _complain(error: PiecesGone, plan: PlanOnFile) -> None:
    typer.echo(f'The plan "{plan.name}" cannot be reserved: {error}', err=True)


def _advice(plan: PlanOnFile, room: str | None) -> str:
    """What to do about a plan whose metal is gone."""
    from shlex import join  # noqa: PLC0415

    if not plan.again:
        return "Plan again."
    # with a password in it the place can't be told, and without it it can't be typed
    whole = HIDDEN not in plan.room
    here = ["--room", plan.room] if room and whole else []
    again = join(["blankwright", *_again(plan), *here])
    how = " with your --room" if room and not whole else ""
    return f"Plan again{how}:\n  {again}\nor commit with --replan, which does so and reserves it."


def _again(plan: PlanOnFile) -> tuple[str, ...]:
    """The arguments that make the plan anew, in the folder where it lies now."""
    return *plan.again, "--out", str(plan.folder.resolve())


def _plan_again(plan: PlanOnFile, place: str) -> None:
    """Make the plan anew in its folder, of what there is now."""
    from .main import app  # noqa: PLC0415 - that module imports this one

    typer.echo("Planning again.", err=True)
    here = ["--room", place] if place else []
    outcome = app([*_again(plan), *here], standalone_mode=False)
    if outcome:
        raise typer.Exit(int(outcome))


def _tell_kept(plan: PlanOnFile, step: Step) -> None:
    """Which label each offcut of the drawings has now."""
    for piece, label in zip(plan.kept, step.labels, strict=True):
        typer.echo(f"  offcut {piece.sheet} is {label}")
