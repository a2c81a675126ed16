"""A problem and a plan of it as rows of records for compiled code: everything by number, minutes from now on.

What a record has several of stands end to end in `item` (single numbers) or `pair`: `hands` to `hands_end` are the
places in `pair` where a step's stretches of hands work stand. `NONE` stands for what is not there.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

FAR = 1 << 40  # minutes: a wait without an end
NONE = -1


def record(whole: str, real: str = "") -> np.dtype:
    """A record of whole and real numbers by name."""
    return np.dtype([(name, np.int64) for name in whole.split()] + [(name, np.float64) for name in real.split()])


STEP = record(
    "minutes earliest state_in leaves hands hands_end watch watch_end people people_end choice choice_end link link_end"
    " hold hold_end order order_end cluster place was"
    # where it stands in the plan, NONE for nowhere; low: from when on its cluster may have it
    " start person chosen change low"
)
CHOICE = record("queue use use_end")  # use: station and load
# before: NONE where it has begun, and `ended` is when; wait: least and most
LINK = record("before ended ties last wait wait_end")
HOLD = record("station load first last until")  # first: NONE where it has begun; last: NONE where only until counts
CLUSTER = record("step step_end before before_end after after_end comes_first stays gone waiting place", "stood key")
STATION = record("capacity row profile open_row")  # row: where one load fills it; profile: where several fit
QUEUE = record("state turns")  # of a station with states: what is set up at first, how many turns it has
ORDER = record("step step_end needs needs_end ended due finish new_finish touched", "weight missed")
ALL = record(
    "horizon now ended watched log out touched lined start person choice change",
    "late finish changeover lost makespan moved cost best taken_out patience",
)


class Shop(NamedTuple):
    """Everything there is, in a few arrays."""

    step: np.ndarray
    choice: np.ndarray
    link: np.ndarray
    hold: np.ndarray
    cluster: np.ndarray
    station: np.ndarray
    queue: np.ndarray
    order: np.ndarray
    item: np.ndarray
    pair: np.ndarray
    rank: np.ndarray  # rule, cluster: how pressing
    changeover: np.ndarray  # queue, state before, state wanted: minutes
    bits: np.ndarray  # free minutes of people and of stations that one load fills; open and watched minutes
    used: np.ndarray  # loads of the other stations by minute
    turn: np.ndarray  # queue, place: step
    bias: np.ndarray  # by person: minutes by which others come first
    wish: np.ndarray  # cluster: by when its own orders are wanted, as kept and as tried; the same of all it leads to
    taste: np.ndarray  # what else a line is made by, as kept and as tried: patience, and each person's bias
    log: np.ndarray  # what was done, to be undone
    lists: np.ndarray  # row by row, as named below
    best: np.ndarray  # start, person, choice, changeover of each step in the best plan
    all: np.ndarray  # one record of what there is once
    chance: np.ndarray


# Rows of `lists`: clusters taken out, clusters ready, orders touched, marks in the log within one cluster; clusters in
# line, those placed in that order, the log before each of them, room to sort in.
OUT, READY, TOUCHED, MARK, LINE, LINED, LOGGED, BUFFER = LISTS = range(8)
