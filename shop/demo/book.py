"""The order book: who wants what, placed so many days ago, due in so many days. All invented."""

from __future__ import annotations

from typing import NamedTuple

FIRST_FAIR, SECOND_FAIR = "Lantern Quay Fair", "Marrowdale Makers' Market"
FAIR_PLACES = {FIRST_FAIR: "Ostrel Bay", SECOND_FAIR: "Marrowdale"}
STOCK = "shop stock"
ONLINE, IN_PERSON = "online", "in person"

CONTACTS = {
    "Ada Fennimore": "ada.fennimore@example.org",
    "Bram Okafell": "bram.okafell@example.org",
    "Corrie Vandeleth": "corrie.vandeleth@example.org",
    "Elio Sandringay": "elio.sandringay@example.org",
    "Hesper Lunde-Ray": "hesper.lunderay@example.org",
    "Ivo Tarrantine": "ivo.tarrantine@example.org",
    "Petra Mossgrave": "petra.mossgrave@example.org",
    "Tamsin Orrelby": "tamsin.orrelby@example.org",
}


class Wanted(NamedTuple):
    """A line of an order."""

    design: str
    species: str
    quantity: int = 1
    text: str = ""
    artwork: str = "none"


class Entry(NamedTuple):
    """An order as it stands in the book. `for_whom` is a fair, the shelf, or a customer."""

    placed_days_ago: int
    due_in_days: int | None  # None: when its fair opens
    channel: str
    for_whom: str
    wanted: tuple[Wanted, ...]
    note: str = ""


def _online(placed: int, due: int, who: str, *wanted: tuple, note: str = "") -> Entry:
    return Entry(placed, due, ONLINE, who, tuple(Wanted(*each) for each in wanted), note)


def _in_person(placed: int, due: int, who: str, *wanted: tuple, note: str = "") -> Entry:
    return Entry(placed, due, IN_PERSON, who, tuple(Wanted(*each) for each in wanted), note)


def _fair(placed: int, fair: str, *wanted: tuple) -> Entry:
    return Entry(placed, None, "fair", fair, tuple(Wanted(*each) for each in wanted))


def _shelf(placed: int, due: int, *wanted: tuple) -> Entry:
    return Entry(placed, due, STOCK, STOCK, tuple(Wanted(*each) for each in wanted))


