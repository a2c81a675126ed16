"""The sheets as they come out of the printer, read back."""

from datetime import timedelta
from http.server import BaseHTTPRequestHandler, HTTPServer
from io import BytesIO
from threading import Thread

import pytest
import weasyprint
from django.contrib.auth import get_user_model
from django.utils import timezone
from pypdf import PdfReader

from shop.plans.models import Plan
from shop.sheets.paper import print_sheet
from shop.stations.models import Station
from shop.stock.models import Bit
from tests.shop.makers import (
    MONDAY,
    make_bit,
    make_line,
    make_order,
    make_person,
    make_piece,
    make_plan,
    make_planned,
    make_rest,
    make_station,
    make_step,
)

pytestmark = pytest.mark.django_db
DAY = timezone.localdate(MONDAY).isoformat()


@pytest.fixture
def plan(client) -> Plan:
    client.force_login(get_user_model().objects.create_user("ines"))
    return make_plan()


def pages(response) -> list[str]:
    assert response.status_code == 200
    return [page.extract_text() for page in PdfReader(BytesIO(response.content)).pages]


def make_load(plan: Plan, *, text: str = "", count: int = 1, at=MONDAY):
    bowl = Bit.objects.filter(name="3/4 in bowl").first() or make_bit("3/4 in bowl")
    line = make_line(order=make_order(), quantity=count, text=text)
    pieces = [make_piece(line, number) for number in range(1, count + 1)]
    layout = [{"piece": f"p{each.pk}", "x_in": 1, "y_in": 1, "turned": False} for each in pieces]
    about = {"bits": [bowl.name], "bit_minutes": [[bowl.name, 8]], "thickness_in": 0.75, "layout": layout}
    step = make_step(*pieces, stage="router", segments=((10, "hands"), (8, "watch")), about=about)
    router = Station.objects.filter(role=Station.Role.ROUTER).first() or make_station()
    make_planned(plan, step, at, router, person=make_person(), changeover_minutes=4)
    return step


def test_the_run_sheet_says_what_the_router_needs(client, plan):
    make_load(plan, text="Ada & Finn")
    (text,) = pages(client.get(f"/sheets/router/{DAY}.pdf"))
    for words in (
        "9:00 to 9:18",
        "3/4 in thick",
        "3/4 in bowl",
        "Ada & Finn",
        "change to",
        "1 bit change",
        "page 1 of 1",
    ):
        assert words in text


def test_the_run_sheet_carries_the_caution_and_the_checks(client, plan):
    make_load(plan)
    text = " ".join(pages(client.get(f"/sheets/router/{DAY}.pdf"))[0].split())
    assert "ears and eyes covered" in text
    assert "Never leave it cutting alone" in text
    assert "clamps clear of the bit's way" in text


def test_each_page_names_the_plan_and_its_place_among_the_pages(client, plan):
    for hours in range(6):
        make_load(plan, at=MONDAY + timedelta(hours=hours))
    texts = pages(client.get(f"/sheets/router/{DAY}.pdf"))
    assert len(texts) > 1
    for number, text in enumerate(texts, start=1):
        assert f"page {number} of {len(texts)}" in text
        assert f"plan {plan.pk}, made" in text


def test_the_day_sheet_says_who_does_what_when_and_in_which_window(client, plan):
    ines, piece = make_person("Ines"), make_piece()
    oil = make_step(piece, stage="oil", what="Oil one tray", segments=((9, "hands"), (20, "alone")))
    wipe = make_step(piece, stage="wipe", what="Wipe one tray")
    make_planned(plan, oil, MONDAY, person=ines)
    make_planned(plan, wipe, MONDAY + timedelta(hours=23), person=ines)
    make_rest(plan, oil, wipe, 12 * 60, 16 * 60)
    text = " ".join(pages(client.get(f"/sheets/day/{DAY}.pdf"))[0].split())
    for words in (
        "Ines",
        "9:00",
        "Oil one tray",
        "9 min hands 20 min alone",
        "wipe 21:29 to Tue 1:29",
        "Rags with oil can catch",
    ):
        assert words in text


def test_a_caution_is_said_in_full_once_a_table(client, plan):
    person = make_person()
    for hours in range(3):
        make_planned(plan, make_step(make_piece(), stage="oil"), MONDAY + timedelta(hours=hours), person=person)
    (text,) = pages(client.get(f"/sheets/day/{DAY}.pdf"))
    assert (text.count("Rags with oil"), text.count("Caution as above")) == (1, 2)


