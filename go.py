#!/usr/bin/env python3
"""The one command of this project: sets everything up, runs the demo, runs the tests. Standard library only."""

from __future__ import annotations

import ctypes
import hashlib
import importlib.util
import os
import shlex
import shutil
import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, NamedTuple, NoReturn

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
PYTHON = VENV / "bin" / "python"
STATIC_STAMP = ROOT / "static-built" / "made-from.txt"
SECONDS_TO_PLAN = "20"


class Stop(Exception):  # noqa: N818 - not an error of ours: something cannot be had, and the message says what
    """Something cannot be had; the message says what, and what to do."""


class Need(NamedTuple):
    """A capability of the machine, the question that finds it, and the Debian package that brings it."""

    what: str
    is_there: Callable[[], bool]
    package: str


def _library(name: str) -> Callable[[], bool]:
    def loads() -> bool:
        try:
            ctypes.CDLL(name)
        except OSError:
            return False
        return True

    return loads


def _program(*names: str) -> Callable[[], bool]:
    return lambda: any(shutil.which(name) for name in names)


# Asked by capability, not by package name, so a machine that has them in another way is left alone.
FOR_VENV = [Need("venv", lambda: bool(importlib.util.find_spec("ensurepip")), f"python3.{sys.version_info[1]}-venv")]
FOR_PAPER = [
    Need("text layout for PDF", _library("libpangoft2-1.0.so.0"), "libpangoft2-1.0-0"),
    Need("font subsets for PDF", _library("libharfbuzz-subset.so.0"), "libharfbuzz-subset0"),
    Need("a font for PDF", lambda: Path("/usr/share/fonts/truetype/dejavu").exists(), "fonts-dejavu-core"),
]
FOR_TESTS = [
    Need("Chromium", _program("chromium"), "chromium"),
    Need("libatomic for the browser driver", _library("libatomic.so.1"), "libatomic1"),
    Need("Redis", _program("redis-server"), "redis-server"),
    Need("PostgreSQL", lambda: any(Path("/usr/lib/postgresql").glob("*/bin/initdb")), "postgresql"),
]


def setup(*, tools_for_tests: bool = False) -> None:
    """System libraries, then the Python packages; nothing is asked of the network when all is there."""
    if tools_for_tests:
        _have(FOR_VENV + FOR_PAPER + FOR_TESTS)
        _have_packages(["requirements.txt", "requirements-dev.txt"])
    else:
        _have(FOR_VENV, wish=FOR_PAPER)
        _have_packages(["requirements.txt"])
    _prepare_search()


def _prepare_search() -> None:
    """The search compiled once, and again when its sources change; without, the first plan only waits longer for it."""
    sources = sorted((ROOT / "planner" / "search").rglob("*.py"))
    wanted = _digest(_read(ROOT / "requirements.txt"), *(path.read_text() for path in sources))
    stamp = VENV / "search.stamp"
    if _read(stamp) == wanted:
        return
    _say("Compiling the search (about half a minute, once) ...")
    if _works([PYTHON, "-m", "planner", "prepare"]):
        stamp.write_text(wanted)


def set_up_only() -> None:
    """For whoever wants the machine ready, and nothing started."""
    setup()
    _say("Everything is set up. Next: ./go.py demo")


def _have(needs: list[Need], *, wish: Sequence[Need] = ()) -> None:
    """What is needed and what is wished for; only root can install it, and only a wish can go unfulfilled."""
    missing = [need for need in (*needs, *wish) if not need.is_there()]
    if not missing:
        return
    names = ", ".join(need.what for need in missing)
    install = ["apt-get", "install", "-y", "--no-install-recommends", *(need.package for need in missing)]
    if os.geteuid() == 0 and shutil.which("apt-get"):
        _say(f"Installing with apt-get: {names} (up to two minutes) ...")
        _apt(install)
        return
    advice = f"Missing: {names}. Run once as root, then start again: apt-get update && {shlex.join(install)}"
    if any(need in needs for need in missing):
        raise Stop(advice)
    _say(f"{advice}\nGoing on without: pages work, PDF sheets do not.")


def _apt(install: list[str]) -> None:
    unasked = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for command in (["apt-get", "update", "-qq"], [*install, "-qq"]):
        _must(command, env=unasked)


def _have_packages(locks: list[str]) -> None:
    """The packages of these lock files, in .venv; a stamp a file remembers what was put in."""
    wanted = {lock: _digest(str(sys.version_info), (ROOT / lock).read_text()) for lock in locks}
    stale = [lock for lock in locks if _read(VENV / f"{lock}.stamp") != wanted[lock]]
    if not stale:
        return
    _say("Installing Python packages into .venv (10 to 60 seconds) ...")
    if not (PYTHON.exists() and _works([PYTHON, "-m", "pip", "--version"])):
        _must([sys.executable, "-m", "venv", "--clear", VENV])
    _install(stale)
    for lock in stale:
        (VENV / f"{lock}.stamp").write_text(wanted[lock])


