"""What must hold in every stock room at every moment, in plain SQL.

Each query finds what is wrong; none finds anything in a sound room.
"""

from __future__ import annotations

import sqlalchemy as sa

INVARIANTS = {
    "sheets on hand are not the sum of the movements, or those promised not theirs": """
        SELECT k.id, k.on_hand, k.reserved, SUM(m.qty) AS moved, SUM(m.promised) AS promised
        FROM kinds k LEFT JOIN movements m ON m.kind_id = k.id
        GROUP BY k.id, k.on_hand, k.reserved
        HAVING k.on_hand <> COALESCE(SUM(m.qty), 0)
            OR k.reserved <> COALESCE(SUM(m.promised), 0)
    """,
    "sheets promised are not those of the live reservations": """
        SELECT k.id, k.reserved, SUM(r.qty) AS live
        FROM kinds k LEFT JOIN reservations r ON r.kind_id = k.id AND r.state = 'live'
        GROUP BY k.id, k.reserved HAVING k.reserved <> COALESCE(SUM(r.qty), 0)
    """,
    "more sheets are promised than there are": """
        SELECT id FROM kinds WHERE reserved < 0 OR on_hand < reserved
    """,
    "an offcut's state does not follow from its movements": """
        SELECT o.number, o.state, SUM(m.qty) AS moved, SUM(m.promised) AS promised
        FROM offcuts o LEFT JOIN movements m ON m.offcut = o.number
        GROUP BY o.number, o.state
        HAVING COALESCE(SUM(m.qty), -1)
                <> CASE WHEN o.state IN ('on rack', 'reserved') THEN 1 ELSE 0 END
            OR COALESCE(SUM(m.promised), -1) <> CASE WHEN o.state = 'reserved' THEN 1 ELSE 0 END
    """,
    "an offcut is reserved without a live reservation, or has more than one": """
        SELECT o.number, COUNT(r.id) AS live
        FROM offcuts o LEFT JOIN reservations r ON r.offcut = o.number AND r.state = 'live'
        GROUP BY o.number, o.state
        HAVING COUNT(r.id) <> CASE WHEN o.state = 'reserved' THEN 1 ELSE 0 END
    """,
    "a plan that is not committed holds a reservation": """
        SELECT r.id FROM reservations r JOIN plans p ON p.id = r.plan_id
        WHERE r.state = 'live' AND p.state <> 'committed'
    """,
    "a plan's state does not follow from its last step": """
        SELECT p.id, p.state, s.plan_after FROM plans p
        LEFT JOIN steps s ON s.id = (SELECT MAX(id) FROM steps WHERE plan_id = p.id)
        WHERE p.state <> COALESCE(s.plan_after, 'planned')
    """,
    "a number above the next one is given to an offcut": """
        SELECT number FROM offcuts WHERE number >= (SELECT next_number FROM room)
    """,
    "an undo does not balance what it undid": """
        SELECT u.id FROM steps u
        JOIN movements m ON m.step_id = u.id OR m.step_id = u.undoes
        WHERE u.undoes IS NOT NULL
        GROUP BY u.id, m.kind_id, m.offcut HAVING SUM(m.qty) <> 0 OR SUM(m.promised) <> 0
    """,
    "the rows of a job are not numbered from 0": """
        SELECT job_id FROM job_rows GROUP BY job_id
        HAVING MIN(position) <> 0 OR MAX(position) <> COUNT(*) - 1
            OR COUNT(DISTINCT position) <> COUNT(*)
    """,
}
"""What is wrong, by the sentence that tells it."""


def audit(connection: sa.Connection) -> tuple[str, ...]:
    """All that is wrong, a line each; nothing in a sound stock room."""
    return tuple(
        f"{told}: {tuple(row)}"
        for told, query in INVARIANTS.items()
        for row in connection.execute(sa.text(query))
    )