def test_a_sheet_of_a_stale_plan_says_so(client, plan):
    Plan.objects.update(stale_since=MONDAY, stale_because="Gull tray spoilt")
    assert "Gull tray spoilt" in pages(client.get(f"/sheets/day/{DAY}.pdf"))[0]


def test_an_empty_day_still_prints_and_says_so(client, plan):
    assert "Nothing is planned" in pages(client.get(f"/sheets/router/{DAY}.pdf"))[0]


def sizes(response) -> dict[str, float]:
    """Each stretch of text on the sheet and how tall it stands there, in points."""
    found = {}

    def note(text, page, matrix, _font, size) -> None:
        if text.strip():
            found[text.strip()] = round(size * abs(page[3]) * abs(matrix[3]), 1)

    for page in PdfReader(BytesIO(response.content)).pages:
        page.extract_text(visitor_text=note)
    return found


def test_nothing_is_too_small_to_read_at_arms_length_and_quantities_stand_out(client, plan):
    make_load(plan, text="Ada & Finn")
    day, router = (sizes(client.get(f"/sheets/{sheet}/{DAY}.pdf")) for sheet in ("day", "router"))
    assert min([*day.values(), *router.values()]) >= 10
    assert day["9:00"] >= 14
    assert router["3/4 in bowl"] >= 14


@pytest.mark.parametrize(("paper", "width"), [("a4", 595), ("letter", 612)])
def test_paper_is_a4_or_letter_as_the_address_asks(client, plan, paper, width):
    pdf = PdfReader(BytesIO(client.get(f"/sheets/day/{DAY}.pdf?paper={paper}").content))
    assert round(pdf.pages[0].mediabox.width) == width


def test_a_paper_that_nobody_has_is_refused_in_a_sentence(client, plan):
    response = client.get(f"/sheets/day/{DAY}.pdf?paper=a0")
    assert response.status_code == 404
    assert "ask for a4 or letter" in response.content.decode()


def test_a_day_that_is_none_is_no_such_page(client, plan):
    assert client.get("/sheets/day/2026-02-30.pdf").status_code == 404


def test_nobody_prints_without_signing_in(client):
    assert client.get(f"/sheets/day/{DAY}.pdf").status_code == 302


def test_a_machine_without_the_library_says_what_to_run(client, plan, monkeypatch):
    def missing(name: str) -> None:
        raise OSError("cannot load library 'libgobject-2.0-0'")

    monkeypatch.delattr(weasyprint, "HTML")
    monkeypatch.setattr(weasyprint, "__getattr__", missing, raising=False)
    response = client.get(f"/sheets/day/{DAY}.pdf")
    assert response.status_code == 503
    assert "./go.py setup" in response.content.decode()


@pytest.fixture
def listener():
    """A server that notes every address it is asked for."""
    asked = []

    class Note(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            asked.append(self.path)
            self.send_response(404)
            self.end_headers()

    server = HTTPServer(("127.0.0.1", 0), Note)
    Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}", asked
    server.shutdown()


def test_nothing_is_fetched_and_no_file_embedded_whatever_a_page_names(listener, tmp_path, settings):
    address, asked = listener
    secret = tmp_path / "secret.txt"
    secret.write_text("the key under the mat")
    (tmp_path / "trap.html").write_text(
        f'<link rel="stylesheet" href="{address}/a.css"><link rel="attachment" href="file://{secret}">'
        f'<img src="{address}/b.png"><img src="file://{secret}">'
        f'<svg width="9" height="9"><image href="{address}/c.png" width="9" height="9"/></svg>'
        f'<p style="background: url({address}/d.png)">{{{{ word }}}}</p>'
    )
    settings.TEMPLATES = [settings.TEMPLATES[0] | {"DIRS": [tmp_path]}]
    pdf = print_sheet("trap.html", {"word": "still printed"}, "a4")
    reader = PdfReader(BytesIO(pdf))
    assert "still printed" in reader.pages[0].extract_text()
    assert asked == []
    assert not reader.attachments
    assert b"the key under the mat" not in pdf


def test_a_customers_words_are_printed_and_never_obeyed(client, plan):
    make_load(plan, text='<img src="http://example.invalid/x.png"> {{ 7|add:7 }}')
    assert "<img src=" in " ".join(pages(client.get(f"/sheets/router/{DAY}.pdf"))[0].split())