def _install(locks: list[str]) -> None:
    """With uv, which is quick, and where uv cannot be had or does not get through, with pip."""
    chosen = [word for lock in locks for word in ("-r", ROOT / lock)]
    pip = [PYTHON, "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--require-hashes"]
    uv = [VENV / "bin" / "uv", "pip", "install", "--quiet", "--python", PYTHON, "--system-certs", "--require-hashes"]
    uv.append("--compile-bytecode")  # once, or every first start is slower by seconds
    if _works([*pip, "-r", ROOT / "requirements-uv.txt"]) and _works([*uv, *chosen]):
        return
    _say("uv did not get through; trying pip (a minute or so) ...")
    _must([*pip, *chosen])


def demo() -> None:
    """Load the demo shop once, plan it once, and serve it until Ctrl-C."""
    setup()
    _manage("migrate", "--verbosity", "0")
    _collect_static()
    _manage("load_demo")
    _manage("replan", "--seconds", SECONDS_TO_PLAN, "--unless-planned")
    _become("manage.py", "serve")


def _collect_static() -> None:
    sources = sorted(path for path in (ROOT / "static").rglob("*") if path.is_file())
    made_from = _digest(_read(ROOT / "requirements.txt"), *(f"{p} {p.stat().st_mtime_ns}" for p in sources))
    if _read(STATIC_STAMP) != made_from:
        _say("Collecting style sheets and scripts ...")
        _manage("collectstatic", "--noinput", "--clear", "--verbosity", "0")
        STATIC_STAMP.write_text(made_from)


def _manage(*words: str) -> None:
    if done := _run([PYTHON, "manage.py", *words]).returncode:
        raise SystemExit(done)  # the command has said itself, in a sentence, what is wrong


def test(*words: str) -> None:
    """Run the tests; words after `test` go to pytest."""
    setup(tools_for_tests=True)
    _become("-m", "pytest", *words)


def outside(*words: str) -> None:
    """Run the checks against published sources alone; they are counted source by source at the end."""
    test("tests/outside", *words)


def _become(*words: str) -> NoReturn:
    """This process turns into that one, so signals and the exit status are its own."""
    sys.stdout.flush()
    os.chdir(ROOT)
    os.execv(PYTHON, [str(PYTHON), *words])  # noqa: S606


def _run(command: list, **how: Any) -> subprocess.CompletedProcess[str]:
    sys.stdout.flush()  # so what we said stands before what it says
    return subprocess.run(command, check=False, cwd=ROOT, text=True, **how)


def _must(command: list, **how: Any) -> None:
    done = _run(command, capture_output=True, **how)
    if done.returncode:
        reason = (done.stderr.strip().splitlines() or ["no reason given"])[-1]
        raise Stop(f"This did not work: {shlex.join(map(str, command))}\n{reason} (Is the network there?)")


def _works(command: list) -> bool:
    return _run(command, capture_output=True).returncode == 0


def _digest(*texts: str) -> str:
    return hashlib.sha256("\n".join(texts).encode()).hexdigest()


def _read(path: Path) -> str:
    return path.read_text() if path.exists() else ""


def _say(text: str) -> None:
    print(text, flush=True)


COMMANDS = {"demo": demo, "test": test, "outside": outside, "setup": set_up_only}
TAKE_WORDS = {"test", "outside"}
USAGE = """\
./go.py demo          set up, load the demo shop, plan it and serve it (PORT=8000, HOST=127.0.0.1; Ctrl-C ends it)
./go.py test [WORDS]  set up with test tools and run the tests; WORDS go to pytest: ./go.py test tests/planner -k glue
./go.py outside       the checks against published handbooks, tables and problems alone, counted by source
./go.py setup         set up only: system libraries, and Python packages in .venv"""


def main(words: list[str]) -> None:
    if sys.version_info < (3, 11):  # noqa: UP036 - whoever starts this with an older one is told, not shown a trace
        raise Stop(f"Python 3.11 or newer is needed; this is {sys.version.split()[0]}. Try: python3.11 go.py")
    if os.name != "posix":
        raise Stop("Linux is needed; on Windows use its Linux subsystem")
    command, rest = (words or ["help"])[0], words[1:]
    if command in {"help", "-h", "--help"}:
        _say(USAGE)
    elif command not in COMMANDS or (rest and command not in TAKE_WORDS):
        raise Stop(f"There is no '{shlex.join(words)}'. What there is:\n{USAGE}")
    else:
        COMMANDS[command](*rest)


if __name__ == "__main__":
    try:
        main(sys.argv[1:])
    except Stop as stop:
        sys.exit(f"go.py: {stop}")
    except KeyboardInterrupt:
        sys.exit("\ngo.py: stopped")
