"""Functions compiled to machine code (numba): the search's inner loops, which let other threads run meanwhile.

What is compiled is kept beside the sources, in a folder named by what all sources of a package say: the compiler
itself notices a change in a function's own file, but not in the files of those it calls. Where that folder cannot be
written, a copy is used, or each process compiles for itself.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from functools import cache
from hashlib import blake2b
from pathlib import Path
from tempfile import gettempdir, mkdtemp
from time import time
from typing import Any, TypeVar, cast

import numba

Function = TypeVar("Function", bound=Callable[..., Any])
machine_code: Any = numba.njit  # its options are more than its types know
settings: Any = numba.config
DAY_SECONDS = 24 * 3600
PLAIN: dict[str, Any] = {"nogil": True, "_nrt": False}  # no arrays are made, so none are counted: six times as quick


def compiled(function: Function) -> Function:
    """The function as machine code that Python can call, compiled when it is first called with arguments of a kind."""
    folder = _kept_in(Path(function.__code__.co_filename).parent)
    settings.CACHE_DIR = "" if folder is None else str(folder)
    return cast("Function", machine_code(cache=folder is not None, **PLAIN)(function))


def inside(function: Function) -> Function:
    """The function as machine code that only compiled functions call: half the compiling.

    Python must never call it: there is nothing there for it to call, and the process would crash without a word.
    """
    return cast("Function", machine_code(no_cpython_wrapper=True, no_cfunc_wrapper=True, **PLAIN)(function))


@cache
def _kept_in(package: Path) -> Path | None:
    """The folder for a package as it stands; None where nothing can be kept. Folders of earlier states go in time."""
    sources = blake2b(digest_size=8)
    for source in [Path(__file__), *sorted(package.glob("*.py"))]:
        sources.update(source.read_bytes())
    folder = package / "__pycache__" / "compiled" / sources.hexdigest()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        os.utime(folder)
        _remove_old(folder)
    except OSError:
        return _copied(folder)
    return folder if os.access(folder, os.W_OK) else _copied(folder)


def _remove_old(folder: Path) -> None:
    """Remove what other states of the sources left, unless a process may still use it."""
    for other in set(folder.parent.iterdir()) - {folder}:
        if other.stat().st_mtime < time() - DAY_SECONDS:
            shutil.rmtree(other, ignore_errors=True)


def _copied(folder: Path) -> Path | None:
    """A copy of our own where the sources are read-only: the compiler reads only from where it could write."""
    own = Path(gettempdir()) / f"benchtide-{os.getuid()}"
    try:
        own.mkdir(mode=0o700, exist_ok=True)
        owner = own.lstat()
        if owner.st_uid != os.getuid() or owner.st_mode & 0o077:
            return None  # code that others can write is not run
        if folder.exists() and not (own / folder.name).exists():
            part = Path(mkdtemp(dir=own))
            shutil.copytree(folder, part, dirs_exist_ok=True)
            part.chmod(0o700)
            part.rename(own / folder.name)
        (own / folder.name).mkdir(exist_ok=True)
    except OSError:
        return None  # another process was first with the copy, or there is no room
    return own / folder.name
