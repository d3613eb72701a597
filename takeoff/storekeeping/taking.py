"""What of a stock room a plan may take, and what the shop buys."""

from __future__ import annotations

from takeoff.settings import Profile
from takeoff.stock import StockItem, StockList, price
from takeoff.stockroom import Kind, Offcut, Room
from takeoff.supply import ROOM_LIST, Draw, RackPiece
from takeoff.withdrawal import OnHand, OnRack, RoomUse, Withdrawal


def withdrawal(room: Room, draw: Draw, again: tuple[str, ...] = ()) -> Withdrawal:
    """All of a room that is promised to nobody.

    Args:
        room: open.
        draw: what the plan may take.
        again: the arguments that make the plan anew.
    """
    return Withdrawal(
        RoomUse(room.identity, room.place, draw, again),
        tuple(map(_on_hand, room.sheets.all())) if draw is Draw.ALL else (),
        tuple(map(on_rack, room.rack.free())) if draw is not Draw.NOTHING else (),
    )


def bought(room: Room, otherwise: StockList, profile: Profile) -> StockList:
    """The sheets that the shop buys by its stock room, without limit.

    Of a metal and gauge in which the room knows no kind that is bought, those of `otherwise`.
    """
    mine = [_to_buy(kind, profile) for kind in room.sheets.all() if kind.bought]
    known = {(item.material, item.gauge) for item in mine}
    others = [item for item in otherwise.items if (item.material, item.gauge) not in known]
    return StockList((*mine, *others))


def on_rack(offcut: Offcut) -> OnRack:
    """An offcut as plans, labels and pictures know it."""
    return OnRack(
        RackPiece(offcut.label, offcut.place),
        offcut.material,
        offcut.gauge,
        offcut.width,
        offcut.length,
    )


def _on_hand(kind: Kind) -> OnHand:
    return OnHand(
        kind.key.material,
        kind.key.gauge,
        kind.key.name,
        kind.width,
        kind.length,
        None if kind.price is None else float(kind.price),
        kind.free,
    )


def _to_buy(kind: Kind, profile: Profile) -> StockItem:
    key, size = kind.key, (kind.width, kind.length)
    cost = price(key.material, key.gauge, *size, profile) if kind.price is None else kind.price
    return StockItem(key.material, key.gauge, key.name, *size, float(cost), None, ROOM_LIST)
