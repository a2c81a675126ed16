"""JSON documents in files and on standard input and output: read with a limit, written whole or not at all."""

from __future__ import annotations

import json
import os
import sys
import tempfile
from pathlib import Path
from typing import Any, BinaryIO

from planner.errors import PlannerError
from planner.fields import MOST
from planner.parsing import parsed

MOST_BYTES = 32 * 1024 * 1024
Refusal = type[PlannerError]


def read(path: str | Path, what: str, refuse: Refusal) -> object:
    """The value in a file, or on standard input for `-`; anything else than one JSON value is refused in one line."""
    return parsed(_read_bytes(path, refuse), what, refuse)


def write(value: dict[str, Any], path: str | Path) -> None:
    """Write a document whole or not at all; `-` is standard output."""
    # Half a surrogate pair has no UTF-8; written as its escape it is still the same JSON text.
    data = (json.dumps(value, ensure_ascii=False, indent=1) + "\n").encode("utf-8", "backslashreplace")
    try:
        if str(path) == "-":
            _write_out(data)
        else:
            _replace(Path(path), data)
    except BrokenPipeError:
        raise
    except OSError as error:
        raise _cannot_write(path, error.strerror) from None


def check_writable(path: str | Path) -> None:
    """Refuse at once what `write` would only refuse after a long search; a file that is there is left alone."""
    try:
        hindrance = None if str(path) == "-" else _hindrance(Path(path))
    except OSError as error:
        hindrance = error.strerror
    if hindrance:
        raise _cannot_write(path, hindrance)


def _hindrance(path: Path) -> str | None:
    if path.is_dir():
        return "it is a directory"
    if not path.parent.is_dir():
        return f"there is no directory {path.parent}"
    if not _is_device(path):
        handle, beside = _file_beside(Path(os.path.realpath(path)))  # only a try tells: a disk may be read-only
        os.close(handle)
        Path(beside).unlink()
    return None


def _cannot_write(path: str | Path, why: str | None) -> PlannerError:
    name = "standard output" if str(path) == "-" else path
    return PlannerError(f"{name} cannot be written: {why}")


def _read_bytes(path: str | Path, refuse: Refusal) -> bytes:
    name = "standard input" if str(path) == "-" else str(path)
    try:
        data = _read_some(path)
    except (OSError, ValueError) as error:
        raise refuse(f"{name} cannot be read: {getattr(error, 'strerror', None) or error}") from None
    if len(data) > MOST_BYTES:
        most = f"{MOST_BYTES // 1024**2} MiB is not read; {MOST:,} steps, the most that are planned, need less"
        raise refuse(f"{name}: a document of more than {most}")
    return data


def _read_some(path: str | Path) -> bytes:
    """One byte more than is read at most, so that no file, however long, fills the memory."""
    if str(path) != "-":
        with Path(path).open("rb") as file:
            return file.read(MOST_BYTES + 1)
    if sys.stdin is None:
        raise ValueError("it is closed")
    return sys.stdin.buffer.read(MOST_BYTES + 1)


def _write_out(data: bytes) -> None:
    if sys.stdout is None:
        raise OSError(0, "it is closed")
    sys.stdout.flush()
    _write_all(sys.stdout.buffer, data)


def _write_all(file: BinaryIO, data: bytes) -> None:
    file.write(data)
    file.flush()


def _is_device(path: Path) -> bool:
    """Whether a pipe or a device stands there, which must be written to and never replaced."""
    return path.exists() and not path.is_file() and not path.is_dir()


def _file_beside(path: Path) -> tuple[int, str]:
    """A new file, open, in the same folder."""
    return tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:100]}.")


def _replace(path: Path, data: bytes) -> None:
    """Write beside the file and rename, so that no reader ever sees half of it."""
    if _is_device(path):
        with path.open("wb") as device:
            _write_all(device, data)
        return
    path = Path(os.path.realpath(path))  # a link stays a link
    handle, beside = _file_beside(path)
    try:
        with os.fdopen(handle, "wb") as file:
            _write_all(file, data)
        Path(beside).chmod(0o644)
        Path(beside).replace(path)
    except BaseException:
        Path(beside).unlink(missing_ok=True)
        raise
