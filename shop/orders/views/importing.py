"""Orders from a file: upload, match the columns, see every row's fate, bring them in."""

from __future__ import annotations

from http import HTTPStatus
from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.timezone import now
from django.views.decorators.http import require_http_methods, require_POST

from shop.forms import problems_of
from shop.htmx import HtmxRequest
from shop.orders import uploads
from shop.orders.forms import MatchingForm, UploadForm
from shop.orders.importing import DryRun, SheetError, bring_in, dry_run, read_sheet
from shop.orders.models import Upload
from shop.stations.access import owner_only
from shop.words import counted

A_PAGE = 200
BAD_SHOWN = 50


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def upload(request: HtmxRequest) -> HttpResponse:
    form = UploadForm(request.POST, request.FILES) if request.method == "POST" else UploadForm()
    if form.is_valid():
        kept = uploads.keep(form.cleaned_data["text"], name=form.cleaned_data["file"].name, owner=request.user)
        return redirect("orders:check", kept.pk)
    status = HTTPStatus.UNPROCESSABLE_ENTITY if form.errors else HTTPStatus.OK
    return render(request, "orders/import.html", {"form": form, "problems": list(problems_of(form))}, status=status)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def check(request: HtmxRequest, pk: str) -> HttpResponse:
    """The dry run. A POST changes the matching."""
    kept = _kept(request, pk)
    if request.method == "POST":
        form = _matching_form(kept, request.POST)
        if not form.is_valid():
            return _show(request, kept, form=form, status=HTTPStatus.UNPROCESSABLE_ENTITY)
        uploads.match(kept, form.matching())
        return redirect("orders:check", kept.pk)
    return _show(request, kept)


@require_POST
@owner_only
def bring(request: HtmxRequest, pk: str) -> HttpResponse:
    kept = _kept(request, pk)
    facts = {"at": now(), "zone": request.workshop.zone, "good_rows_only": request.POST.get("rows") == "good"}
    try:
        fates, taken = bring_in(read_sheet(kept.text), kept.matching, **facts)
    except SheetError as error:
        return _show(request, kept, problem=str(error), status=HTTPStatus.UNPROCESSABLE_ENTITY)
    if fates.bad_rows and not facts["good_rows_only"]:
        problem = f"{counted(fates.bad_rows, 'bad row')}, so nothing came in: mend the file or take the good rows only."
        return _show(request, kept, problem=problem, status=HTTPStatus.UNPROCESSABLE_ENTITY)
    kept.delete()
    messages.success(request, f"{counted(taken, 'order')} taken from {kept.name}: {fates.summary}.")
    return redirect("orders:list")


def _kept(request: HtmxRequest, pk: str) -> Upload:
    return get_object_or_404(uploads.fresh(), pk=pk, owner=request.user)


def _matching_form(kept: Upload, data: Any = None) -> MatchingForm:
    return MatchingForm(data, header=read_sheet(kept.text).header, initial=kept.matching)


def _show(
    request: HtmxRequest, kept: Upload, *, form: MatchingForm | None = None, problem: str = "", status: int = 200
) -> HttpResponse:
    problems = list(problems_of(form)) if form else []
    fates: dict[str, Any] = {}
    if form is None:
        try:
            fates = _fates(request, kept)
        except SheetError as error:
            problem = problem or str(error)
    if problem:
        problems.append(("", problem))
    context = {"upload": kept, "form": form or _matching_form(kept), "problems": problems, **fates}
    return render(request, "orders/check.html", context, status=status)


def _fates(request: HtmxRequest, kept: Upload) -> dict[str, Any]:
    fates: DryRun = dry_run(read_sheet(kept.text), kept.matching, at=now(), zone=request.workshop.zone)
    page = Paginator(fates.rows, A_PAGE).get_page(request.GET.get("page"))
    return {"fates": fates, "page": page, "bad": fates.troubles[:BAD_SHOWN], "more_bad": fates.troubles[BAD_SHOWN:]}
