"""How soon a job shop can be over at best, each machine taken alone (Carlier and Pinson 1989)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from heapq import heappop, heappush

from planner.search.sequences.job_shop import JobShop

Job = tuple[int, int, int]  # ready, minutes, minutes that must follow


def least_span(form: JobShop) -> int:
    """Minutes from now until the last end that no plan can go below."""
    heads, tails = least_heads(form), least_tails(form)
    now = form.facts.now
    jobs: dict[str, list[Job]] = defaultdict(list)
    for step in form.steps:
        jobs[form.machines[step.id]].append((heads[step.id] - now, step.minutes, tails[step.id]))
    begun = max(form.facts.begun_end.values(), default=now) - now
    return max(0, begun, *(preemptive_span(each) for each in jobs.values()))


def preemptive_span(jobs: Sequence[Job]) -> int:
    """When the last of some jobs and what follows it would be over if one could give way to another at any minute.

    Jackson's rule: of those that are ready the one with the longest tail.
    """
    coming = sorted(jobs, reverse=True)
    ready: list[tuple[int, int]] = []
    time = span = 0
    while coming or ready:
        if not ready:
            time = max(time, coming[-1][0])
        while coming and coming[-1][0] <= time:
            _, minutes, tail = coming.pop()
            heappush(ready, (-tail, minutes))
        tail, minutes = heappop(ready)
        worked = min(minutes, coming[-1][0] - time) if coming else minutes
        time += worked
        if worked < minutes:
            heappush(ready, (tail, minutes - worked))
        span = max(span, time - tail)
    return span


def least_heads(form: JobShop) -> dict[str, int]:
    """When each step can start at best, machines without end."""
    heads: dict[str, int] = {}
    facts = form.facts
    for step in sorted(facts.order, key=facts.order.__getitem__):
        links = [link for link in facts.links_in[step] if link.before in heads]
        ends = [heads[link.before] + facts.steps[link.before].minutes + link.min_wait for link in links]
        heads[step] = max([form.ready[step], *ends])
    return heads


def least_tails(form: JobShop) -> dict[str, int]:
    """Minutes that must follow each step's end at best."""
    tails: dict[str, int] = {}
    facts = form.facts
    for step in sorted(facts.order, key=lambda each: -facts.order[each]):
        rest = [link.min_wait + facts.steps[link.after].minutes + tails[link.after] for link in facts.links_out[step]]
        tails[step] = max(rest, default=0)
    return tails
