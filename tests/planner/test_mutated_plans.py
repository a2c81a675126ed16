"""One good plan of one problem that knows every rule, spoilt in one way at a time: each way is found and named."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from planner import (
    Begun,
    Hold,
    Link,
    Missed,
    Order,
    Placed,
    Plan,
    Prices,
    Problem,
    Station,
    StationNeed,
    Status,
    Unplaced,
    broken_rules,
    cost,
)
from planner.rules import FORM, RULES
from tests.planner.makers import make_person, make_plan, make_problem, make_step, put

HOURS = ((480, 720), (765, 1020), (1920, 2160), (2205, 2460))


def shop() -> Problem:
    """A bowl is being routed, the tray oiled yesterday has lost its window, and nobody can engrave."""
    rack = StationNeed(("rack",), 2)
    return make_problem(
        make_step("bowl", segments=((5, "hands"), (25, "watch")), at=["router"], state_in="round",
                  begun=Begun(470, "ana", ("router",))),
        make_step("oiled", 20, begun=Begun(-300, "ben", ())),
        make_step("wipe", 10),
        make_step("tray", segments=((10, "hands"), (30, "watch"), (5, "hands")), at=["router"], state_in="flat"),
        make_step("saw", 40, at=[("saw", "bench")]),
        make_step("glue", segments=((15, "hands"), (60, "alone")), stations=(rack,)),
        make_step("unclamp", 10, release=600),
        make_step("seal", 10),
        make_step("paint", 20),
        make_step("laser", 30, need="alone", at=["laser"]),
        make_step("engrave", 30, skill="engraving"),
        make_step("pack", 10),
        people=[make_person(hours=HOURS), make_person("ben", skills="wood finish", hours=((540, 960),))],
        stations=[Station("router", 1, None, "flat", {("round", "flat"): 12}, 8), Station("saw"), Station("bench"),
                  Station("rack", 3), Station("laser", hours=((500, 700),))],
        links=[Link("oiled", "wipe", 600, 700), Link("glue", "unclamp", 60), Link("seal", "paint", 30, 90),
               Link("engrave", "pack")],
        holds=[Hold("rack", 1, "glue", "unclamp")],
        orders=[Order("tray", ("tray", "paint"), 500, 2), Order("fair", ("unclamp",), 900, 1, True)],
        prices=Prices(500, 6, 20, 0.5, 0.6, 1.2),
    )  # fmt: skip


def good(problem: Problem) -> Plan:
    return make_plan(
        problem,
        put(problem, "bowl", 470, "ana", "router"),
        put(problem, "oiled", -300, "ben"),
        put(problem, "tray", 512, "ana", "router", changeover=12),
        put(problem, "saw", 557, "ana", "saw"),
        put(problem, "glue", 540, "ben", "rack"),
        put(problem, "wipe", 597, "ana"),
        put(problem, "unclamp", 675, "ben"),
        put(problem, "seal", 610, "ana"),
        put(problem, "paint", 650, "ana"),
        put(problem, "laser", 500, None, "laser"),
        missed=[Missed("oiled", "wipe", 177)],
        unplaced=[Unplaced("engrave", "Nobody can engrave."), Unplaced("pack", "Nobody can engrave.")],
    )


Spoil = Callable[[Problem, Plan], Plan]


def at(step: str, start: int, **more) -> Spoil:
    """A step somewhere else; its length, person, places and changeover stay unless said."""

    def spoil(problem: Problem, plan: Plan) -> Plan:
        moved = replace(plan[step], start=start, end=start + problem.step[step].minutes, **more)
        return replace(plan, placed=tuple(moved if row.step == step else row for row in plan.placed))

    return spoil


def row(step: str, **more) -> Spoil:
    def spoil(_: Problem, plan: Plan) -> Plan:
        return replace(plan, placed=tuple(replace(each, **more) if each.step == step else each for each in plan.placed))

    return spoil


def without(*steps: str) -> Spoil:
    """Steps left out, and said to be."""

    def spoil(_: Problem, plan: Plan) -> Plan:
        left = tuple(Unplaced(step, "No time.") for step in steps)
        return replace(
            plan,
            placed=tuple(each for each in plan.placed if each.step not in steps),
            unplaced=(*plan.unplaced, *left),
            missed=tuple(each for each in plan.missed if each.after not in steps),
        )

    return spoil


def listed(**more) -> Spoil:
    return lambda _, plan: replace(plan, **more)


MUTATIONS: list[tuple[Spoil, str]] = [
    (lambda _, plan: replace(plan, placed=plan.placed[:-1]), "laser is neither placed nor said to be left out"),
    (lambda _, plan: replace(plan, placed=(*plan.placed, plan["saw"])), "saw stands 2 times"),
    (lambda _, plan: replace(plan, placed=(*plan.placed, Placed("ghost", 500, 510))), "ghost is no step"),
    (listed(unplaced=(Unplaced("engrave", ""), Unplaced("pack", ""), Unplaced("saw", ""))), "saw stands 2 times"),
    (row("saw", end=600), "saw takes 40 minutes, not 43"),
    (row("tray", end=556), "tray takes 45 minutes, not 44"),
    (row("tray", changeover=-1), "cannot take -1 minutes"),
    (row("laser", person="ana"), "laser needs nobody's skill but is given to ana"),
    (row("saw", person=None), "saw needs somebody who can wood, not None"),
    (row("saw", person="zoe"), "saw needs somebody who can wood, not zoe"),
    (row("saw", stations=()), "saw takes 1 stations, not 0"),
    (row("saw", stations=("saw", "bench")), "saw takes 1 stations, not 2"),
    (row("saw", stations=("laser",)), "saw cannot be done at laser, only at saw or bench"),
    (at("bowl", 471), "bowl has begun at minute 470 and is moved"),
    (row("bowl", person="ben"), "bowl has begun at minute 470 and is moved"),
    (row("oiled", stations=("saw",)), "oiled has begun at minute -300 and is moved"),
    (row("bowl", changeover=12), "bowl has begun and needs no changeover"),
    (without("bowl"), "bowl has begun and cannot be left out"),
    (at("saw", 700), "saw needs ana's hands from 700 to 740, outside their hours"),
    (at("saw", 990, person="ben"), "saw needs ben's hands from 990 to 1030, outside their hours"),
    (at("wipe", 590), "ana has saw until 597 and wipe from 590"),
    (at("wipe", 495), "ana has wipe until 505 and the changeover of tray from 500"),
    (at("tray", 1000), "tray runs from 1010 to 1040 with nobody within earshot all the time"),
    (at("laser", 499), "laser is at laser from 499 to 529, outside its hours"),
    (at("laser", 671), "laser is at laser from 671 to 701, outside its hours"),
    (row("tray", changeover=0), "tray needs a changeover of 12 minutes, not 0"),
    (row("tray", changeover=8), "tray needs a changeover of 12 minutes, not 8"),
    (row("saw", changeover=5), "saw needs a changeover of 0 minutes, not 5"),
    (at("tray", 490), "tray starts at 478, before now (480)"),
    (at("tray", 505), "router holds 1 but has 2 at minute 493"),
    (at("tray", 772), "tray: ana changes over from 760 to 772, outside their hours"),
    (at("unclamp", 599), "unclamp starts at 599, before its release at 600"),
    (at("unclamp", 670), "unclamp starts 55 minutes after glue, allowed is 60 or more"),
    (at("paint", 640), "paint starts 20 minutes after seal, allowed is 30 to 90"),
    (at("paint", 765), "paint starts 145 minutes after seal, allowed is 30 to 90"),
    (listed(missed=()), "the window from oiled to wipe is exceeded by 177 minutes and not listed so"),
    (listed(missed=(Missed("oiled", "wipe", 100),)), "the window from oiled to wipe is exceeded by 177 minutes"),
    (listed(missed=(Missed("oiled", "wipe", 177),) * 2), "missed lists oiled -> wipe with 177 minutes"),
    (listed(missed=(Missed("oiled", "wipe", 177), Missed("seal", "paint", 5))), "missed lists seal -> paint"),
    (without("glue"), "unclamp is placed though glue, which comes before it, is left out"),
    (without("paint"), "seal is placed though paint, which must follow in time, is left out"),
    (without("saw"), "saw is left out though it could start at"),
    (without("seal", "paint"), "seal is left out though it could start at 480, with paint at"),
    (without("wipe"), "wipe is left out though it could start at"),
    (without("glue", "unclamp"), "glue is left out though it could start at 480"),
    (listed(cost=1.0), "cost is said to be 1 but is"),
    (listed(bound=1e9), "bound 1e+09 is above the cost"),
    (listed(status=Status.FEASIBLE), "status is feasible with 2 steps left out"),
    (listed(status=Status.OPTIMAL), "status is optimal with 2 steps left out"),
]  # fmt: skip


def spoilt(problem: Problem, spoil: Spoil) -> Plan:
    """A spoilt plan whose cost is told right, unless that is what is spoilt."""
    plan = good(problem)
    changed = spoil(problem, plan)
    fits = not any(True for rule in FORM for _ in rule(problem, changed))
    return replace(changed, cost=cost(problem, changed)) if fits and changed.cost == plan.cost else changed


def test_the_good_plan_is_good():
    problem = shop()
    assert broken_rules(problem, good(problem)) == []


@pytest.mark.parametrize(("spoil", "words"), MUTATIONS, ids=[words for _, words in MUTATIONS])
def test_what_is_spoilt_is_found_and_named(spoil, words):
    problem = shop()
    broken = broken_rules(problem, spoilt(problem, spoil))
    assert any(words in sentence for sentence in broken), broken


def test_every_rule_is_broken_by_some_spoilt_plan():
    problem = shop()
    plans = [spoilt(problem, spoil) for spoil, _ in MUTATIONS]
    fit = [plan for plan in plans if not any(True for rule in FORM for _ in rule(problem, plan))]
    unheard = [rule.__name__ for rule in FORM if not any(list(rule(problem, plan)) for plan in plans)]
    unheard += [rule.__name__ for rule in RULES if not any(list(rule(problem, plan)) for plan in fit)]
    assert unheard == []
