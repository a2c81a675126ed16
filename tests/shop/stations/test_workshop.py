"""The workshop's page: who may say what, and that the plan hears of it."""

from __future__ import annotations

from datetime import date, time, timedelta

import pytest
from django.utils.timezone import localdate, now

from shop.signals import work_changed
from shop.stations import services
from shop.stations.models import DayOff, Person, Station, Workshop
from tests.shop.makers import make_person, make_station

pytestmark = pytest.mark.django_db
MONDAY_ONLY = {"Monday": "8-12, 13-17"}


@pytest.fixture
def heard(django_capture_on_commit_callbacks):
    """What the plan's room heard."""
    news = []

    def hear(because: str, **_):
        news.append(because)

    work_changed.connect(hear)
    yield news
    work_changed.disconnect(hear)


def hours_of(person: Person) -> list[str]:
    return [str(each) for each in person.hours.all()]


def test_hours_replace_the_hours_before(heard, django_capture_on_commit_callbacks):
    person = make_person("Maren")
    with django_capture_on_commit_callbacks(execute=True):
        services.set_hours(person, [(0, time(8), time(12))])
    assert hours_of(person) == ["Monday 08:00-12:00"]
    assert heard == ["Maren's hours are new"]


def test_the_same_days_off_twice_are_written_once():
    person = make_person()
    for _ in range(2):
        services.take_days_off(person, date(2026, 12, 3), date(2026, 12, 4))
    assert DayOff.objects.count() == 1


def test_a_partner_changes_their_own_hours(partner):
    partner.post(f"/workshop/hours/{partner.person.pk}/", MONDAY_ONLY)
    assert hours_of(partner.person) == ["Monday 08:00-12:00", "Monday 13:00-17:00"]


def test_hours_that_make_no_sense_are_said_at_their_day_and_change_nothing(partner):
    page = partner.post(f"/workshop/hours/{partner.person.pk}/", {"Friday": "12-8"})
    assert page.status_code == 422
    assert "Friday: “12-8” ends before it begins." in page.content.decode()
    assert len(hours_of(partner.person)) == 7


@pytest.mark.parametrize("address", ["/workshop/hours/{}/", "/workshop/hours/{}/days-off/"])
def test_a_partner_does_not_change_other_peoples(partner, address):
    other = make_person()
    assert partner.post(address.format(other.pk), MONDAY_ONLY).status_code == 403
    assert len(hours_of(other)) == 7


def test_the_owner_changes_everybodys(owner):
    other = make_person()
    owner.post(f"/workshop/hours/{other.pk}/", MONDAY_ONLY)
    assert len(hours_of(other)) == 2


def test_one_day_off_needs_one_date(partner):
    partner.post(f"/workshop/hours/{partner.person.pk}/days-off/", {"first_day": "2026-12-03", "why": "a visit"})
    off = DayOff.objects.get()
    assert (off.person, off.first_day, off.last_day) == (partner.person, date(2026, 12, 3), date(2026, 12, 3))


def test_days_off_that_end_before_they_begin_are_refused(partner):
    days = {"first_day": "2026-12-03", "last_day": "2026-12-01"}
    page = partner.post(f"/workshop/hours/{partner.person.pk}/days-off/", days)
    assert "The last day off is before the first" in page.content.decode()
    assert not DayOff.objects.exists()


def test_only_the_owner_closes_the_workshop_for_everybody(owner, partner):
    days = {"first_day": "2026-12-03", "everybody": "on"}
    partner.post(f"/workshop/hours/{partner.person.pk}/days-off/", days)
    owner.post(f"/workshop/hours/{owner.person.pk}/days-off/", days)
    assert [off.person for off in DayOff.objects.order_by("pk")] == [partner.person, None]


def test_days_off_are_taken_back_by_whose_they_are(owner, partner):
    off = services.take_days_off(owner.person, localdate(), localdate())
    assert partner.post(f"/workshop/days-off/{off.pk}/back/").status_code == 403
    owner.post(f"/workshop/days-off/{off.pk}/back/")
    assert not DayOff.objects.exists()


def test_a_station_is_out_of_order_until_some_hour_and_works_again(owner):
    station = make_station()
    until = (now() + timedelta(days=2)).strftime("%Y-%m-%dT%H:%M")
    owner.post(f"/workshop/stations/{station.pk}/down/", {f"station-{station.pk}-down_until": until})
    assert Station.objects.get().is_down
    assert "out of order until" in owner.get("/workshop/").content.decode()
    owner.post(f"/workshop/stations/{station.pk}/down/", {"works": "1"})
    assert not Station.objects.get().is_down


@pytest.mark.parametrize("until", ["9999-12-31T23:59", "0001-01-01T00:00"])
def test_a_station_is_not_out_of_order_for_ever(owner, until):
    station = make_station()
    page = owner.post(f"/workshop/stations/{station.pk}/down/", {f"station-{station.pk}-down_until": until})
    assert page.status_code == 422
    assert f"The year {int(until[:4])} can&#x27;t be meant" in page.content.decode()
    assert Station.objects.get().down_until is None


@pytest.mark.parametrize("days", [{"first_day": "9999-12-31"}, {"first_day": "2026-12-03", "last_day": "9999-12-31"}])
def test_days_off_lie_in_years_that_somebody_can_mean(partner, days):
    page = partner.post(f"/workshop/hours/{partner.person.pk}/days-off/", days)
    assert page.status_code == 422
    assert "The year 9999 can&#x27;t be meant" in page.content.decode()
    assert not DayOff.objects.exists()


def test_common_minutes_are_the_owners(owner, partner):
    form = owner.get("/workshop/").context["minutes_form"]
    said = {name: form[name].value() for name in form.fields} | {"glue_minutes": "9"}
    assert partner.post("/workshop/minutes/", said).status_code == 403
    owner.post("/workshop/minutes/", said)
    assert Workshop.get().glue_minutes == 9


def test_minutes_that_are_none_are_said_so(owner):
    page = owner.post("/workshop/minutes/", {"glue_minutes": "-1"})
    assert page.status_code == 422
    assert "There is a problem" in page.content.decode()


def test_a_partner_sees_themselves_and_nobody_elses_hours(partner):
    make_person("Somebody Else")
    text = partner.get("/workshop/").content.decode()
    assert partner.person.name in text
    assert "Somebody Else" not in text
    assert "Common minutes" not in text


def test_a_stranger_sees_the_sign_in(client):
    assert client.get("/workshop/").status_code == 302
