from itertools import pairwise, permutations

from hypothesis import given
from hypothesis import strategies as st

from planner.making.bits import bits_in_order, cuts_of, order_of_turns
from planner.making.pieces import Pass


def cuts(*bits):
    return cuts_of(Pass("", bit, 1) for bit in bits)


def order(*pieces):
    """The bits of a load with these pieces, each given as the bits of its passes."""
    turns = order_of_turns(frozenset(tuple(turn for turn, _ in cuts(*bits)) for bits in pieces))
    return None if turns is None else [bit for bit, _ in bits_in_order(turns)]


def test_passes_with_the_same_bit_after_each_other_are_one_turn():
    passes = [Pass("pocket", "bowl", 6), Pass("clean-up", "bowl", 2.5), Pass("cut out", "down-cut", 3)]
    assert cuts_of(passes) == ((("bowl", 1), 8.5), (("down-cut", 1), 3))


def test_pieces_alike_take_each_bit_once():
    assert order(["bowl", "round", "down-cut"], ["bowl", "round", "down-cut"]) == ["bowl", "round", "down-cut"]


def test_bits_that_only_one_design_needs_come_before_the_cut_out_of_all():
    assert order(["bowl", "down-cut"], ["bowl", "round", "down-cut"]) == ["bowl", "round", "down-cut"]


def test_pieces_are_cut_out_last_whatever_bit_does_it():
    found = order(["bowl", "down-cut"], ["flat", "spiral"])
    assert set(found[:2]) == {"bowl", "flat"}
    assert set(found[2:]) == {"down-cut", "spiral"}


def test_designs_whose_orders_conflict_have_no_order_together():
    assert order(["bowl", "flat", "down-cut"], ["flat", "bowl", "down-cut"]) is None


def test_a_bit_that_cuts_one_piece_out_and_another_hollow_has_no_order():
    assert order(["bowl", "down-cut"], ["down-cut", "flat", "spiral"]) is None


def test_a_piece_that_needs_a_bit_twice_has_it_set_up_twice():
    assert order(["bowl", "flat", "bowl"]) == ["bowl", "flat", "bowl"]


pieces = st.lists(st.permutations("abcd").flatmap(lambda bits: st.integers(1, 4).map(lambda n: bits[:n])), max_size=4)


@given(pieces.filter(bool))
def test_an_order_keeps_every_piece_in_its_own(sequences):
    found = order(*sequences)
    if found is not None:
        for bits in sequences:
            assert all(found.index(one) < found.index(other) for one, other in pairwise(bits))


@given(pieces.filter(bool))
def test_there_is_no_order_only_if_no_permutation_is_one(sequences):
    last = {bits[-1] for bits in sequences}
    before = {pair for bits in sequences for pair in pairwise(bits)}
    before |= {(bit, cutter) for bits in sequences for bit in bits[:-1] for cutter in last - {bit}}
    used = sorted({bit for bits in sequences for bit in bits})
    possible = any(all(o.index(a) < o.index(b) for a, b in before) for o in permutations(used))
    assert (order(*sequences) is not None) == possible
