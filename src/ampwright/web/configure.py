"""Django's settings for one place; called once in a process, before anything of Django is used."""

from __future__ import annotations

from importlib.resources import files
from typing import Any

from ampwright.web.place import PostgresServer, WebPlace
from ampwright.web.words.compiled import LANGUAGES, compiled_folder

__all__ = ["configure"]

REQUEST_BYTES = 13_000_000
"""Largest body read into memory; a file kept with a job has at most 12 MB (our own choice)."""
MEMORY_BYTES = 4_000_000
"""Largest file held in memory while it comes in; larger ones go to a temporary file (our own choice)."""
SESSION_S = 12 * 3600
"""A working day (our own choice)."""
CONTENT_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
    "font-src 'self'; frame-src 'self'; object-src 'none'; form-action 'self'; base-uri 'none'; frame-ancestors 'self'"
)
"""Nothing from elsewhere, nothing inline."""


def configure(place: WebPlace) -> None:
    """Set Django up for a place; in a process that is set up already nothing is changed."""
    import django  # noqa: PLC0415 - heavy
    from django.conf import settings  # noqa: PLC0415

    if settings.configured:
        return
    settings.configure(**_settings(place))
    django.setup()


def _settings(place: WebPlace) -> dict[str, Any]:
    return {
        "AMPWRIGHT_PLACE": place,
        "SECRET_KEY": place.secret,
        "DEBUG": False,
        "ALLOWED_HOSTS": list(place.hosts),
        "INSTALLED_APPS": [
            "django.contrib.contenttypes",
            "django.contrib.auth",
            "django.contrib.sessions",
            "django.contrib.staticfiles",
            "django_htmx",
            "ampwright.web.app.WebApp",
        ],
        "MIDDLEWARE": [
            "django.middleware.security.SecurityMiddleware",
            "whitenoise.middleware.WhiteNoiseMiddleware",
            "ampwright.web.guards.security_headers",
            "ampwright.web.gate.passing",
            "django.contrib.sessions.middleware.SessionMiddleware",
            "django.middleware.csrf.CsrfViewMiddleware",
            "django.contrib.auth.middleware.AuthenticationMiddleware",
            "ampwright.web.guards.who_asks",
            "ampwright.web.guards.in_own_language",
            "ampwright.web.guards.form_size",
            "ampwright.web.guards.readable",
            "django_htmx.middleware.HtmxMiddleware",
            "django.middleware.clickjacking.XFrameOptionsMiddleware",
        ],
        "ROOT_URLCONF": "ampwright.web.urls",
        "TEMPLATES": [_templates()],
        "DATABASES": {"default": _database(place)},
        "DEFAULT_AUTO_FIELD": "django.db.models.BigAutoField",
        "AUTH_USER_MODEL": "web.Account",
        "AUTH_PASSWORD_VALIDATORS": _password_checks(),
        "LOGIN_URL": "login",
        "USE_TZ": True,
        "USE_I18N": True,
        "LANGUAGE_CODE": "en",
        "LANGUAGES": list(LANGUAGES),
        "LOCALE_PATHS": [str(compiled_folder(place.data))],
        "TIME_ZONE": "UTC",
        "STATIC_URL": "/static/",
        "STATICFILES_DIRS": [("fonts", str(files("ampwright.documents") / "fonts"))],
        "WHITENOISE_USE_FINDERS": True,
        "WHITENOISE_AUTOREFRESH": False,
        "X_FRAME_OPTIONS": "SAMEORIGIN",
        "SECURE_REFERRER_POLICY": "same-origin",
        "SECURE_CROSS_ORIGIN_OPENER_POLICY": "same-origin",
        "SESSION_COOKIE_AGE": SESSION_S,
        "SESSION_COOKIE_SAMESITE": "Strict",
        "CSRF_COOKIE_SAMESITE": "Strict",
        "CSRF_COOKIE_HTTPONLY": True,
        "CSRF_USE_SESSIONS": False,
        "CSRF_FAILURE_VIEW": "ampwright.web.views.refusals.strange_form",
        "DATA_UPLOAD_MAX_MEMORY_SIZE": REQUEST_BYTES,
        "DATA_UPLOAD_MAX_NUMBER_FIELDS": 400,
        "DATA_UPLOAD_MAX_NUMBER_FILES": 5,
        "FILE_UPLOAD_HANDLERS": [
            "django.core.files.uploadhandler.MemoryFileUploadHandler",
            "django.core.files.uploadhandler.TemporaryFileUploadHandler",
        ],
        "FILE_UPLOAD_MAX_MEMORY_SIZE": MEMORY_BYTES,
        "LOGGING": _logging(),
    }


def _templates() -> dict[str, Any]:
    return {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "ampwright.web.guards.page_words",
            ]
        },
    }


def _database(place: WebPlace) -> dict[str, Any]:
    if place.postgresql is not None:
        return _postgres(place.postgresql)
    return {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": str(place.data / "ampwright.sqlite3"),
        "OPTIONS": {
            "timeout": 10,
            "transaction_mode": "IMMEDIATE",
            "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL;",
        },
    }


def _postgres(server: PostgresServer) -> dict[str, Any]:
    return {
        "ENGINE": "django.db.backends.postgresql",
        "NAME": server.name,
        "USER": server.user,
        "PASSWORD": server.password,
        "HOST": server.host,
        "PORT": str(server.port),
        "CONN_MAX_AGE": 60,
        "CONN_HEALTH_CHECKS": True,
    }


def _password_checks() -> list[dict[str, Any]]:
    base = "django.contrib.auth.password_validation"
    return [
        {"NAME": f"{base}.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
        {"NAME": f"{base}.CommonPasswordValidator"},
        {"NAME": f"{base}.NumericPasswordValidator"},
    ]


def _logging() -> dict[str, Any]:
    """Say errors on the error stream; requests are not written down."""
    return {
        "version": 1,
        "disable_existing_loggers": False,
        "handlers": {"error_stream": {"class": "logging.StreamHandler", "level": "ERROR"}},
        "loggers": {
            "django": {"handlers": ["error_stream"], "level": "ERROR", "propagate": False},
            "waitress": {"handlers": ["error_stream"], "level": "ERROR", "propagate": False},
            "django.security": {"handlers": ["error_stream"], "level": "ERROR", "propagate": False},
        },
    }
