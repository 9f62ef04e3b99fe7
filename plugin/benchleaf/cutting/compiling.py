"""Inner loops made quick: a function is compiled the first time it is called, and kept on disk.

Only the kernels use it, and only they import numba: they are loaded when a plan needs them, because
loading takes some tenths of a second and compiling some seconds, once on a machine.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar, cast

from numba import njit

Function = TypeVar("Function", bound=Callable[..., object])


def compiled(function: Function) -> Function:
    """Compile a function of whole numbers and arrays; its results stay the same to the bit."""
    return cast(Function, njit(cache=True)(function))
