"""Django's settings; everything a host decides comes from the environment."""

from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import django
from celery.schedules import crontab

from deploy import environment

ROOT = Path(__file__).resolve().parent.parent

environment.refuse_unknown_names()
DATA_FOLDER = environment.data_folder()
SECRET_KEY = environment.secret_key(DATA_FOLDER)
BASE_URL = environment.base_url()
SIGNUP = environment.choice("SIGNUP", ("open", "invite", "closed"), "invite")
ORCHARD_CONTACT = environment.contact()
ORCHARD_FORECAST_URL = environment.forecast_url()
PUSH_HOSTS = environment.push_hosts()
PUSH_KEY_FILE = DATA_FOLDER / "push_key.pem"
ORCHARD_PHOTOS_BYTES = environment.photos_bytes()
PHONE_COPY = environment.phone_copy()
_sign_in_server = environment.sign_in_server()

_address = urlsplit(BASE_URL)
_is_https = _address.scheme == "https"
_port = f":{_address.port}" if _address.port else ""
# Passkeys work on localhost and not on 127.0.0.1, yet people type either.
_own_hosts = ["localhost", "127.0.0.1", "[::1]"]

DEBUG = False
ALLOWED_HOSTS = sorted({_address.hostname or "localhost", *_own_hosts})
CSRF_TRUSTED_ORIGINS = [BASE_URL, *(f"http://{host}{_port}" for host in _own_hosts)]

INSTALLED_APPS = [
    "orchard",
    "care",
    "deploy.demo",
    "allauth",
    "allauth.account",
    "allauth.mfa",
    "allauth.socialaccount",
    "allauth.socialaccount.providers.openid_connect",
    "allauth.usersessions",
    "django_htmx",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.humanize",
    "django.contrib.messages",
    "django.contrib.sessions",
    "django.contrib.staticfiles",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.middleware.gzip.GZipMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "orchard.views.language.language_of_person",
    "allauth.account.middleware.AccountMiddleware",
    "orchard.views.signin.account_pages_unkept",
    "orchard.views.phone.cleared_at_sign_out",
    "orchard.views.phone.kept_on_phone",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
]

_template_options: dict[str, Any] = {
    "context_processors": [
        "django.template.context_processors.i18n",
        "django.template.context_processors.request",
        "django.contrib.auth.context_processors.auth",
        "django.contrib.messages.context_processors.messages",
        "orchard.views.everywhere.everywhere",
        "care.views.menu.menu",  # the same list of sites, knowing more
        "orchard.views.signin.ways_in",
        "orchard.views.phone.on_phone",
    ],
    "builtins": [
        "django.templatetags.i18n",
        "orchard.templatetags.days",
        "orchard.templatetags.quantities",
    ],
}

_sign_in_origin = (
    [f"https://{urlsplit(_sign_in_server['server_url']).netloc}"]
    if _sign_in_server
    else []
)

# The two lanes differ here and nowhere else.
_policy = {
    "default-src": ["'self'"],
    "img-src": ["'self'", "data:"],
    "object-src": ["'none'"],
    "base-uri": ["'none'"],
    # The button that leads to the sign-in server is a form whose answer goes there.
    "form-action": ["'self'", *_sign_in_origin],
    "frame-ancestors": ["'none'"],
}
if django.VERSION >= (6, 0):
    MIDDLEWARE.insert(1, "django.middleware.csp.ContentSecurityPolicyMiddleware")
    _template_options["context_processors"].append(
        "django.template.context_processors.csp"
    )
    SECURE_CSP = _policy
else:
    INSTALLED_APPS.append("template_partials")
    _template_options["builtins"].append("template_partials.templatetags.partials")
    MIDDLEWARE.insert(1, "csp.middleware.CSPMiddleware")
    INSTALLED_APPS.append("csp")
    CONTENT_SECURITY_POLICY = {"DIRECTIVES": _policy}

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [ROOT / "templates"],
        "APP_DIRS": True,
        "OPTIONS": _template_options,
    }
]

ROOT_URLCONF = "deploy.urls"
WSGI_APPLICATION = "deploy.wsgi.application"

DATABASES: dict[str, Any] = {"default": environment.database(DATA_FOLDER)}

