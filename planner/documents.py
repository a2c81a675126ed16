"""JSON documents in files and on standard input and output: read with a limit, parsed strictly, written whole."""

from __future__ import annotations

import json
import os
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any, BinaryIO

from planner.errors import PlannerError
from planner.fields import row_name

MOST_BYTES = 32 * 1024 * 1024
MOST_DIGITS = 400  # of a whole number; more are no double either
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
    """Refuse at once what `write` would only refuse after a long search."""
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
    return None if os.access(path.parent, os.W_OK) or _is_device(path) else f"{path.parent} is closed to you"


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
        raise refuse(f"{name}: a document of more than {MOST_BYTES // 1024**2} MiB is not read")
    return data


def _read_some(path: str | Path) -> bytes:
    """One byte more than is read at most, so that no file, however long, fills the memory."""
    if str(path) != "-":
        with Path(path).open("rb") as file:
            return file.read(MOST_BYTES + 1)
    if sys.stdin is None:
        raise ValueError("it is closed")
    return sys.stdin.buffer.read(MOST_BYTES + 1)


class NoNumber:
    """Something that stands where a number should and is none, as it was written."""

    def __init__(self, written: str) -> None:
        self.written = written


class Doubled(dict[str, Any]):
    """An object in which a name stands twice."""

    def __init__(self, pairs: list[tuple[str, Any]]) -> None:
        super().__init__(pairs)
        seen: set[str] = set()
        self.name = next(name for name, _ in pairs if name in seen or seen.add(name))  # type: ignore[func-returns-value]


def parsed(data: bytes, what: str, refuse: Refusal) -> object:
    """The value of a JSON text (RFC 8259) in UTF-8, in which every number is one and no name stands twice."""
    try:
        value, doubtful = _loads(data.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        raise refuse(f"{what}: not UTF-8 at byte {error.start}") from None
    except json.JSONDecodeError as error:
        raise refuse(f"{what}: not JSON: {error if data.strip() else 'the document is empty'}") from None
    except RecursionError:
        raise refuse(f"{what}: nested too deep to be read") from None
    if doubtful:
        raise refuse(f"{what}: not JSON: {next(_flaws(value))}")
    return value


def _loads(text: str) -> tuple[object, bool]:
    """The value, and whether there is a flaw somewhere in it."""
    reader = _Reader()
    try:
        return reader.loads(text), reader.doubtful
    except json.JSONDecodeError:
        raise
    except ValueError:  # a number of thousands of digits: once more, slowly, to know where it stands
        return reader.loads(text, parse_int=reader.whole), reader.doubtful


class _Reader:
    """Marks what JSON does not have, for `_flaws` to find; a hook of the parser does not know where it is."""

    def __init__(self) -> None:
        self.doubtful = False

    def loads(self, text: str, **more: Any) -> object:
        return json.loads(text, object_pairs_hook=self.pairs, parse_constant=self.constant, **more)

    def pairs(self, pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        made = dict(pairs)
        if len(made) == len(pairs):
            return made
        self.doubtful = True
        return Doubled(pairs)

    def constant(self, name: str) -> NoNumber:
        self.doubtful = True
        return NoNumber(f"{name}, which is no number")

    def whole(self, digits: str) -> int | NoNumber:
        if len(digits) <= MOST_DIGITS:
            return int(digits)
        self.doubtful = True
        return NoNumber(f"a number of {len(digits):,} digits")


def _flaws(value: object) -> Iterator[str]:
    """Each flaw of a value with its place; without recursion, as it may be deep."""
    waiting: list[tuple[object, str]] = [(value, "")]
    while waiting:
        each, where = waiting.pop()
        if isinstance(each, NoNumber):
            yield f"{where or 'the value'} is {each.written}"
        if isinstance(each, Doubled):
            yield f"{where + ': ' if where else ''}{each.name} stands there twice"
        waiting += reversed(list(_inside(each, where)))


def _inside(value: object, where: str) -> Iterator[tuple[object, str]]:
    """What an object's fields hold, a list's entries right away, each with its place."""
    if isinstance(value, list):
        yield from ((each, f"{where}[{place}]") for place, each in enumerate(value) if _may_be_flawed(each))
    if not isinstance(value, dict):
        return
    before = f"{where}: " if where else ""
    for name, each in value.items():
        if isinstance(each, list):
            rows = ((entry, before + row_name(name, entry, place)) for place, entry in enumerate(each))
            yield from (row for row in rows if _may_be_flawed(row[0]))
        elif _may_be_flawed(each):
            yield each, before + name


def _may_be_flawed(value: object) -> bool:
    return isinstance(value, list | dict | NoNumber)


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


def _replace(path: Path, data: bytes) -> None:
    """Write beside the file and rename, so that no reader ever sees half of it."""
    if _is_device(path):
        with path.open("wb") as device:
            _write_all(device, data)
        return
    path = Path(os.path.realpath(path))  # a link stays a link
    handle, beside = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:100]}.")
    try:
        with os.fdopen(handle, "wb") as file:
            _write_all(file, data)
        Path(beside).chmod(0o644)
        Path(beside).replace(path)
    except BaseException:
        Path(beside).unlink(missing_ok=True)
        raise
