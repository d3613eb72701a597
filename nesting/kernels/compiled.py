"""How a kernel is compiled: without the interpreter's lock, and kept on disk."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar, cast

from numba import njit

Kernel = TypeVar("Kernel", bound=Callable[..., Any])

# A kernel is handed all its arrays and makes none, so the references to them need not be counted
# (`_nrt`): counting them at every call took a sixth of the search's time.
OPTIONS: dict[str, Any] = {"cache": True, "nogil": True, "_nrt": False}


def kernel(signature: str | None = None) -> Callable[[Kernel], Kernel]:
    """Compile a function when it is first called, or for a signature at once."""
    return cast("Callable[[Kernel], Kernel]", njit(signature, **OPTIONS))


def inlined(signature: str | None = None) -> Callable[[Kernel], Kernel]:
    """Compile a function that is called so often that it should be a part of every caller."""
    return cast("Callable[[Kernel], Kernel]", njit(signature, forceinline=True, **OPTIONS))