AUTH_USER_MODEL = "orchard.Person"
AUTHENTICATION_BACKENDS = ["allauth.account.auth_backends.AuthenticationBackend"]
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
_validation = "django.contrib.auth.password_validation"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"{_validation}.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
    {"NAME": f"{_validation}.UserAttributeSimilarityValidator"},
    {"NAME": "orchard.forms.passwords.CommonPasswordValidator"},
]
LOGIN_URL = "account_login"
LOGIN_REDIRECT_URL = "/"
ACCOUNT_LOGOUT_REDIRECT_URL = "/accounts/login/"
ACCOUNT_ADAPTER = "orchard.forms.accounts.AccountAdapter"
USERSESSIONS_ADAPTER = "orchard.forms.accounts.SessionsAdapter"
ACCOUNT_LOGIN_METHODS = {"username", "email"}
ACCOUNT_SIGNUP_FIELDS = ["username*", "email", "password1*", "password2*"]
ACCOUNT_SESSION_REMEMBER = True
ACCOUNT_CHANGE_EMAIL = True
ACCOUNT_EMAIL_UNKNOWN_ACCOUNTS = False
ACCOUNT_FORMS = {"add_email": "orchard.forms.accounts.EmailForm"}
ACCOUNT_RATE_LIMITS = {
    "login": "30/m/ip",
    "login_failed": "10/m/ip,5/5m/key",
    "signup": "20/m/ip",
    "reset_password": "20/m/ip,5/m/key",
    "reset_password_from_key": "20/m/ip",
    "change_password": "5/m/user",
    "manage_email": "10/m/user",
    "reauthenticate": "10/m/user",
}
# Behind the proxy that ends TLS every visitor has the proxy's address; one limit for
# all of them would let a stranger lock everybody out.
ALLAUTH_TRUSTED_PROXY_COUNT = 1 if _is_https else 0

MFA_ADAPTER = "orchard.forms.second_step.SecondStepAdapter"
MFA_SUPPORTED_TYPES = ["totp", "webauthn", "recovery_codes"]
MFA_PASSKEY_LOGIN_ENABLED = True
MFA_FORMS = {
    "add_webauthn": "orchard.forms.second_step.AddPasskeyForm",
    "edit_webauthn": "orchard.forms.second_step.RenamePasskeyForm",
    "login_webauthn": "orchard.forms.second_step.PasskeyAloneForm",
    "authenticate_webauthn": "orchard.forms.second_step.PasskeyAfterPasswordForm",
    "reauthenticate_webauthn": "orchard.forms.second_step.PasskeyAgainForm",
    "activate_totp": "orchard.forms.second_step.AuthenticatorAppForm",
}
MFA_TOTP_ISSUER = "Orchard care"
# Nobody is known by their email here, and without mail it could never be verified.
MFA_ALLOW_UNVERIFIED_EMAIL = True

SIGN_IN_SERVER_NAME = _sign_in_server.get("name", "")
SOCIALACCOUNT_ADAPTER = "orchard.forms.accounts.SignInServerAdapter"
# Whoever may write an address into the sign-in server must not become its owner here.
SOCIALACCOUNT_EMAIL_AUTHENTICATION = False
SOCIALACCOUNT_PROVIDERS: dict[str, Any] = {
    "openid_connect": {
        "OAUTH_PKCE_ENABLED": True,
        "APPS": [
            {
                # Another server's person 17 is somebody else: the host tells them apart.
                "provider_id": urlsplit(_sign_in_server["server_url"]).hostname,
                "name": _sign_in_server["name"],
                "client_id": _sign_in_server["client_id"],
                "secret": _sign_in_server["client_secret"],
                "settings": {"server_url": _sign_in_server["server_url"]},
            }
        ]
        if _sign_in_server
        else [],
    }
}

_mail = environment.email()
HAS_MAIL = bool(_mail)
ACCOUNT_EMAIL_VERIFICATION = "optional" if _mail else "none"
ACCOUNT_EMAIL_NOTIFICATIONS = HAS_MAIL
# Where no mail can say so, the page itself must say that an address is taken.
ACCOUNT_PREVENT_ENUMERATION = HAS_MAIL
MESSAGE_CHANNEL = environment.message_channel(has_mail=HAS_MAIL)
DEFAULT_FROM_EMAIL = environment.text("EMAIL_FROM", "orchard@localhost")
_backend = (
    "django.core.mail.backends.smtp.EmailBackend"
    if _mail
    else "django.core.mail.backends.dummy.EmailBackend"
)
if django.VERSION >= (6, 1):
    MAILERS = {"default": {"BACKEND": _backend, "OPTIONS": _mail}}
