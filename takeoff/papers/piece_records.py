"""Fittings and their pieces in the form of plan.json."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from takeoff.blanks import JobBlank, MadeLine
from takeoff.jobs.card_text import filled_in
from takeoff.lengths import Unit, show_exactly
from takeoff.pattern.bending import BendStep
from takeoff.pattern.facets import Piece, Point
from takeoff.pattern.marks import Axis, running_marks
from takeoff.pattern.outline import outline

from . import plan_schema as form

Bends = Mapping[str, Sequence[BendStep]]
"""The order of bends by the blank's name."""


def fitting_record(made: MadeLine, bends: Bends, unit: Unit) -> form.FittingRecord:
    """A row of the job list with its pieces."""
    line = made.line
    return form.FittingRecord(
        mark=line.mark,
        fitting=line.fitting.kind,
        qty=line.qty,
        material=line.metal.material,
        gauge=line.metal.gauge,
        note=line.note,
        given=filled_in(line.fitting, unit),
        notes=made.made.notes,
        hardware=tuple(
            form.HardwareRecord(item.what, item.qty, item.note) for item in made.made.hardware
        ),
        cutouts=tuple(
            form.CutoutRecord(
                cutout.name,
                _points(cutout.points),
                None if cutout.diameter is None else float(cutout.diameter),
                cutout.note,
            )
            for cutout in made.made.cutouts
        ),
        pieces=tuple(_piece(blank, bends[blank.name], unit) for blank in made.blanks),
    )


def _piece(blank: JobBlank, order: Sequence[BendStep], unit: Unit) -> form.PieceRecord:
    piece = blank.piece
    shape = outline(piece)
    return form.PieceRecord(
        blank=blank.name,
        name=piece.name,
        qty=blank.qty,
        width_in=float(blank.width),
        length_in=float(blank.length),
        outline=_points(shape.points),
        slits=tuple(_points((slit.start, slit.end)) for slit in shape.slits),
        bends=tuple(
            form.BendRecord(
                piece.facet(hinge.child).label or "bend",
                _point(hinge.start),
                _point(hinge.end),
                hinge.angle,
                hinge.forming.value,
            )
            for hinge in piece.bends
        ),
        bend_order=tuple(record for step in order for record in _step(step)),
        marks_width=_marks(piece, Axis.WIDTH, unit),
        marks_length=_marks(piece, Axis.LENGTH, unit),
        holes=tuple(
            form.HoleRecord(
                hole.label,
                _points(hole.points),
                None if hole.centre is None else _point(hole.centre),
                None if hole.diameter is None else float(hole.diameter),
            )
            for hole in piece.holes
        ),
        notches=tuple(
            form.NotchRecord(notch.kind.value, _points(notch.points)) for notch in piece.notches
        ),
        cross_break=piece.cross_break,
    )


def _step(step: BendStep) -> Iterator[form.BendStepRecord]:
    for start, end in step.lines:
        yield form.BendStepRecord(
            step.label, _point(start), _point(end), step.angle, str(step.place)
        )


def _marks(piece: Piece, axis: Axis, unit: Unit) -> tuple[form.MarkRecord, ...]:
    return tuple(
        form.MarkRecord(float(mark.at), show_exactly(mark.at, unit), mark.label, mark.angle)
        for mark in running_marks(piece, axis)
    )


def _point(point: Point) -> tuple[float, float]:
    return float(point[0]), float(point[1])


def _points(points: Iterable[Point]) -> form.Points:
    return tuple(_point(point) for point in points)
