"""Django's settings, made from the environment; see environment.py for what it may say."""

from pathlib import Path

from django.utils.csp import CSP
from django.utils.translation import gettext_lazy as _

from workshop.environment import ROOT, database, read_environment

ENVIRONMENT = read_environment()
BASE_DIR = ROOT
DATA_DIR: Path = ENVIRONMENT.data_dir

DEBUG = ENVIRONMENT.debug
# Empty when none is given: Django then refuses whatever signs, and the server does not start.
SECRET_KEY = ENVIRONMENT.secret_key.get_secret_value() if ENVIRONMENT.secret_key else ""
SECRET_KEY_FALLBACKS = ENVIRONMENT.fallback_keys()
SITE_URL = ENVIRONMENT.site_url
ALLOWED_HOSTS = ENVIRONMENT.hosts
# How many proxies of our own stand in front; each adds one entry to X-Forwarded-For.
PROXIES = ENVIRONMENT.proxies

INSTALLED_APPS = [
    "workshop",
    "workshop.review",
    "workshop.rack",
    "workshop.stock",
    "workshop.match",
    "workshop.bench",
    "orders.people",
    "orders.interview",
    "orders.commissions",
    "orders.messages",
    "orders.care",
    "orders.rules",
    "django_htmx",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
]

# The content policy stands outside WhiteNoise so that static files carry it too.
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "django.middleware.csp.ContentSecurityPolicyMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "workshop.privacy.keep_out_of_caches",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "orders.people.sessions.keep_session_limits",
    "orders.people.doors.SignInRequired",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "workshop.zone.in_the_workshops_zone",
]

ROOT_URLCONF = "workshop.urls"
WSGI_APPLICATION = "workshop.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.template.context_processors.i18n",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "workshop.page.page",
            ],
        },
    },
]

DATABASES = {"default": database(ENVIRONMENT)}

AUTH_USER_MODEL = "people.User"
LOGIN_URL = "/sign-in/"
# Functions of request and user, called when somebody has signed in: what waited for them is handed over.
ON_SIGN_IN: list[str] = ["orders.interview.drafts.claim_at_sign_in"]
# Functions without arguments that the worker calls every minute; each may be called twice at once. They stand
# here by dotted name because the worker's room may not import the rooms above it.
PERIODIC_JOBS = [
    "orders.people.tidying.tidy",
    "orders.messages.photographs.sweep_files",
    "orders.interview.drafts.forget_abandoned",
    "orders.interview.sharing.tidy_shared",
    # Before the holds: a proposal that lapses frees its clefts.
    "orders.commissions.lifecycle.lapse_due",
    "workshop.rack.holds.release_due",
    "workshop.stock.handles.lay_back_due",
    "workshop.stock.stock_bats.let_go_due",
    "workshop.rack.delivery.forget_files",
    "workshop.rack.photographs.sweep_files",
    # The last: it may take its time.
    "workshop.match.wanting.work_out_due",
]
# A password is a member of staff's only factor so far, hence the length (OWASP ASVS 5.0, 6.2.1).
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 15},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]

LANGUAGE_CODE = "en-gb"
LANGUAGES = [("en-gb", _("English"))]
LOCALE_PATHS = [BASE_DIR / "locale"]
USE_TZ = True
TIME_ZONE = "UTC"

STATIC_URL = "static/"
STATIC_ROOT = ENVIRONMENT.static_dir or DATA_DIR / "static"
STATICFILES_DIRS = [BASE_DIR / "static"]
# Photographs lie outside whatever is served raw: a view checks whose they are.
MEDIA_ROOT = DATA_DIR / "media"
BACKUP_DIR = DATA_DIR / "backups"
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": (
            "django.contrib.staticfiles.storage.StaticFilesStorage"
            if DEBUG
            else "whitenoise.storage.CompressedManifestStaticFilesStorage"
        )
    },
}

# "smtp" sends; "page" lets the worker put each mail on a page of the site instead, for trying out.
MAIL_DELIVERY = ENVIRONMENT.mail_delivery
MAIL_FROM = ENVIRONMENT.mail_from
MAILERS = {
    "default": {
        "BACKEND": "django.core.mail.backends.smtp.EmailBackend",
        "OPTIONS": {
            "host": ENVIRONMENT.smtp_host,
            "port": ENVIRONMENT.smtp_port,
            "username": ENVIRONMENT.smtp_user,
            "password": ENVIRONMENT.smtp_password.get_secret_value() if ENVIRONMENT.smtp_password else "",
            "use_tls": ENVIRONMENT.smtp_security == "starttls",
            "use_ssl": ENVIRONMENT.smtp_security == "tls",
            "timeout": 20,
        },
    }
}

SECURE_CSP = {
    "default-src": [CSP.NONE],
    "script-src": [CSP.SELF],
    "style-src": [CSP.SELF],
    "img-src": [CSP.SELF],
    "font-src": [CSP.SELF],
    "connect-src": [CSP.SELF],
    "form-action": [CSP.SELF],
    "base-uri": [CSP.NONE],
    "frame-ancestors": [CSP.NONE],
    "object-src": [CSP.NONE],
}
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_HTTPONLY = True
CSRF_COOKIE_SAMESITE = "Lax"
SESSION_COOKIE_SECURE = ENVIRONMENT.secure
CSRF_COOKIE_SECURE = ENVIRONMENT.secure
# The prefix binds a cookie to https and to this very host (RFC 6265bis, 4.1.3.2).
SESSION_COOKIE_NAME = "__Host-session" if ENVIRONMENT.secure else "session"
CSRF_COOKIE_NAME = "__Host-csrf" if ENVIRONMENT.secure else "csrf"
SECURE_SSL_REDIRECT = ENVIRONMENT.secure
SECURE_REDIRECT_EXEMPT = [r"^health/$"]
SECURE_HSTS_SECONDS = 365 * 24 * 3600 if ENVIRONMENT.secure else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = ENVIRONMENT.secure
SECURE_HSTS_PRELOAD = ENVIRONMENT.secure
if ENVIRONMENT.proxies:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "{asctime} {levelname} {name} {message}", "style": "{"}},
    "handlers": {"stream": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["stream"], "level": ENVIRONMENT.log_level},
    # Django's own handler would mail failures; here they only go to the log.
    "loggers": {"django": {"handlers": [], "propagate": True}},
}
