"""Bits, the router and the laser as the planner's sums see them."""

from __future__ import annotations

from planner import NM_PER_INCH, Cutter, Machine
from shop.stations.models import Station
from shop.stock.models import Bit


def cutter_of(bit: Bit) -> Cutter:
    return Cutter(
        shape=bit.shape,
        diameter_in=bit.diameter_nm / NM_PER_INCH,
        corner_radius_in=None if bit.corner_radius_nm is None else bit.corner_radius_nm / NM_PER_INCH,
        angle_degrees=bit.angle_degrees,
        flutes=bit.flutes,
        rpm=bit.rpm,
        feed_in_per_min=float(bit.feed_in_per_minute),
        plunge_in_per_min=float(bit.plunge_in_per_minute),
        depth_per_pass_in=bit.depth_per_pass_nm / NM_PER_INCH,
        ramp_degrees=bit.ramp_degrees,
    )


def machine_of(router: Station | None) -> Machine:
    """The workshop's router; before there is one, a usual small one."""
    if router is None:
        return Machine()
    return Machine(
        rapid_in_per_min=router.rapid_in_per_minute,
        acceleration_in_per_s2=router.acceleration_in_per_s2,
        retract_in=router.retract_nm / NM_PER_INCH,
    )


def router() -> Station | None:
    return Station.objects.filter(role=Station.Role.ROUTER).first()


def laser() -> Station | None:
    return Station.objects.filter(role=Station.Role.LASER).first()
