"""The summary on the terminal."""

from __future__ import annotations

from collections.abc import Iterator

from rich.console import Group, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from takeoff.bill.money import show as money
from takeoff.bill.total import Bill
from takeoff.lengths import Unit
from takeoff.sizes import sides

from .contents import Contents, taken
from .from_stock_csv import pieces


def summary(contents: Contents) -> Group:
    """What a plan comes to, for `rich.print`; no text of the job is taken for markup."""
    return Group(*_parts(contents))


def _parts(contents: Contents) -> Iterator[RenderableType]:
    for warning in contents.warnings:
        yield Text(warning, style="bold red")
    yield Text(contents.plan.job.name or "Job", style="bold")
    yield _metals(contents)
    for group in contents.groups:
        if group.compared:
            yield Text(group.compared, style="dim")
    unit = contents.plan.job.unit
    if contents.count_note:
        yield Text(contents.count_note, style="dim")
    if contents.from_stock:
        yield Text(f"It takes {taken(contents)}.")
    if contents.rack_note:
        yield Text(contents.rack_note, style="dim")
    yield Padding(_order(contents, unit), (1, 0, 0, 0))
    if contents.size_note:
        yield Text(contents.size_note, style="dim")
    if contents.from_stock:
        yield Padding(_from_stock(contents, unit), (1, 0, 0, 0))
    yield _weights(contents)
    yield Padding(_bill(contents.bill), (1, 0, 0, 0))
    for sentence in contents.bill.missing:
        yield Text(sentence, style="bold")
    for note in (*contents.price_notes, *contents.bill.notes):
        yield Text(note, style="yellow")


def _metals(contents: Contents) -> Table:
    # what must be bought is told by itself where the shop has some of the metal
    mixed = bool(contents.from_stock)
    cut_from = "Sheets, offcuts" if mixed else "Sheets"
    first = ["Metal", "Blanks", cut_from, "Used", *(["To buy"] if mixed else [])]
    table = _table(*first, "Cost", "At best", "Gap")
    for group in contents.groups:
        plan = group.group.plan
        table.add_row(
            Text(group.name),
            str(sum(blank.qty for blank in group.group.blanks)),
            str(group.sheets),
            f"{plan.used:.1%}",
            *([money(group.cost.bought)] if mixed else []),
            money(plan.cost),
            money(plan.bound),
            f"{plan.gap:.1%}",
        )
    return table


def _order(contents: Contents, unit: Unit) -> Table:
    table = _table("To buy", f"Size ({unit.name})", "Sheets", "Each", "Cost", "lb")
    for line in contents.order:
        table.add_row(
            Text(f"{line.metal.name}, {line.item.name}"),
            sides(line.width, line.length, unit),
            str(line.qty),
            money(line.unit_cost),
            money(line.cost),
            f"{float(line.weight):.1f}",
        )
    if len(contents.order) > 1:
        table.add_section()
        table.add_row(
            "all",
            "",
            str(sum(line.qty for line in contents.order)),
            "",
            money(contents.cost.bought),
            f"{float(sum(line.weight for line in contents.order)):.1f}",
        )
    return table


def _from_stock(contents: Contents, unit: Unit) -> Table:
    table = _table("From the shop's own", f"Size ({unit.name})", "Qty", "Worth", "lb")
    table.add_column("Where", overflow="fold")
    for line in contents.from_stock:
        for piece, part in pieces(line):
            table.add_row(
                Text(f"{part.metal.name}, {piece.label if piece else part.item.name}"),
                sides(part.width, part.length, unit),
                str(part.qty),
                money(part.cost),
                f"{float(part.weight):.1f}",
                Text(f"rack, {piece.place}" if piece and piece.place else str(part.item.supply)),
            )
    return table


def _weights(contents: Contents) -> Text:
    total = contents.weights
    return Text(
        f"{float(total.stock):.1f} lb of stock: {float(total.blanks):.1f} in blanks, "
        f"{float(total.offcuts):.1f} in offcuts to keep, {float(total.scrap):.1f} scrap."
    )


def _bill(bill: Bill) -> Table:
    table = _table("Bill", "Amount")
    table.add_column("From", overflow="fold")
    for line in bill.lines:
        table.add_row(Text(line.what), bill.money(line.amount), Text(line.why))
    table.add_section()
    table.add_row("total", bill.money(bill.total), "")
    return table


def _table(first: str, *others: str) -> Table:
    table = Table(box=None, pad_edge=False, header_style="bold")
    table.add_column(first, overflow="fold")
    for name in others:
        table.add_column(name, justify="right", overflow="fold")
    return table