else:
    EMAIL_BACKEND = _backend
    EMAIL_HOST = str(_mail.get("host", ""))
    EMAIL_PORT = _mail.get("port", 25)
    EMAIL_HOST_USER = str(_mail.get("username", ""))
    EMAIL_HOST_PASSWORD = str(_mail.get("password", ""))
    EMAIL_USE_TLS = bool(_mail.get("use_tls"))
    EMAIL_USE_SSL = bool(_mail.get("use_ssl"))
    EMAIL_TIMEOUT = 10

LANGUAGE_CODE = "en"
LANGUAGES = [("en", "English"), ("es", "Español")]
TIME_ZONE = "UTC"
USE_I18N = True
USE_TZ = True
LOCALE_PATHS = [ROOT / "locale"]

STATIC_URL = "/static/"
STATIC_ROOT = DATA_FOLDER / "static"
STATICFILES_DIRS = [ROOT / "static"]
STORAGES: dict[str, Any] = {
    "default": {
        "BACKEND": "django.core.files.storage.FileSystemStorage",
        "OPTIONS": {"location": DATA_FOLDER / "photos"},
    },
    "staticfiles": {
        "BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"
    },
}
# One page of pasted days or a station file of many years fits; more is refused.
DATA_UPLOAD_MAX_MEMORY_SIZE = 6 * 1024 * 1024
# Larger files lie on the disk while they come, as many photos do at once.
FILE_UPLOAD_MAX_MEMORY_SIZE = 1024 * 1024

SESSION_COOKIE_AGE = 60 * 60 * 24 * 90
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = _is_https
SESSION_COOKIE_HTTPONLY = True
SECURE_SSL_REDIRECT = _is_https
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if _is_https else None
# Many weather stations speak only plain http, and follow no redirect.
SECURE_REDIRECT_EXEMPT = [r"^healthz$", r"^station/"]
SECURE_HSTS_SECONDS = 60 * 60 * 24 * 365 if _is_https else 0
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
# Whether subdomains and the preload list join in is the host's choice.
SILENCED_SYSTEM_CHECKS = ["security.W005", "security.W021"]

CELERY_BROKER_URL, CELERY_BROKER_TRANSPORT_OPTIONS = environment.broker(DATA_FOLDER)
CELERY_TASK_ACKS_LATE = True
CELERY_TASK_REJECT_ON_WORKER_LOST = True
CELERY_TASK_IGNORE_RESULT = True
CELERY_WORKER_PREFETCH_MULTIPLIER = 1
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
CELERY_WORKER_HIJACK_ROOT_LOGGER = False
CELERY_TIMEZONE = "UTC"
CELERY_BEAT_SCHEDULE = {
    "plan-stale-sites": {
        "task": "care.jobs.plan_stale_sites",
        "schedule": crontab(minute="*/10"),
    },
    "write-evening-messages": {
        "task": "care.jobs.write_evening_messages",
        "schedule": crontab(minute="*/10"),
    },
    "keep-shifts": {
        "task": "care.jobs.keep_shifts",
        # After the weather has come, before places are settled.
        "schedule": crontab(minute="5-59/10"),
        "options": {"expires": 550},
    },
    "tend-shifts": {
        "task": "care.jobs.tend_shifts",
        "schedule": crontab(minute="7-59/10"),
        "options": {"expires": 550},
    },
    "fetch-weather": {
        "task": "orchard.jobs.fetch_weather",
        # Off the full hour, at which everybody else asks.
        "schedule": crontab(minute="4-59/10"),
        "options": {"expires": 550},
    },
    "keep-station-days": {
        "task": "orchard.jobs.keep_station_days",
        "schedule": crontab(minute=17),
    },
    "look-back": {
        "task": "care.jobs.look_back",
        "schedule": crontab(minute="*/2"),  # somebody waits for it
        "options": {"expires": 110},
    },
    "renew-look-backs": {
        "task": "care.jobs.renew_look_backs",
        "schedule": crontab(hour=3, minute=38),  # while most places sleep
    },
    "forget-sendings": {
        "task": "care.jobs.forget_sendings",
        "schedule": crontab(hour=3, minute=52),  # while most places sleep
    },
    "sweep-up-photos": {
        "task": "care.jobs.sweep_up_photos",
        "schedule": crontab(hour=4, minute=12),
    },
    "send-messages": {
        "task": "orchard.jobs.send_messages",
        "schedule": crontab(minute="*"),
        "options": {"expires": 55},  # a worker that was away needs only the last one
    },
}

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"console": {"class": "logging.StreamHandler"}},
    "root": {"handlers": ["console"], "level": "INFO"},
}
