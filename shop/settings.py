"""Settings from the environment; the defaults run the demo on one machine with SQLite and no Redis."""

import os
from pathlib import Path
from urllib.parse import unquote, urlparse

from django.core.exceptions import ImproperlyConfigured
from django.core.management.utils import get_random_secret_key

ROOT = Path(__file__).resolve().parent.parent
DATA = Path(os.environ.get("DATA_DIR", ROOT / "data"))


def _flag(name: str, *, default: bool) -> bool:
    words = {"1": True, "true": True, "yes": True, "0": False, "false": False, "no": False}
    value = os.environ.get(name, str(default)).lower()
    if value not in words:
        raise ImproperlyConfigured(f"{name} is yes or no, not {value!r}")
    return words[value]


def _secret_key() -> str:
    """From the environment, else made once and kept beside the database."""
    if key := os.environ.get("SECRET_KEY"):
        return key
    file = DATA / "secret-key"
    if not file.exists():
        DATA.mkdir(parents=True, exist_ok=True)
        file.write_text(get_random_secret_key())
        file.chmod(0o600)
    return file.read_text()


def _database() -> dict:
    url = os.environ.get("DATABASE_URL")
    if not url:
        DATA.mkdir(parents=True, exist_ok=True)
        return {
            "ENGINE": "django.db.backends.sqlite3",
            "NAME": DATA / "benchtide.sqlite3",
            # Without IMMEDIATE a read that turns into a write fails at once under load, whatever the timeout.
            "OPTIONS": {
                "transaction_mode": "IMMEDIATE",
                "timeout": 20,
                "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL;",
            },
        }
    parts = urlparse(url)
    if parts.scheme not in {"postgres", "postgresql"}:
        raise ImproperlyConfigured(f"DATABASE_URL begins with postgresql:, not {parts.scheme}:")
    return {
        "ENGINE": "django.db.backends.postgresql",
        "NAME": parts.path.lstrip("/"),
        "USER": unquote(parts.username or ""),
        "PASSWORD": unquote(parts.password or ""),
        "HOST": parts.hostname or "",
        "PORT": parts.port or "",
        "CONN_MAX_AGE": 600,
        "CONN_HEALTH_CHECKS": True,
    }


DEBUG = _flag("DEBUG", default=False)
SECRET_KEY = _secret_key()
ALLOWED_HOSTS = os.environ.get("ALLOWED_HOSTS", "*").split(",")
SHOP_URL = os.environ.get("SHOP_URL", "")
if SHOP_URL.startswith("https://"):
    CSRF_TRUSTED_ORIGINS = [SHOP_URL.rstrip("/")]
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
    SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = True
    SECURE_HSTS_SECONDS = 3600

REDIS_URL = os.environ.get("REDIS_URL", "")

INSTALLED_APPS = [
    "whitenoise.runserver_nostatic",
    "django.contrib.admin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django_htmx",
    "template_partials",
    "shop.figures",
    "shop.stations",
    "shop.stock",
    "shop.designs",
    "shop.orders",
    "shop.floor",
    "shop.plans",
    "shop.wood",
    "shop.numbers",
    "shop.day",
    "shop.sheets",
    "shop.demo",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.auth.middleware.LoginRequiredMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "shop.htmx.sign_in_on_a_whole_page",
    "shop.stations.middleware.shop_clock",
]

ROOT_URLCONF = "shop.urls"
WSGI_APPLICATION = "shop.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [ROOT / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "shop.face.face",
            ],
            "builtins": ["template_partials.templatetags.partials", "shop.words"],
        },
    },
]

DATABASES = {"default": _database()}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator"},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
]
AUTHENTICATION_BACKENDS = ["shop.stations.signing_in.WithPerson"]
LOGIN_URL = "sign_in"
LOGIN_REDIRECT_URL = "day:today"
LOGOUT_REDIRECT_URL = "sign_in"
SESSION_COOKIE_AGE = 14 * 24 * 3600
SESSION_COOKIE_HTTPONLY = True

LANGUAGE_CODE = "en-us"
USE_I18N = True
USE_TZ = True
TIME_ZONE = "UTC"  # stored and computed in UTC; pages speak the workshop's own zone (shop.stations.middleware)

STATIC_URL = "/static/"
STATIC_ROOT = ROOT / "static-built"
STATICFILES_DIRS = [ROOT / "static"]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"},
}

CELERY_BROKER_URL = REDIS_URL or None
CELERY_TASK_IGNORE_RESULT = True
CELERY_TASK_ACKS_LATE = True
CELERY_TASK_REJECT_ON_WORKER_LOST = True
CELERY_WORKER_PREFETCH_MULTIPLIER = 1
CELERY_ACCEPT_CONTENT = ["json"]
CELERY_TASK_PUBLISH_RETRY = False
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
