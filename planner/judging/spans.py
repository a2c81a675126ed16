"""Sets of minutes as sorted spans, both ends of each within it, no two of them touching."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from planner.problem import Interval

Spans = tuple[Interval, ...]
FOREVER = 10**18


def either(spans: Iterable[Interval]) -> Spans:
    """The minutes that lie in any of the spans."""
    found: list[Interval] = []
    for first, last in sorted(spans):
        if found and first <= found[-1][1] + 1:
            found[-1] = (found[-1][0], max(last, found[-1][1]))
        else:
            found.append((first, last))
    return tuple(found)


def both(one: Spans, other: Spans) -> Spans:
    """The minutes that lie in both sets."""
    return tuple(_both(one, other))


def _both(one: Spans, other: Spans) -> Iterator[Interval]:
    at = with_at = 0
    while at < len(one) and with_at < len(other):
        first = max(one[at][0], other[with_at][0])
        last = min(one[at][1], other[with_at][1])
        if first <= last:
            yield first, last
        if one[at][1] < other[with_at][1]:
            at += 1
        else:
            with_at += 1


def moved(spans: Spans, by: Iterable[Interval]) -> Spans:
    """The minutes that lie so far from one of the set, for a distance out of `by`."""
    return either((first + least, last + most) for first, last in spans for least, most in by)


def without(openings: Iterable[Interval], taken: Iterable[Interval]) -> Iterator[Interval]:
    """What half-open stretches that are taken leave of half-open openings, both sorted by their start."""
    ahead = list(reversed(list(taken)))
    for opens, closes in openings:
        begins = opens
        while ahead and ahead[-1][0] < closes:
            start, end = ahead[-1]
            if begins < start:
                yield begins, start
            begins = max(begins, end)
            if end > closes:
                break
            ahead.pop()
        if begins < closes:
            yield begins, closes


def starts_within(openings: Iterable[Interval], begin: int, end: int) -> Spans:
    """The starts from which the stretch from `begin` to `end` after them lies wholly inside one half-open opening."""
    return either((opens - begin, closes - end) for opens, closes in openings if opens - begin <= closes - end)
