"""Functions compiled to machine code (numba): the search's inner loops, which let other threads run meanwhile.

What is compiled is kept beside the sources, in a folder named by what all sources of a package say: the compiler
itself notices a change in a function's own file, but not in the files of those it calls. Where that folder cannot be
written, each process compiles for itself.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from functools import cache
from hashlib import blake2b
from pathlib import Path
from typing import Any, TypeVar, cast

import numba

Function = TypeVar("Function", bound=Callable[..., Any])
machine_code: Any = numba.njit  # its options are more than its types know
settings: Any = numba.config
PLAIN: dict[str, Any] = {"nogil": True, "_nrt": False}  # no arrays are made, so none are counted: six times as quick


def compiled(function: Function) -> Function:
    """The function as machine code that Python can call, compiled when it is first called with arguments of a kind."""
    folder = _kept_in(Path(function.__code__.co_filename).parent)
    settings.CACHE_DIR = "" if folder is None else str(folder)
    return cast("Function", machine_code(cache=folder is not None, **PLAIN)(function))


def inside(function: Function) -> Function:
    """The function as machine code that only compiled functions call: half the compiling."""
    return cast("Function", machine_code(no_cpython_wrapper=True, no_cfunc_wrapper=True, **PLAIN)(function))


@cache
def _kept_in(package: Path) -> Path | None:
    """The folder for a package as it stands, those for earlier states of it removed; None where nothing can be kept."""
    sources = blake2b(digest_size=8)
    for source in [Path(__file__), *sorted(package.glob("*.py"))]:
        sources.update(source.read_bytes())
    kept = package / "__pycache__" / "compiled"
    folder = kept / sources.hexdigest()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for other in set(kept.iterdir()) - {folder}:
            shutil.rmtree(other, ignore_errors=True)
    except OSError:
        return None
    return folder if os.access(folder, os.W_OK) else None
