"""Counting bit changes, by hand and by the benchmark."""

from benchmarks.bit_changes import Changes, changes_first_come, changes_of_plan


def make_load(name: str, bits_of: dict[str, list[str]], *bits: str, kind: str = "router", begun: bool = False) -> dict:
    about = {"kind": kind, "bits": list(bits), "bits_of": bits_of}
    return {"id": name, "stations": [{"any_of": ["Router"]}], "begun": {"start": 0} if begun else None, "about": about}


def make_documents(*loads: dict, spindle: str | None = "cut") -> tuple[dict, dict]:
    """Loads an hour each, one after the other."""
    hours = [(60 * place, 60 * place + 60) for place in range(len(loads))]
    placed = [
        {"step": load["id"], "start": start, "end": end, "stations": ["Router"]}
        for load, (start, end) in zip(loads, hours, strict=True)
    ]
    stations = [{"id": "Router", "start_state": spindle}, {"id": "Laser", "start_state": None}]
    sand = {"id": "sand", "stations": [], "begun": None, "about": {"kind": "sand"}}
    return {"now": 0, "steps": [*loads, sand], "stations": stations}, {"placed": placed}


BOTH = make_load("one", {"p1": ["bowl", "cut"], "p2": ["bowl", "cut"]}, "bowl", "cut")
CUT = make_load("two", {"p3": ["cut"]}, "cut")


def test_changes_inside_loads_and_between_them_are_told_apart():
    assert changes_of_plan(*make_documents(BOTH, CUT, spindle="v")) == Changes(inside=1, between=1)


def test_a_bit_that_is_in_the_spindle_is_no_change():
    assert changes_of_plan(*make_documents(CUT, BOTH)) == Changes(inside=1, between=1)
    assert changes_of_plan(*make_documents(CUT)) == Changes(inside=0, between=0)


def test_a_load_that_has_begun_leaves_its_bit_and_counts_no_more():
    begun = make_load("began", {"p1": ["bowl", "v"]}, "bowl", "v", begun=True)
    assert changes_of_plan(*make_documents(begun, CUT)) == Changes(inside=0, between=1)
    assert changes_first_come(make_documents(begun, CUT)[0]) == 0


def test_first_come_first_served_changes_for_every_piece():
    assert changes_first_come(make_documents(BOTH, CUT)[0]) == 4  # cut | bowl cut | bowl cut | cut


def test_first_come_first_served_carves_a_piece_right_after_routing_it():
    carve = make_load("three", {"p1": ["v"]}, "v", kind="carve")
    assert changes_first_come(make_documents(carve, BOTH, spindle=None)[0]) == 4  # bowl cut v | bowl cut
