"""HTML onto paper. Nothing is fetched from anywhere: a sheet holds customers' words, and those may hold addresses."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.contrib.staticfiles import finders
from django.template.loader import render_to_string

PAPERS = {"a4": "A4", "letter": "Letter"}
FONT = "fonts/atkinson-hyperlegible-next-latin-wght-normal.woff2"
FONT_ADDRESS = "own:font"
"""The one address that a sheet may name: our own typeface, handed over from memory."""


class PaperError(Exception):
    """A sheet that can't be made on this machine; one sentence that says what to do."""


def print_sheet(template: str, context: dict[str, Any], paper: str) -> bytes:
    """The template as a PDF on `paper`, a4 or letter. Raises PaperError where the machine lacks a library."""
    page = render_to_string(template, context | {"on_paper": True})
    try:
        from weasyprint import CSS, HTML
        from weasyprint.text.fonts import FontConfiguration
    except OSError as error:
        raise PaperError(
            "PDF sheets need a library that this machine lacks: run `./go.py setup`, then ask for the sheet again."
        ) from error
    fonts, fetcher = FontConfiguration(), _only_our_font()
    sheet = CSS(string=_style(paper), font_config=fonts, url_fetcher=fetcher)
    return HTML(string=page, url_fetcher=fetcher).write_pdf(stylesheets=[sheet], font_config=fonts)


def _style(paper: str) -> str:
    return f"@page {{ size: {PAPERS[paper]} }}\n{_static('css/sheets.css').decode()}"


def _static(name: str) -> bytes:
    return Path(finders.find(name)).read_bytes()


def _only_our_font():
    """A fetcher that allows no protocol at all, and knows one address by heart."""
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    class OnlyOurFont(URLFetcher):
        def fetch(self, url: str, headers: dict[str, str] | None = None) -> URLFetcherResponse:
            if url == FONT_ADDRESS:
                return URLFetcherResponse(url, _static(FONT), {"Content-Type": "font/woff2"})
            return super().fetch(url, headers)

    return OnlyOurFont(allowed_protocols=())
