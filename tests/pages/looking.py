"""The screens a page is looked at on, and what axe-core says of it."""

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

DESK, PHONE = {"width": 1280, "height": 900}, {"width": 390, "height": 844}


def say_violations(page: Page) -> str:
    """What axe-core finds wrong with the page as it stands, or nothing."""
    found = Axe().run(page)
    return found.generate_report() if found.violations_count else ""
