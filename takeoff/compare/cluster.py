"""Choices worked out side by side by dask.distributed, on this machine's cores or on a cluster."""

from __future__ import annotations

import logging
import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING

from takeoff.ctrl_c import kept_for_this_process
from takeoff.errors import TakeoffError

from .work import Outcome, Task, work_out

if TYPE_CHECKING:
    from distributed import Client

PATIENCE = 10
"""Seconds to wait for a cluster to answer."""


class NoCluster(TakeoffError, OSError):
    """No cluster answers at the address."""


@contextmanager
def cluster(address: str | None, most: int) -> Iterator[Client]:
    """A client of the cluster at an address; without one, of processes on this machine's cores.

    Args:
        address: of a scheduler, as `tcp://host:8786`.
        most: processes that there is work for.

    Raises:
        NoCluster: nothing answers there.
    """
    from distributed import Client, LocalCluster  # noqa: PLC0415 - slow to load

    logging.getLogger("distributed").setLevel(logging.CRITICAL)
    if address is not None:
        try:
            client = Client(address, timeout=PATIENCE)
        except (OSError, ValueError, TimeoutError) as error:
            raise NoCluster(
                f"No cluster answers at {address}. Give the address of a Dask scheduler, such as "
                "tcp://192.168.1.20:8786, or leave --address out to use this machine."
            ) from error
        with client:
            yield client
        return
    with kept_for_this_process():
        local = LocalCluster(
            n_workers=min(cores(), most),
            threads_per_worker=1,
            processes=True,
            dashboard_address=None,
            memory_limit=0,
            silence_logs=logging.CRITICAL,
        )
    with local, Client(local) as client:
        yield client


def cores() -> int:
    """How many processes this machine runs at once."""
    return os.cpu_count() or 1


def work_all(client: Client, tasks: Sequence[Task]) -> Iterator[Outcome]:
    """Every task's outcome as it is finished, in whatever order that is."""
    from distributed import as_completed  # noqa: PLC0415 - slow to load

    futures = {client.submit(work_out, task, pure=False): task for task in tasks}
    for future in as_completed(futures):
        try:
            yield future.result()
        except Exception as error:  # of one choice; the others go on
            kind = type(error).__name__
            yield Outcome(
                futures[future].choice, None, f"an error in this program ({kind}: {error})"
            )