BOOK = (
    _online(8, 2, "Ada Fennimore", ("Harbor tray", "Walnut"), ("Salt dish", "Walnut", 2)),
    _in_person(8, 1, "Odile Marchetty", ("Fish board", "Ash", 1, "The Marchettys")),
    _online(8, 2, "Bram Okafell", ("Serving plank", "Cherry"), ("Hexagon trivet", "Maple", 2)),
    _in_person(7, 3, "Silas Wintergreen", ("Oval dish", "Cherry", 2)),
    _online(7, 4, "Corrie Vandeleth", ("House sign", "White oak", 1, "Gull Cottage", "approved")),
    _in_person(7, 3, "Jonna Petterby", ("Round bread board", "Maple")),
    _online(7, 3, "Quentin Vale-Marsh", ("Hexagon tray", "Walnut")),
    _online(6, 5, "Elio Sandringay", ("Picture tray", "Maple", 1, "Rex, 2009-2024", "approved")),
    _in_person(6, 4, "Lorna Abbascue", ("Gull tray", "Ash"), ("Leaf dish", "Cherry")),
    _online(6, 5, "Hesper Lunde-Ray", ("Engraved plank", "Walnut", 1, "Sofie & Jan")),
    _shelf(6, 12, ("Salt dish", "Maple", 4), ("Hexagon trivet", "Walnut", 3)),
    _in_person(6, 6, "Gwil Starkey-Lowe", ("Harbor tray", "Maple", 2), ("Knife rest block", "Maple")),
    _fair(5, FIRST_FAIR, ("Harbor tray", "Walnut", 4), ("Harbor tray", "Cherry", 3), ("Oval dish", "Walnut", 4)),
    _in_person(5, 6, "Mattis Hollowell", ("Heart board", "Cherry", 1, "M + L")),
    _online(5, 6, "Petra Mossgrave", ("Knife rest block", "Beech", 2)),
    _in_person(5, 5, "Odile Marchetty", ("Serving plank", "Ash", 2)),
    _online(5, 7, "Nerys Caldbeck", ("House sign", "Ash", 1, "Caldbeck", "approved"), ("Serving plank", "Maple")),
    _in_person(5, 8, "Theodric Onslade", ("Round bread board", "Cherry", 2)),
    _online(4, 7, "Ivo Tarrantine", ("Tide tray", "White oak", 1, "Ostrel Bay", "received")),
    _fair(4, FIRST_FAIR, ("Round bread board", "Maple", 4), ("Serving plank", "Cherry", 4), ("Salt dish", "Beech", 5)),
    _online(4, 7, "Tamsin Orrelby", ("Hexagon tray", "Cherry"), ("Hexagon trivet", "Cherry", 2)),
    _in_person(4, 8, "Silas Wintergreen", ("House sign", "Ash", 1, "Wintergreen 14", "received")),
    _in_person(4, 9, "Isolde Farrimund", ("Gull tray", "White oak", 2), ("Salt dish", "Maple", 2)),
    _in_person(3, 7, "Rosalind Quaye-Dunn", ("Gull tray", "Maple", 2)),
    _online(3, 9, "Ada Fennimore", ("Engraved plank", "Cherry", 2, "Ada's kitchen", "approved")),
    _fair(3, FIRST_FAIR, ("Leaf dish", "Cherry", 4), ("Hexagon trivet", "Maple", 6)),
    _online(3, 8, "Wendeline Ostermay", ("Picture tray", "Beech", 1, "Grandpa's boat", "received")),
    _in_person(3, 9, "Jonna Petterby", ("Leaf dish", "Walnut", 2), ("Salt dish", "Walnut", 2)),
    _online(3, 10, "Bartel Quillmore", ("Hexagon tray", "Beech", 2), ("Oval dish", "Beech", 2)),
    _in_person(3, 11, "Gwil Starkey-Lowe", ("Fish board", "White oak", 1, "Starkey-Lowe")),
    _shelf(3, 14, ("Serving plank", "Beech", 3), ("Knife rest block", "Beech", 2)),
    _online(2, 10, "Bram Okafell", ("Harbor tray", "White oak", 2)),
    _online(2, 11, "Casimir Dunnoway", ("Fish board", "Beech", 2, "Catch of the day")),
    _in_person(2, 9, "Lorna Abbascue", ("Oval dish", "Maple")),
    _fair(2, SECOND_FAIR, ("Gull tray", "Ash", 3), ("Harbor tray", "Walnut", 4), ("Hexagon tray", "Cherry", 3)),
    _online(2, 12, "Corrie Vandeleth", ("Heart board", "Maple", 2, "Home", "approved")),
    _in_person(2, 10, "Fenna Ruysing", ("Knife rest block", "Walnut"), ("Serving plank", "Walnut")),
    _shelf(2, 16, ("Oval dish", "Cherry", 2), ("Leaf dish", "Maple", 2)),
    _online(2, 13, "Quentin Vale-Marsh", ("House sign", "White oak", 1, "The Old Boathouse", "wanted")),
    _online(2, 12, "Marisol Tegan", ("Picture tray", "Cherry", 1, "Two herons", "approved")),
    _in_person(2, 13, "Nerys Caldbeck", ("Leaf dish", "White oak", 3)),
    _online(2, 14, "Anselm Pryde", ("Harbor tray", "Ash", 2)),
    _in_person(2, 15, "Quillon Ferro", ("Salt dish", "Walnut", 8), note="for the tables at a wedding"),
    _online(1, 12, "Hesper Lunde-Ray", ("Tide tray", "Walnut", 1, "Lunde-Ray 2003", "wanted")),
    _in_person(1, 8, "Mattis Hollowell", ("Hexagon trivet", "Ash", 3)),
    _online(1, 14, "Yorick Saltmarshe", ("Picture tray", "Maple", 2, "Class of the lighthouse", "wanted")),
    _fair(1, SECOND_FAIR, ("Round bread board", "Walnut", 4), ("Fish board", "Ash", 3, "Marrowdale")),
    _in_person(1, 13, "Silas Wintergreen", ("Round bread board", "White oak")),
    _online(1, 15, "Elio Sandringay", ("Gull tray", "Walnut"), ("Oval dish", "Walnut")),
    _online(1, 16, "Perpetua Lisk", ("Engraved plank", "Ash", 2, "Lisk & Daughters", "received")),
    _fair(1, SECOND_FAIR, ("Serving plank", "Ash", 4), ("Salt dish", "Cherry", 6), ("Oval dish", "Maple", 3)),
    _in_person(1, 15, "Rosalind Quaye-Dunn", ("Harbor tray", "Beech")),
    _online(1, 17, "Ivo Tarrantine", ("Leaf dish", "Beech", 2), ("Hexagon tray", "Maple")),
    _online(1, 17, "Petra Mossgrave", ("Heart board", "Cherry", 1, "Petra")),
    _in_person(1, 18, "Odile Marchetty", ("Harbor tray", "Walnut"), ("Knife rest block", "Ash")),
    _in_person(1, 18, "Fenna Ruysing", ("Serving plank", "White oak", 2)),
    _online(1, 15, "Bartel Quillmore", ("Tide tray", "Ash", 1, "Quillmore", "received")),
    _online(1, 18, "The Old Pilot House", ("Engraved plank", "Ash", 4, "Pilot House", "received")),
    _in_person(1, 16, "Isolde Farrimund", ("Heart board", "Beech", 2, "I & F", "approved")),
    _in_person(1, 17, "Theodric Onslade", ("Hexagon tray", "White oak", 2), ("Hexagon trivet", "White oak", 2)),
    _online(1, 17, "Dorrin Amberley", ("Harbor tray", "Cherry", 3), note="one invoice, three addresses"),
    _online(0, 19, "Tamsin Orrelby", ("House sign", "Cherry", 1, "Orrelby", "wanted"), note="a gift, no prices in it"),
    _shelf(0, 20, ("Hexagon trivet", "Beech", 4)),
    _online(0, 20, "Casimir Dunnoway", ("Gull tray", "Cherry")),
    _online(0, 21, "Wendeline Ostermay", ("Tide tray", "Maple", 1, "Bon voyage", "wanted")),
    _online(0, 20, "Ada Fennimore", ("Fish board", "White oak", 1, "Ada & Tom")),
    _online(0, 19, "Marisol Tegan", ("Leaf dish", "Walnut", 2), ("Salt dish", "Cherry", 2)),
)
