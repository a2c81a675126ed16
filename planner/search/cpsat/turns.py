"""The order of turns at a station with states, as one circuit through its steps: an arc is a changeover."""

from __future__ import annotations

from dataclasses import dataclass

from planner.search.cpsat.variables import Deciding, Literal, Minute, Variables
from planner.search.queue import Queue, Turn

Arc = tuple[int, int, Literal]


@dataclass(slots=True)
class Node:
    """A turn, as a node of the circuit: a free step that may come here, or a fixed one."""

    state_in: str | None
    leaves: str | None
    first: int
    last: int
    deciding: Deciding | None = None
    here: Literal | None = None
    turn: Turn | None = None


class Turns:
    """States which changeover each free step needs; a fixed one's may become shorter, never longer."""

    def __init__(self, variables: Variables) -> None:
        self.variables = variables
        self.cp = variables.cp
        self.fixed_changes: dict[str, Minute] = {}

    def state(self, name: str) -> None:
        """The circuit of one station; without free turns there is nothing to state."""
        queue = self.variables.part.books.queues[name]
        free = self._free_nodes(name)
        if not free:
            return
        nodes = [*free, *self._fixed_nodes(queue, free)]
        arcs: list[Arc] = []
        for place, node in enumerate(nodes, start=1):
            self.variables.go_on()
            arcs += self._arcs_from_the_beginning(queue, node, place, nodes)
            arcs += [
                arc
                for other, after in enumerate(nodes, start=1)
                for arc in self._arcs(queue, node, place, after, other)
            ]
            arcs.append((place, 0, self.cp.new_bool_var("")))
            if node.here is not None and node.here is not self.variables.yes:
                arcs.append((place, place, ~node.here))
        self.cp.add_circuit([*arcs, (0, 0, self._nobody_here(free, nodes))])
        self._price_fixed(queue, nodes, arcs)

    def _free_nodes(self, name: str) -> list[Node]:
        nodes = []
        for step in self.variables.steps.values():
            uses = step.at(name)
            if uses and step.facts.leaves is not None:
                here = uses[0][0] if len(uses) == 1 else self._any([literal for literal, _ in uses])
                domain = step.domain
                nodes.append(Node(step.facts.state_in, step.facts.leaves, domain.min(), domain.max(), step, here))
        return nodes

    def _any(self, literals: list[Literal]) -> Literal:
        """A literal that is true where one of several, of which at most one is true, is."""
        some = self.cp.new_bool_var("")
        self.cp.add(sum(literals) == some)
        return some

    def _fixed_nodes(self, queue: Queue, free: list[Node]) -> list[Node]:
        """The fixed turns that a free one may stand next to: those within its reach, one before and one after."""
        turns = [turn for turn in queue.turns if turn.facts.leaves is not None]
        first, last = min(node.first for node in free), max(node.last for node in free)
        inside = [place for place, turn in enumerate(turns) if turn.end > first and turn.start < last]
        begin = min(inside, default=_place_after(turns, first))
        end = max(inside, default=begin - 1)
        near = turns[max(0, begin - 1) : end + 2]
        return [Node(turn.facts.state_in, turn.facts.leaves, turn.start, turn.start, turn=turn) for turn in near]

    def _arcs_from_the_beginning(self, queue: Queue, node: Node, place: int, nodes: list[Node]) -> list[Arc]:
        """Before the first turn the station is as it was; where there are earlier fixed turns, those come first."""
        fixed = [each.turn for each in nodes if each.turn]
        earliest = fixed[0] if fixed else None
        behind = earliest is not None and any(
            turn.start < earliest.start and turn.facts.leaves is not None for turn in queue.turns
        )
        if behind:
            return [(0, place, self.variables.yes)] if node.turn is earliest else []
        literal = self.cp.new_bool_var("")
        if not self._change(queue.station.changeover_minutes(queue.state, node.state_in), node, literal):
            return []
        return [(0, place, literal)]

    def _arcs(self, queue: Queue, node: Node, place: int, after: Node, other: int) -> list[Arc]:
        minutes = queue.station.changeover_minutes(node.leaves, after.state_in)
        if node is after or after.last - minutes < node.first + _minutes(node):
            return []
        if node.turn and after.turn and _next_fixed(queue, node.turn) is not after.turn:
            return []
        literal = self.cp.new_bool_var("")
        if not self._change(minutes, after, literal):
            return []
        if node.deciding or after.deciding:
            self.cp.add(_begins(after) >= _ends(node)).only_enforce_if(literal)
        return [(place, other, literal)]

    def _change(self, minutes: int, node: Node, literal: Literal) -> bool:
        """The changeover that comes with an arc; False where the arc cannot be."""
        if node.deciding is None:
            return node.turn is not None and minutes <= node.turn.changeover
        if minutes not in node.deciding.changes:
            return False
        if node.deciding.changes[minutes] is not self.variables.yes:
            self.cp.add_implication(literal, node.deciding.changes[minutes])
        return True

    def _nobody_here(self, free: list[Node], nodes: list[Node]) -> Literal:
        """True where no turn is taken at all, which only optional ones allow."""
        if len(nodes) > len(free) or any(node.here is self.variables.yes for node in free):
            return self.cp.new_constant(0)
        nobody = self.cp.new_bool_var("")
        self.cp.add(sum(node.here for node in free if node.here is not None) == 0).only_enforce_if(nobody)
        return nobody

    def _price_fixed(self, queue: Queue, nodes: list[Node], arcs: list[Arc]) -> None:
        """The changeover that each fixed turn needs now, by the arc that leads to it."""
        for place, node in enumerate(nodes, start=1):
            if node.turn is None:
                continue
            terms = []
            for before, after, literal in arcs:
                if after == place and before != place:
                    state = nodes[before - 1].leaves if before else queue.state
                    terms.append(queue.station.changeover_minutes(state, node.state_in) * literal)
            if not any(
                before == 0 and literal is self.variables.yes for before, after, literal in arcs if after == place
            ):
                self.fixed_changes[node.turn.facts.id] = sum(terms)


def _place_after(turns: list[Turn], minute: int) -> int:
    return sum(turn.start < minute for turn in turns)


def _next_fixed(queue: Queue, turn: Turn) -> Turn | None:
    """The next fixed turn that leaves a state."""
    later = queue.turns[queue.turns.index(turn) + 1 :]
    return next((each for each in later if each.facts.leaves is not None), None)


def _minutes(node: Node) -> int:
    return node.deciding.facts.minutes if node.deciding else node.turn.end - node.turn.start if node.turn else 0


def _begins(node: Node) -> Minute:
    if node.deciding:
        return node.deciding.taken
    assert node.turn is not None  # noqa: S101 - a node is a free step or a fixed turn
    return node.turn.start - node.turn.changeover


def _ends(node: Node) -> Minute:
    if node.deciding:
        return node.deciding.end
    assert node.turn is not None  # noqa: S101 - a node is a free step or a fixed turn
    return node.turn.end
