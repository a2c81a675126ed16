"""What the demo workshop owns, makes and has promised."""

import pytest

from shop.designs.models import Design, Detail, Finish
from shop.orders.models import Fair, Line, Order
from shop.stations.models import Station
from shop.stock.models import Species
from tests.shop.demo.conftest import WEDNESDAY

pytestmark = [
    pytest.mark.django_db,  # or pytest-django makes no test database at all
    pytest.mark.usefixtures("demo"),
    pytest.mark.parametrize("demo", [WEDNESDAY], indirect=True),
]


def test_every_shape_and_every_kind_of_detail_is_made():
    assert set(Design.objects.values_list("shape", flat=True)) == set(Design.Shape.values)
    assert set(Detail.objects.values_list("kind", flat=True)) == set(Detail.Kind.values)


def test_designs_are_glued_or_not_thick_or_thin_and_finished_in_every_way():
    ways = Design.objects.values_list("is_glued", flat=True), Design.objects.values_list("finish", flat=True)
    assert set(ways[0]) == {True, False}
    assert set(ways[1]) == {*Finish.objects.values_list("pk", flat=True), None}
    assert Design.objects.values("stock_thickness_nm").distinct().count() == 2


def test_some_lettering_gets_two_coats():
    assert [d for d in Design.objects.all() if d.details.filter(kind="paint").count() == 2]


def test_every_design_is_sound():
    for design in Design.objects.all():
        design.full_clean()


def test_every_wood_has_a_grain_of_its_own():
    assert Species.objects.values("grain").distinct().count() == Species.objects.count() >= 5


def test_the_book_is_full():
    assert Order.objects.count() >= 40
    assert sum(Line.objects.values_list("quantity", flat=True)) >= 120


def test_orders_come_by_every_channel_for_two_fairs():
    assert set(Order.objects.values_list("channel", flat=True)) == set(Order.Channel.values)
    assert Fair.objects.filter(orders__is_hard=True).distinct().count() == 2


def test_artwork_stands_in_every_way():
    assert set(Line.objects.values_list("artwork", flat=True)) == set(Line.Artwork.values)


def test_only_what_takes_a_text_has_one():
    assert not Line.objects.exclude(text="").filter(design__takes_text=False).exists()


def test_every_kind_of_station_is_there():
    assert set(Station.objects.values_list("role", flat=True)) == set(Station.Role.values)
