"""The search for a better plan, in a process of its own: pages stay quick, and it can be killed at any time."""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from django.conf import settings

SECONDS_BETWEEN_LOOKS = 0.5
SECONDS_OF_GRACE = 60  # beyond what the search was given: start, model, writing


class SearchFailed(Exception):  # noqa: N818 - reads as what happened
    """The search ended without a plan; the message says why in one sentence."""


def search(problem: dict, *, seconds: int, on_progress: Callable[[dict], None], start: dict | None = None) -> dict:
    """A plan document for a problem document, both as in the plan exchange.

    Never worse than `start`, where that is given and keeps the rules.
    `on_progress` hears of it about twice a second; what it raises ends the search and goes on to the caller.
    """
    with tempfile.TemporaryDirectory(prefix="search-") as name:
        folder = Path(name)
        (folder / "problem.json").write_text(json.dumps(problem))
        if start:
            (folder / "start.json").write_text(json.dumps(start))
        with (folder / "progress").open("wb") as progress:
            child = subprocess.Popen(_command(folder, seconds), cwd=settings.ROOT, stderr=progress)  # noqa: S603
        try:
            _watch(child, folder, seconds, on_progress)
        finally:
            child.kill()
            child.wait()
        return json.loads((folder / "plan.json").read_text())


def _command(folder: Path, seconds: int) -> list:
    nice = ["nice", "-n", "10"]  # whoever looks at a page comes first
    solve = [sys.executable, "-m", "planner", "solve", folder / "problem.json", "-o", folder / "plan.json"]
    start = ["--from", folder / "start.json"] if (folder / "start.json").exists() else []
    return [*nice, *solve, *start, "--seconds", str(seconds), "--workers", "2"]


def _watch(child: subprocess.Popen, folder: Path, seconds: int, on_progress: Callable[[dict], None]) -> None:
    begun = time.monotonic()
    ended = False
    while not ended:
        ended = _ended(child)
        elapsed = time.monotonic() - begun
        if elapsed > seconds + SECONDS_OF_GRACE:
            raise SearchFailed(f"The search was given {seconds} seconds and did not come to an end.")
        # Heard once more after the end, so that nobody puts a plan in force that was cancelled in the meantime.
        on_progress(_latest(folder) | {"elapsed": round(elapsed), "seconds": seconds})
    if child.returncode:
        said = _lines(folder) or [f"exit status {child.returncode}"]
        raise SearchFailed(f"The search ended without a plan: {said[-1]}")


def _ended(child: subprocess.Popen) -> bool:
    """Whether the child has ended, after half a second at most."""
    try:
        child.wait(SECONDS_BETWEEN_LOOKS)
    except subprocess.TimeoutExpired:
        return False
    return True


def _latest(folder: Path) -> dict:
    """The last whole line of progress; a line still being written, or a warning, is passed over."""
    for line in reversed(_lines(folder)):
        try:
            progress = json.loads(line)
        except ValueError:
            continue
        if isinstance(progress, dict):
            return progress
    return {}


def _lines(folder: Path) -> list[str]:
    return (folder / "progress").read_text(errors="replace").strip().splitlines()
