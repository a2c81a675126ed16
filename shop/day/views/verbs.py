"""What a person does with a step or a piece, from whatever page it stands on."""

from __future__ import annotations

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.utils.timezone import now
from django.views.decorators.http import require_POST

from shop.floor import services
from shop.floor.models import Piece, Step, Tick
from shop.htmx import FLOOR_CHANGED, HtmxRequest, back_to, told
from shop.stations.access import person_of
from shop.words import clock, counted, duration


class DoneForm(forms.Form):
    """How long it really took, where somebody cares to say."""

    minutes = forms.IntegerField(min_value=1, max_value=24 * 60, required=False)


class SpoiltForm(forms.Form):
    why = forms.CharField(max_length=120)


@require_POST
def begin(request: HtmxRequest, pk: int) -> HttpResponse:
    step = _step(pk)
    if step.begun_at:
        messages.info(request, f"{step.begun_by or 'Somebody'} began “{step.what}” at {clock(step.begun_at)}.")
    else:
        begun = services.begin(step, by=person_of(request), at=now(), stations=services.planned_stations(step))
        messages.success(request, f"Begun: {step.what}.")
        _say_taken_as_done(request, begun)
    return _answer(request)


@require_POST
def done(request: HtmxRequest, pk: int) -> HttpResponse:
    step = _step(pk)
    form = DoneForm(request.POST)
    if step.ticked:
        messages.info(request, _who_ticked(step.ticked))
    elif not form.is_valid():
        messages.error(request, "How long it took is a whole number of minutes, from 1 to 1440, or left empty.")
    else:
        is_new = step.begun_at is None
        tick = services.tick(step, by=person_of(request), at=now(), minutes=form.cleaned_data["minutes"])
        messages.success(request, f"Done: {step.what}, {duration(tick.minutes)}.")
        if is_new:
            _say_taken_as_done(request, tick.step)
    return _answer(request)


@require_POST
def undo(request: HtmxRequest, pk: int) -> HttpResponse:
    step = _step(pk)
    try:
        step = services.undo(step)
    except services.FloorError as error:
        messages.error(request, str(error))
    else:
        stands = "under way again" if step.begun_at else "waiting again"
        messages.success(request, f"Taken back: {step.what} is {stands}.")
    return _answer(request)


@require_POST
def spoil(request: HtmxRequest, pk: int) -> HttpResponse:
    piece = get_object_or_404(Piece.objects.select_related("line__design", "line__order"), pk=pk)
    form = SpoiltForm(request.POST)
    if piece.spoilt_at:
        messages.info(request, f"{piece} is written off already.")
    elif not form.is_valid():
        messages.error(request, "Say in a few words what happened to the piece, at most 120 letters.")
    else:
        services.spoil(piece, why=form.cleaned_data["why"], at=now())
        messages.success(request, f"Written off: {piece}. It is made again, and the plan is made anew.")
    return _answer(request)


def _step(pk: int) -> Step:
    return get_object_or_404(Step.objects.select_related("tick__by", "begun_by"), pk=pk)


def _say_taken_as_done(request: HtmxRequest, step: Step) -> None:
    earlier = services.taken_as_done(step)
    if earlier:
        are = "is" if len(earlier) == 1 else "are"
        named = "; ".join(each.what for each in earlier)
        messages.info(request, f"{counted(len(earlier), 'earlier step')} {are} taken as done: {named}.")


def _who_ticked(tick: Tick) -> str:
    return f"{tick.by or 'Somebody'} ticked it at {clock(tick.at)}."


def _answer(request: HtmxRequest) -> HttpResponse:
    return told(request, event=FLOOR_CHANGED, otherwise=back_to(request))
