"""The back office: every table is there, and what plans are made from is changed aloud."""

from __future__ import annotations

import pytest
from django.apps import apps
from django.contrib import admin
from django.urls import reverse

from shop.signals import work_changed
from shop.stations.models import Person
from tests.shop.makers import make_design, make_finish, make_line, make_person, make_piece, make_station, make_step

pytestmark = pytest.mark.django_db
OURS = [model for config in apps.get_app_configs() if config.name.startswith("shop.") for model in config.get_models()]
INLINE = {"line", "pass", "detail", "skill", "hours"}


def test_every_table_is_in_the_back_office():
    missing = [model for model in OURS if not admin.site.is_registered(model)]
    assert {model._meta.model_name for model in missing} == INLINE


@pytest.mark.parametrize(
    "model", [model for model in OURS if admin.site.is_registered(model)], ids=lambda m: m.__name__
)
def test_every_list_opens_for_the_administrator(admin_client, model):
    make_step(make_piece(make_line(design=make_design(details=("carve", "paint"), finish=make_finish()))))
    make_station()
    assert (
        admin_client.get(reverse(f"admin:{model._meta.app_label}_{model._meta.model_name}_changelist")).status_code
        == 200
    )


def test_a_design_opens_with_its_passes_and_details(admin_client):
    design = make_design(passes=2, details=("carve",))
    page = admin_client.get(reverse("admin:designs_design_change", args=[design.pk]))
    assert [len(each.forms) for each in page.context["inline_admin_formsets"]] == [2, 1]


def test_changing_a_finish_makes_the_plan_stale(admin_client, django_capture_on_commit_callbacks):
    finish, heard = make_finish(name="tung oil"), []

    def hear(because: str, **_):
        heard.append(because)

    work_changed.connect(hear)
    address = reverse("admin:designs_finish_change", args=[finish.pk])
    said = admin_client.get(address).context["adminform"].form.initial | {"soak_least_minutes": 600}
    with django_capture_on_commit_callbacks(execute=True):
        admin_client.post(address, said)
    work_changed.disconnect(hear)
    finish.refresh_from_db()
    assert (finish.soak_least_minutes, heard) == (600, ["tung oil was changed"])


def test_whoever_becomes_the_owner_may_use_the_back_office(admin_client, django_user_model):
    person = make_person(role=Person.Role.PARTNER, works=False)
    user = django_user_model.objects.create_user("joss")
    nothing = {f"{name}-{n}_FORMS": 0 for name in ("skills", "hours", "days_off") for n in ("TOTAL", "INITIAL")}
    said = {"user": user.pk, "name": person.name, "role": "owner", "works_here": "on"} | nothing
    admin_client.post(reverse("admin:stations_person_change", args=[person.pk]), said)
    user.refresh_from_db()
    assert user.is_staff
    assert user.is_superuser


def test_what_happened_can_only_be_looked_at(admin_client):
    step = make_step(make_piece())
    assert admin_client.post(reverse("admin:floor_step_delete", args=[step.pk])).status_code == 403
