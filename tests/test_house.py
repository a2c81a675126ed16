"""The house rules, said where every run of the tests hears them."""

import re
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import call_command
from ruamel.yaml import YAML

ROOT = Path(__file__).parent.parent
BIN = Path(sys.executable).parent
COMPOSE = ROOT / "docker-compose.yml"


def passes(*command: object) -> None:
    done = subprocess.run(command, check=False, cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr


def test_code_is_tidy():
    passes(BIN / "ruff", "check")


def test_code_is_laid_out_by_one_rule():
    passes(BIN / "ruff", "format", "--check")


def test_imports_run_down_only():
    passes(BIN / "lint-imports", "--no-cache")


def test_the_planner_is_strictly_typed():
    passes(BIN / "mypy")


def test_heavy_libraries_wait_until_they_are_needed():
    web = "import django; django.setup(); import shop.urls, django.urls; django.urls.get_resolver().url_patterns"
    heavy = {"ortools", "weasyprint", "pandas", "celery"}
    loaded = f"import sys; sys.exit(' '.join({heavy} & set(sys.modules)) or 0)"
    passes("env", "DJANGO_SETTINGS_MODULE=shop.settings", sys.executable, "-c", f"{web}; {loaded}")


@pytest.mark.parametrize("lock", sorted(ROOT.glob("requirements*.txt")), ids=lambda path: path.name)
def test_a_lock_file_names_no_address_and_hashes_everything(lock):
    text = lock.read_text()
    assert not re.search(r"://|index-url|find-links|^-e|^/", text, re.MULTILINE)
    pinned = re.split(r"\n(?=\S)", text)
    assert all("--hash=sha256:" in package for package in pinned)


@pytest.mark.django_db
def test_models_and_migrations_agree():
    call_command("makemigrations", check=True, dry_run=True, verbosity=0)


@pytest.mark.django_db
def test_django_finds_nothing_wrong():
    call_command("check", fail_level="WARNING")


def test_the_compose_file_keeps_to_its_schema():
    passes(BIN / "check-jsonschema", "--builtin-schema", "vendor.compose-spec", COMPOSE)


@pytest.fixture
def compose() -> dict:
    return YAML(typ="safe").load(COMPOSE)


def test_services_wait_only_for_services_that_can_answer(compose):
    services = compose["services"]
    for name, service in services.items():
        for other, how in service.get("depends_on", {}).items():
            assert other in services, f"{name} waits for {other}, which is not there"
            assert how["condition"] != "service_healthy" or "healthcheck" in services[other]


def test_every_volume_is_declared_and_used(compose):
    mounted = {line.split(":")[0] for service in compose["services"].values() for line in service.get("volumes", [])}
    assert mounted == set(compose["volumes"])


def test_only_the_site_can_be_reached_from_outside(compose):
    assert [name for name, service in compose["services"].items() if "ports" in service] == ["web"]


def test_the_image_is_built_as_the_linter_likes(compose, tmp_path):
    dockerfile = tmp_path / "Dockerfile"
    dockerfile.write_text(compose["services"]["web"]["build"]["dockerfile_inline"])
    # DL3008: Debian's own point releases bring the fixes that a pinned version would keep out
    passes(BIN / "hadolint", "--ignore", "DL3008", dockerfile)
