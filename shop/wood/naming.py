"""Names of boards, as two people in front of a rack tell them apart; letters of panels, as chalked on strips."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from shop.stock.models import Board
from shop.words import inches


def board_names(boards: Iterable[Board]) -> dict[int, str]:
    """By primary key: wood and size; where two lots are as large, what the meter said, else which lot."""
    boards = list(boards)
    sizes = Counter(_size(board) for board in boards)
    metered = Counter(_metered(board) for board in boards)
    seen: Counter[str] = Counter()
    names = {}
    for board in boards:
        name = _size(board)
        if sizes[name] > 1:
            name = _metered(board)
            seen[name] += 1
            if metered[name] > 1:
                name = f"{name}, lot {seen[name]}"
        names[board.pk] = name
    return names


def _size(board: Board) -> str:
    return f"{board.species} {inches(board.length_nm)} × {inches(board.width_nm)} × {inches(board.thickness_nm)}"


def _metered(board: Board) -> str:
    return _size(board) if board.moisture_percent is None else f"{_size(board)} at {board.moisture_percent} %"


def letter(number: int) -> str:
    """A, B, ... Z, AA, AB: what is written on a strip in chalk."""
    letters = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def runs(letter: str, numbers: Iterable[int]) -> str:
    """A1 to A3, A7: panels of one letter in as few words as can be."""
    said: list[list[int]] = []
    for number in sorted(numbers):
        if said and number == said[-1][-1] + 1:
            said[-1].append(number)
        else:
            said.append([number])
    return ", ".join(
        f"{letter}{run[0]}" if len(run) == 1 else f"{letter}{run[0]}{' to ' if len(run) > 2 else ', '}{letter}{run[-1]}"
        for run in said
    )
