import pytest

from planner.making.wording import counted


@pytest.mark.parametrize(
    ("count", "name", "said"),
    [
        (1, "Gull tray", "1 Gull tray"),
        (4, "Gull tray", "4 Gull trays"),
        (2, "Salt dish", "2 Salt dishes"),
        (3, "Bread box", "3 Bread boxes"),
        (2, "Pastry", "2 Pastries"),
        (2, "Knife block", "2 Knife blocks"),
    ],
)
def test_things_are_counted_as_people_count_them(count, name, said):
    assert counted(count, name) == said
