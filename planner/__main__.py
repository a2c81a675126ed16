"""The plan exchange from a shell: `python -m planner solve problem.json -o plan.json`, `... check`, `... compare`."""

from __future__ import annotations

import os
import sys
import threading
from contextlib import suppress

from planner.errors import PlannerError
from planner.shell.arguments import read_arguments
from planner.shell.commands import run
from planner.shell.progress import say
from planner.shell.searching import fault

REFUSED = 2
INTERRUPTED = 130


def main(arguments: list[str] | None = None) -> int:
    """0 for a good answer, 1 for a plan that breaks rules, 2 with one line for what cannot be read or written."""
    if sys.stdout is not None:
        sys.stdout.reconfigure(errors="backslashreplace")  # type: ignore[union-attr]  # an id may be beyond its letters
    try:
        return run(read_arguments(arguments))
    except PlannerError as error:
        say(error)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except OSError as error:
        say(f"{error.filename or 'standard output'} cannot be written: {error.strerror}")
    except KeyboardInterrupt:
        return INTERRUPTED
    except MemoryError:
        say("There is not enough memory for this problem; fewer steps or fewer stations to choose from need less.")
    except RecursionError:
        say("The document is nested too deep to be read.")
    except Exception as error:
        if sys.flags.dev_mode:
            raise
        say(f"This is a fault of the planner, please report it with the problem document ({fault(error)}).")
    return REFUSED


def leave(status: int) -> None:
    """End at once: a search that was given up must not keep the process, nor break its end."""
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError, AttributeError):
            stream.flush()
    if threading.active_count() > 1:
        os._exit(status)
    sys.exit(status)


if __name__ == "__main__":
    leave(main())
