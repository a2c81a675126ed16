"""Bed loads: which pieces go on the router's bed together.

First pieces that need the same bits in the same order, the most urgent first and as many as the bed, the day and the
due dates allow; then loads that are not full are put together where one load with a few more bits saves bit changes.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby
from math import ceil

from planner.layout.bed import Oblong, Place, lay_out
from planner.layout.rooms import Size
from planner.making.bits import Cut, Turn, bits_in_order, order_of_turns
from planner.making.company import DAY, Member, are_as_urgent, none_waits_in_vain
from planner.making.pieces import CommonMinutes
from planner.making.tracks import Track

WINDOW = 7 * DAY
"""A piece that is a week less urgent than the most urgent one of a load is left for a later load."""


@dataclass(frozen=True, eq=False)
class Job:
    """One piece's visit to the router. Only jobs of one `family` may share a bed."""

    track: Track
    stage: str
    cuts: tuple[Cut, ...]
    blank: Oblong
    member: Member
    family: str

    @cached_property
    def turns(self) -> tuple[Turn, ...]:
        return tuple(turn for turn, _ in self.cuts)

    @property
    def size(self) -> Size:
        return self.blank.length_in, self.blank.width_in


@dataclass(frozen=True, eq=False)
class Load:
    """Jobs that share the bed, the order of the bits, and where the blanks lie."""

    jobs: tuple[Job, ...]
    order: tuple[Turn, ...]
    places: tuple[Place, ...]

    @property
    def latest(self) -> int:
        """When it must start for its most urgent piece to be in time."""
        return min(job.member.latest for job in self.jobs)

    @property
    def bit_minutes(self) -> list[tuple[str, int]]:
        """Each bit in the order of its setting up, with the whole minutes it cuts."""
        return _bit_minutes(self.jobs, self.order)


@dataclass(frozen=True)
class Router:
    """What limits a load: the bed, and how long anybody usually is there to start it, change bits and unload."""

    bed: Size
    gap_in: float
    minutes: CommonMinutes
    longest_load: int

    def load(self, jobs: Sequence[Job]) -> Load | None:
        """These jobs as one load, or None where they can't be one."""
        order = order_of_turns(frozenset(job.turns for job in jobs))
        if order is None or self._minutes(jobs, order) > self.longest_load:
            return None
        places = lay_out([job.blank for job in jobs], self.bed, self.gap_in)
        return Load(tuple(jobs), order, places) if places else None

    def single(self, job: Job) -> Load:
        """A job on its own, however long it takes; without a place where it is larger than the bed."""
        return Load((job,), job.turns, lay_out([job.blank], self.bed, self.gap_in) or ())

    def _minutes(self, jobs: Sequence[Job], order: Sequence[Turn]) -> int:
        """From the setting up of the first bit until the bed is empty."""
        cutting = _bit_minutes(jobs, order)
        handling = self.minutes.load + len(jobs) * (self.minutes.load_per_piece + self.minutes.unload_per_piece)
        return handling + sum(minutes for _, minutes in cutting) + len(cutting) * self.minutes.bit_change


def bed_loads(jobs: Iterable[Job], router: Router) -> list[Load]:
    """Every job in one load, the most urgent load first. `jobs` come most urgent first."""
    by_family = sorted(jobs, key=lambda job: (job.family, job.turns, job.member.latest))
    loads: list[Load] = []
    for _, family in groupby(by_family, key=lambda job: job.family):
        alike = [list(group) for _, group in groupby(family, key=lambda job: job.turns)]
        loads += _put_together([load for jobs_alike in alike for load in _filled(jobs_alike, router)], router)
    return sorted(loads, key=lambda load: load.latest)


def _filled(jobs: list[Job], router: Router) -> list[Load]:
    """Loads of jobs with the same bits: each begins with the most urgent job left and takes what goes with it."""
    loads = []
    while jobs:
        load, too_large = router.single(jobs[0]), set()
        left = []
        for job in jobs[1:]:
            larger = None
            if job.size not in too_large and _agree([*load.jobs, job]):
                larger = router.load([*load.jobs, job])
                if larger is None:
                    too_large.add(job.size)
            if larger:
                load = larger
            else:
                left.append(job)
        loads.append(load)
        jobs = left
    return loads


def _put_together(loads: Sequence[Load], router: Router) -> list[Load]:
    """Loads as they are, but every two that can share a bed are one, those with most bits in common first."""
    left = sorted(loads, key=lambda load: load.latest)
    done = []
    while left:
        load = left.pop(0)
        for other in sorted(left, key=lambda each: _bits_added(load, each)):
            jobs = [*load.jobs, *other.jobs]
            both = router.load(jobs) if _agree(jobs) else None
            if both:
                load = both
                left.remove(other)
        done.append(load)
    return done


def _agree(jobs: Iterable[Job]) -> bool:
    members = [job.member for job in jobs]
    return are_as_urgent(members, WINDOW) and none_waits_in_vain(members)


def _bits_added(load: Load, other: Load) -> tuple[int, int]:
    bits = {bit for bit, _ in load.order}
    return len({bit for bit, _ in other.order} - bits), other.latest


def _bit_minutes(jobs: Sequence[Job], order: Sequence[Turn]) -> list[tuple[str, int]]:
    cutting: dict[Turn, float] = dict.fromkeys(order, 0.0)
    for job in jobs:
        for turn, minutes in job.cuts:
            cutting[turn] += minutes
    return [(bit, max(1, ceil(sum(cutting[turn] for turn in turns)))) for bit, turns in bits_in_order(order)]
