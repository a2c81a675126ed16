"""The search is compiled before anybody waits for it."""

import subprocess
import sys
import time

EVERY_ENTRY = """
from pathlib import Path
from planner.search.bound.buying import buy
from planner.search.fast.annealing import anneal, keep
from planner.search.fast.clustering import clear_out, stand_at
from planner.search.fast.costing import price_everything
from planner.search.preparing import prepare
from planner.search.sequences import descent, shop, tabu, turns

entries = [buy, anneal, keep, clear_out, stand_at, price_everything]
entries += [descent.search, shop.time_all, tabu.search, turns.fill]
prepare()
for entry in entries:
    assert len(entry.signatures) == 1, (entry, entry.signatures)
    assert list(Path(entry.stats.cache_path).glob(f"*{entry.__name__}*.nbc")), entry
"""


def run(*words):
    return subprocess.run([sys.executable, *words], capture_output=True, text=True, timeout=300, check=False)


def test_every_function_that_python_calls_is_compiled_once_and_kept():
    done = run("-c", EVERY_ENTRY)
    assert done.returncode == 0, done.stderr


def test_what_is_kept_is_not_compiled_again():
    assert run("-m", "planner", "prepare").returncode == 0
    began = time.monotonic()
    done = run("-m", "planner", "prepare")
    assert done.stdout == "The search is compiled.\n"
    assert time.monotonic() - began < 10
