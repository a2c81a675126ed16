"""Each check against the outside world names its source; at the end of a run they are counted, source by source."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

import pytest

PASSED, NOT_PASSED = "passed", "not passed"
counts: dict[str, Counter[str]] = {}


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """A check without a source is refused before anything runs."""
    here = [item for item in items if item.path.parent.name == "outside"]
    nameless = sorted({item.name for item in here if not _sources(item)})
    if nameless:
        raise pytest.UsageError(f"These checks name no source, with @pytest.mark.source: {', '.join(nameless)}")


@pytest.hookimpl(hookwrapper=True)
def pytest_runtest_makereport(item: pytest.Item) -> Iterator[None]:
    report = (yield).get_result()
    if report.when == "call" or not report.passed:
        for source in _sources(item):
            counts.setdefault(source, Counter())[PASSED if report.passed else NOT_PASSED] += 1


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """How many checks passed, by source, and what did not."""
    if not counts:
        return
    terminalreporter.section("checks against outside sources")
    for source, count in sorted(counts.items()):
        left = f"   {count[NOT_PASSED]} NOT PASSED" if count[NOT_PASSED] else ""
        terminalreporter.line(f"{count[PASSED]:5d}  {source}{left}")
    passed = sum(count[PASSED] for count in counts.values())
    terminalreporter.line(f"{passed:5d}  passed, from {len(counts)} sources")


def _sources(item: pytest.Item) -> list[str]:
    return [source for mark in item.iter_markers("source") for source in mark.args]
