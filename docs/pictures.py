"""Takes the README's pictures from a demo that is being served: docs/pictures.py ADDRESS NAME PASSWORD."""

import sys
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

PICTURES = Path(__file__).parent / "pictures"
DESK, PHONE = {"width": 1280, "height": 900}, {"width": 390, "height": 844}
QUIET = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]
WANTED = [
    ("today", DESK, "/"),
    ("router", DESK, "/router/"),
    ("curing", DESK, "/curing/"),
    ("design", DESK, "/designs/3/"),
    ("wood", DESK, "/wood/"),
    ("numbers", DESK, "/numbers/"),
    ("today-phone", PHONE, "/"),
    ("detail-phone", PHONE, "/detail/"),
    ("new-order-phone", PHONE, "/orders/new/"),
]


def sign_in(browser: Browser, address: str, name: str, password: str, size: dict) -> Page:
    page = browser.new_context(viewport=size, has_touch=size is PHONE).new_page()
    page.goto(f"{address}/sign-in/")
    page.fill("[name=username]", name)
    page.fill("[name=password]", password)
    page.click("main button")
    page.wait_for_load_state()
    return page


def main(address: str, name: str, password: str) -> None:
    PICTURES.mkdir(exist_ok=True)
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path="/usr/bin/chromium", args=QUIET)
        for picture, size, where in WANTED:
            page = sign_in(browser, address, name, password, size)
            page.goto(address + where)
            page.screenshot(path=PICTURES / f"{picture}.png")
            page.context.close()


if __name__ == "__main__":
    main(*sys.argv[1:])
